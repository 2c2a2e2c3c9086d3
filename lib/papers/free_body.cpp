#include "papers/free_body.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "text/number.h"
#include "verdict/key_values.h"

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Disc;
using document::Drawing;
using document::Fill;
using document::Point;
using document::Stroke;

constexpr double kText = 9, kArrow = 26, kWide = 245;
constexpr int kDigits = 4;
constexpr double kNothing = 1e-6;  ///< of a force: below it no arrow is drawn
constexpr int kMostHoles = 8;      ///< keys bracket.hole.1 to 8

/// Values of a case in the units of their keys.
class Values {
 public:
  Values(const verdict::CheckResult& check, const rules::RuleSet& set, rules::PlanCache& plans, const std::vector<std::string>& names) : check_(check), set_(set) {
    std::vector<std::string_view> keys(names.begin(), names.end());
    canonical_ = verdict::key_values(set, plans, *check.values, keys);
  }
  [[nodiscard]] bool has(const std::string& key) const {
    const auto it = canonical_.find(key);
    return it != canonical_.end() && !std::isnan(it->second);
  }
  /// 0 where there is none.
  [[nodiscard]] double at(const std::string& key) const { return has(key) ? set_.key(key)->unit.from_canonical(canonical_.at(key)) : 0; }
  [[nodiscard]] std::string told(const std::string& symbol, const std::string& key) const { return said(symbol, at(key), key); }
  /// A number that has the unit of `key`.
  [[nodiscard]] std::string said(const std::string& symbol, double value, const std::string& key) const {
    return fmt::format("{} = {} {}", symbol, text::rounded(std::fabs(value), kDigits), set_.key(key)->unit.name);
  }
  [[nodiscard]] std::string unit(const std::string& key) const { return set_.key(key)->unit.name; }
  [[nodiscard]] std::string word(const std::string& key) const { return check_.values->word(key); }

 private:
  const verdict::CheckResult& check_;
  const rules::RuleSet& set_;
  verdict::KeyValues canonical_;
};

/// From tail to head.
void arrow(Drawing& d, Point tail, Point head, double width = 1.3) {
  constexpr double kHead = 6;
  const double length = std::hypot(head.x - tail.x, head.y - tail.y);
  if (length <= 0) return;
  const Point u{(head.x - tail.x) / length, (head.y - tail.y) / length}, back{head.x - kHead * u.x, head.y - kHead * u.y};
  d.line(tail, back, width);
  Stroke tip;
  tip.points = {head, {back.x - kHead * 0.4 * u.y, back.y + kHead * 0.4 * u.x}, {back.x + kHead * 0.4 * u.y, back.y - kHead * 0.4 * u.x}};
  tip.closed = true, tip.fill = Fill::black, tip.width = 0.4;
  d.shapes.emplace_back(tip);
}

/// An open bow with a head: a moment, clockwise or not.
void bow(Drawing& d, Point middle, double radius, bool clockwise) {
  constexpr int kParts = 12;
  const double from = -2.4, to = 0.9;
  Stroke s;
  s.width = 1.3;
  for (int i = 0; i <= kParts; ++i) {
    const double a = from + (to - from) * i / kParts;
    s.points.push_back({middle.x + (clockwise ? 1 : -1) * radius * std::cos(a), middle.y + radius * std::sin(a)});
  }
  const Point last = s.points.back(), before = s.points[kParts - 1];
  d.shapes.emplace_back(s);
  arrow(d, before, {last.x + (last.x - before.x) * 0.6, last.y + (last.y - before.y) * 0.6});
}

/// Labels below each other, so that none meets an arrow.
void legend(Drawing& d, double y, const std::vector<std::string>& lines) {
  for (const auto& line : lines) {
    d.label({4, y}, line, Align::left, kText);
    y += kText * 1.35;
  }
  d.height = y;
}

void say(Drawing& d, const std::string& title, const std::vector<std::string>& lines) {
  d.say = title;
  for (const auto& line : lines) d.say += "; " + line;
}

Drawing guide(const Values& v) {
  const bool between = v.word("connection.mount") == "between";
  const double T = v.at("demand.tension"), P = v.at("guide.wall_pressure"), H = v.at("demand.shear_across"), R = T - P;
  const double c = v.at("guide.lever_toe"), reach = between ? v.at("guide.lip_height") : v.at("guide.lever_lip");
  Drawing d;
  d.width = kWide;
  const std::string title = between ? "Guide, cut across: between the jambs" : "Guide, cut across: on the face";
  d.label({4, kText}, title, Align::left, kText, true);
  constexpr double kWall = 66, kToe = 70;
  const double span = kWide - kToe - 60, scale = span / std::max(0.1, between ? c * 2 : c + reach);
  const double screw = kToe + c * scale, lip = between ? screw : kToe + (c + reach) * scale;
  document::hatch(d, document::Hatch::no_drill, 20, kWall, kWide - 40, 8);
  d.line({20, kWall}, {kWide - 20, kWall}, 1);
  d.line({kToe, kWall - 3}, {between ? screw + c * scale : lip, kWall - 3}, 2.4);
  // The wall presses at the toe, the fastener holds back, the curtain pulls at the lip.
  if (P > kNothing) arrow(d, {kToe, kWall + kArrow}, {kToe, kWall}), d.label({kToe - 4, kWall + kArrow}, "P_w", Align::right, kText);
  if (T > kNothing) arrow(d, {screw, kWall - 4}, {screw, kWall + kArrow + 6}, 1.8), d.label({screw + 5, kWall + kArrow + 4}, "T", Align::left, kText, true);
  std::vector<std::string> lines = {v.told("T", "demand.tension") + ", pull on one fastener", v.told("P_w", "guide.wall_pressure") + ", the wall presses back"};
  if (between) {
    d.line({screw, kWall - 3}, {screw, kWall - 26}, 2.4);
    arrow(d, {screw + 2, kWall - 24}, {screw + kArrow + 12, kWall - 24}), d.label({screw + kArrow + 16, kWall - 21}, "R", Align::left, kText);
    lines.push_back(v.told("R", "demand.shear_across") + fmt::format(", the curtain, {} {} up", text::rounded(reach, kDigits), v.unit("guide.lip_height")));
    // The fastener holds the windlocks' pull out of the jamb and what the wall presses back.
    if (R > kNothing) {
      arrow(d, {screw, kWall - 28}, {screw, kWall - 28 - kArrow * 0.7}), d.label({screw - 5, kWall - 30}, "H", Align::right, kText);
      lines.push_back(v.said("H", R, "demand.tension") + ", windlocks, out of the jamb");
    }
    lines.push_back(v.told("c", "guide.lever_toe") + ", toe to fastener");
  } else {
    if (std::fabs(R) > kNothing) arrow(d, {lip, R > 0 ? kWall - 6 : kWall - 6 - kArrow}, {lip, R > 0 ? kWall - 6 - kArrow : kWall - 6}, 1.8), d.label({lip - 4, kWall - 8 - kArrow * 0.5}, "R", Align::right, kText);
    lines.push_back(v.said("R", R, "demand.tension") + ", the curtain" + (R < 0 ? " onto the wall" : " off the wall"));
    if (H > kNothing) {
      arrow(d, {lip + 4, kWall - 10}, {lip + 4 + kArrow, kWall - 10}), d.label({lip + 6, kWall - 14}, "H", Align::left, kText);
      lines.push_back(v.told("H", "demand.shear_across") + ", windlocks");
    }
    lines.push_back(v.told("c", "guide.lever_toe") + ", toe to fastener");
    lines.push_back(v.told("b", "guide.lever_lip") + ", fastener to lip");
  }
  legend(d, kWall + kArrow + 24, lines);
  say(d, title, lines);
  return d;
}

struct Hole {
  double x, z, T, V_x, V_z;
};

/// The plate on the wall and what to draw it with; x to the right, z up.
struct Plate {
  double left, bottom, width, height;
  std::vector<Hole> holes;
};

std::string hole_key(int i, const char* what) { return fmt::format("bracket.hole.{}.{}", i, what); }

std::optional<Plate> plate_of(const Values& v) {
  Plate out{v.at("bracket.plate.left"), v.at("bracket.plate.bottom"), v.at("bracket.plate.width"), v.at("bracket.plate.height"), {}};
  for (int i = 1; i <= std::min(kMostHoles, static_cast<int>(v.at("hole.count"))); ++i) {
    if (!v.has(hole_key(i, "T")) || !v.has(hole_key(i, "x"))) return std::nullopt;
    out.holes.push_back({v.at(hole_key(i, "x")), v.at(hole_key(i, "z")), v.at(hole_key(i, "T")), v.at(hole_key(i, "V_across")), v.at(hole_key(i, "V_along"))});
  }
  if (out.holes.empty() || !(out.width > 0) || !(out.height > 0)) return std::nullopt;
  return out;
}

constexpr double kPlateTop = 30, kPlateHigh = 84;

Drawing bracket_from_the_side(const Values& v, const Plate& plate) {
  Drawing d;
  d.width = kWide;
  const std::string title = "Bracket from the side";
  d.label({4, kText}, title, Align::left, kText, true);
  constexpr double kWall = 62;
  const double scale = kPlateHigh / plate.height;
  const auto z_of = [&](double z) { return kPlateTop + kPlateHigh - (z - plate.bottom) * scale; };
  document::hatch(d, document::Hatch::no_drill, kWall - 8, kPlateTop - 12, 8, kPlateHigh + 24);
  d.line({kWall, kPlateTop - 12}, {kWall, kPlateTop + kPlateHigh + 12}, 1);
  d.box(kWall, kPlateTop, 4, kPlateHigh, Fill::grey);
  const Point axle{kWall + 96, kPlateTop + kPlateHigh * 0.5};
  d.line({kWall + 4, axle.y}, axle, 1.6);
  d.shapes.emplace_back(Disc{axle, 4, Fill::white, 1.2});
  const double V = v.at("bracket.V"), N = v.at("bracket.N"), M = v.at("bracket.M_out_of_plane");
  double sum = 0, last_label = 1e9;
  auto rows = plate.holes;
  std::stable_sort(rows.begin(), rows.end(), [](const Hole& a, const Hole& b) { return a.z < b.z; });
  for (const Hole& h : rows) {
    sum += h.T;
    if (h.T <= kNothing) continue;
    arrow(d, {kWall + 4, z_of(h.z)}, {kWall - kArrow, z_of(h.z)}, 1.8);
    if (last_label - z_of(h.z) > kText) d.label({kWall - kArrow - 3, z_of(h.z) + 3}, text::rounded(h.T, kDigits), Align::right, kText), last_label = z_of(h.z);
  }
  if (V > kNothing) arrow(d, {axle.x, axle.y + 5}, {axle.x, axle.y + 5 + kArrow}, 1.8), d.label({axle.x + 5, axle.y + 5 + kArrow}, "V", Align::left, kText);
  if (std::fabs(N) > kNothing) arrow(d, {axle.x + (N > 0 ? 5 : 5 + kArrow), axle.y}, {axle.x + (N > 0 ? 5 + kArrow : 5), axle.y}), d.label({axle.x + 12 + kArrow, axle.y + 3}, "N", Align::left, kText);
  if (std::fabs(M) > kNothing) bow(d, {kWall + 40, axle.y}, 15, M > 0), d.label({kWall + 40, axle.y - 20}, "M", Align::middle, kText);
  std::vector<std::string> lines = {v.told("V", "bracket.V") + ", down",
                                    v.told("M", "bracket.M_out_of_plane") + (M > 0 ? ", opens the upper" : M < 0 ? ", opens the lower" : ", off the wall"),
                                    v.said("sum T", sum, "bracket.N") + ", all pulls"};
  if (std::fabs(N) > kNothing) lines.push_back(v.told("N", "bracket.N") + ", off the wall");
  lines.push_back(v.said("sum T - N", sum - N, "bracket.N") + ", the wall back");
  legend(d, kPlateTop + kPlateHigh + 26, lines);
  say(d, title, lines);
  return d;
}

Drawing bracket_from_the_front(const Values& v, const Plate& plate) {
  Drawing d;
  d.width = kWide;
  const std::string title = "Bracket from the front";
  d.label({4, kText}, title, Align::left, kText, true);
  const double scale = std::min(kPlateHigh / plate.height, 120 / plate.width);
  const double left = (kWide - plate.width * scale) / 2, floor_y = kPlateTop + kPlateHigh;
  const auto at = [&](const Hole& h) { return Point{left + (h.x - plate.left) * scale, floor_y - (h.z - plate.bottom) * scale}; };
  d.box(left, floor_y - plate.height * scale, plate.width * scale, plate.height * scale, Fill::none, 1);
  double most = 0;
  for (const Hole& h : plate.holes) most = std::max(most, std::hypot(h.V_x, h.V_z));
  const int asked = static_cast<int>(v.at("hole.index"));
  for (std::size_t i = 0; i < plate.holes.size(); ++i) {
    const Hole& h = plate.holes[i];
    const Point p = at(h);
    d.shapes.emplace_back(Disc{p, 3, static_cast<int>(i) + 1 == asked ? Fill::black : Fill::white, 0.9});
    if (most > kNothing) arrow(d, p, {p.x + h.V_x / most * kArrow, p.y + h.V_z / most * kArrow});
    d.label({p.x - 5, p.y - 3}, fmt::format("{}", i + 1), Align::right, kText);
  }
  const double H = v.at("bracket.H");
  std::vector<std::string> lines = {v.told("M", "bracket.M_in_plane") + ", in the plane"};
  if (std::fabs(H) > kNothing) lines.push_back(v.told("H", "bracket.H") + ", along, either way");
  for (std::size_t i = 0; i < plate.holes.size(); ++i) {
    const Hole& h = plate.holes[i];
    lines.push_back(fmt::format("{}{}: {} along, {} down, pull {} {}", i + 1, static_cast<int>(i) + 1 == asked ? " *" : "", text::rounded(h.V_x, kDigits), text::rounded(h.V_z, kDigits),
                                text::rounded(h.T, kDigits), v.unit("bracket.N")));
  }
  legend(d, floor_y + 26, lines);
  say(d, title, lines);
  return d;
}

std::vector<std::string> bracket_keys() {
  std::vector<std::string> out = {"bracket.V", "bracket.N", "bracket.H", "bracket.M_out_of_plane", "bracket.M_in_plane", "bracket.plate.left", "bracket.plate.bottom", "bracket.plate.width", "bracket.plate.height", "hole.count", "hole.index"};
  for (int i = 1; i <= kMostHoles; ++i)
    for (const char* what : {"x", "z", "T", "V_across", "V_along"}) out.push_back(hole_key(i, what));
  return out;
}

}  // namespace

std::vector<Drawing> free_body(const verdict::CheckResult& check, const rules::RuleSet& set, rules::PlanCache& plans) {
  if (check.values->word("connection.link") != "hardware") return {};
  if (check.values->word("connection.part") == "guide") {
    const Values v(check, set, plans, {"demand.tension", "guide.wall_pressure", "demand.shear_across", "guide.lever_toe", "guide.lever_lip", "guide.lip_height"});
    if (!v.has("demand.tension") || !v.has("guide.wall_pressure") || !v.has("guide.lever_toe")) return {};
    return {guide(v)};
  }
  const Values v(check, set, plans, bracket_keys());
  const auto plate = plate_of(v);
  if (!plate || !v.has("bracket.V")) return {};
  return {bracket_from_the_side(v, *plate), bracket_from_the_front(v, *plate)};
}

}  // namespace jambcheck::papers
