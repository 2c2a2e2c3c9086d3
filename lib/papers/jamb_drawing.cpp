#include "papers/jamb_drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "text/number.h"

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Drawing;
using document::Fill;
using document::Hatch;
using document::Point;
using opening::Side;

constexpr double kPointsPerInch = 72;

const Fastening* find(const Fastenings& all, const char* part, Side side) {
  for (const auto& f : all.parts)
    if (f.part == part && f.row.side == side) return &f;
  return nullptr;
}

/// One jamb seen from the side of the door.
class Jamb {
 public:
  Jamb(Drawing& d, const Fastenings& all, Side side, double edge_x, double floor_y, double scale, const DrawingRoom& room, const CardWords& words)
      : d_(d), all_(all), side_(side), edge_(edge_x), floor_(floor_y), scale_(scale), room_(room), words_(words) {}

  void draw(const std::string& kind, double no_drill, double top) {
    const Fastening *guide = find(all_, "guide", side_), *bracket = find(all_, "bracket", side_), *buck = find(all_, "buck", side_);
    const double jamb_width = std::max(16.0, std::min(60.0, width_in(guide, bracket) * scale_));
    const double up = top * scale_;
    rectangle(0, jamb_width, floor_ - up, up, true, hatch_of(guide ? guide->base : "", kind));
    if (guide && all_.holes.face_mounted) {
      const double strip = std::isnan(no_drill) ? edge_of(*guide) : no_drill;
      if (strip > 0) rectangle(0, std::min(jamb_width, std::max(2.5, strip * scale_)), floor_ - up, up, false, Hatch::no_drill);
    }
    std::vector<std::pair<double, std::string>> labels;
    for (const Fastening* f : {buck, guide, bracket})
      if (f) holes(*f, jamb_width, labels);
    tape(labels, jamb_width);
  }

 private:
  [[nodiscard]] double out() const { return side_ == Side::left ? -1 : 1; }  // away from the opening
  [[nodiscard]] double x(double from_edge) const { return edge_ + out() * from_edge; }
  [[nodiscard]] double y(double height) const { return floor_ - height * scale_; }
  static double edge_of(const Fastening& f) { return f.row.holes.empty() ? f.value("edge.loaded") : f.row.holes.front().edge; }

  /// How wide the jamb is drawn: its own width, or what its holes need.
  static double width_in(const Fastening* guide, const Fastening* bracket) {
    double need = 3;
    for (const Fastening* f : {guide, bracket})
      if (f)
        for (const auto& h : f->row.holes)
          if (!std::isnan(h.edge)) need = std::max(need, h.edge + 1.5);
    const double own = guide ? guide->row.jamb_width : std::nan("");
    return std::isnan(own) || own > 24 ? need : std::max(own, need);
  }
  void rectangle(double from, double to, double top, double height, bool outline, Hatch kind) {
    const double left = std::min(x(from), x(to)), w = std::fabs(to - from);
    document::hatch(d_, kind, left, top, w, height);
    if (outline) d_.box(left, top, w, height, Fill::none, 1.1);
  }
  void holes(const Fastening& f, double jamb_width, std::vector<std::pair<double, std::string>>& labels) {
    double lowest = 1e9, highest = -1e9, near = 1e9, far = -1e9;
    for (const auto& h : f.row.holes) {
      if (std::isnan(h.height)) continue;
      const double across = all_.holes.face_mounted && !std::isnan(h.edge) ? std::min(h.edge * scale_, jamb_width - 2) : jamb_width / 2;
      const Point at{x(across), y(h.height)};
      const double r = f.part == "buck" ? 1.6 : 2.2;
      d_.shapes.emplace_back(document::Disc{at, r + 1.2, Fill::white, 0});
      d_.shapes.emplace_back(document::Disc{at, r, f.part == "buck" ? Fill::none : Fill::black, 0.7});
      lowest = std::min(lowest, at.y), highest = std::max(highest, at.y);
      near = std::min(near, across), far = std::max(far, across);
      if (f.part == "buck") continue;  // in the table; the tape is for the guide and the bracket
      const std::string text = on_tape_short(h.height, all_.holes.metric);
      if (std::none_of(labels.begin(), labels.end(), [&](const auto& l) { return std::fabs(l.first - at.y) < 0.2; })) labels.emplace_back(at.y, text);
    }
    if (f.part == "bracket" && highest <= lowest) {
      const double pw = f.value("bracket.plate.width"), ph = f.value("bracket.plate.height");
      const double grow_x = std::isnan(pw) ? 6 : std::max(4.0, (pw * scale_ - (far - near)) / 2), grow_y = std::isnan(ph) ? 6 : std::max(4.0, (ph * scale_ - (lowest - highest)) / 2);
      const double left = std::min(x(near), x(far)) - grow_x;
      d_.box(left, highest - grow_y, far - near + 2 * grow_x, lowest - highest + 2 * grow_y, Fill::none, 1.2);
    }
  }
  /// Heights beside the jamb, in two columns where they stand close; closer ones stand in the list below the table only.
  void tape(std::vector<std::pair<double, std::string>>& labels, double jamb_width) {
    std::sort(labels.begin(), labels.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    const double high = room_.text * 1.2, step = room_.text * 6.4, start = jamb_width + 8;
    double last[2] = {1e9, 1e9};  // of each column, the height of its last label
    for (const auto& [at, text] : labels) {
      const int column = last[0] - at >= high ? 0 : 1;
      if (last[column] - at < high) {
        d_.line({x(jamb_width + 1), at}, {x(jamb_width + 5), at}, 0.35);
        continue;
      }
      last[column] = at;
      d_.line({x(jamb_width + 1), at}, {x(start + column * step), at}, 0.35, column > 0);
      words_at_.push_back({x(start + column * step) + out() * 2, at, text});
    }
    for (const auto& w : words_at_) {
      const double wide = static_cast<double>(w.text.size()) * room_.text * 0.58;
      d_.box(side_ == Side::left ? w.x - wide : w.x, w.y - room_.text * 0.55, wide, room_.text * 1.1, Fill::white, 0);
      d_.label({w.x, w.y + room_.text * 0.35}, w.text, side_ == Side::left ? Align::right : Align::left, room_.text);
    }
  }

  struct Word {
    double x, y;
    std::string text;
  };
  std::vector<Word> words_at_;
  Drawing& d_;
  const Fastenings& all_;
  Side side_;
  double edge_, floor_, scale_;
  const DrawingRoom& room_;
  const CardWords& words_;
};

std::string heights_in_words(const Fastenings& all, Sides sides, const CardWords& words) {
  std::string out = words.in(Language::english, "elevation");
  for (const auto& f : all.parts) {
    if (f.row.holes.empty() || f.part == "buck" || std::isnan(f.row.holes.front().height)) continue;
    if (sides != Sides::both && (sides == Sides::left) != (f.row.side == Side::left)) continue;
    out += fmt::format("; {}:", f.row.name);
    for (const auto& h : f.row.holes) out += " " + on_tape_short(h.height, all.holes.metric);
  }
  return out;
}

}  // namespace

Hatch hatch_of(const std::string& base, const std::string& jamb_kind) {
  if (jamb_kind == "brick") return Hatch::brick;
  if (base == "steel") return Hatch::steel;
  if (base == "concrete") return Hatch::concrete;
  if (base == "masonry") return Hatch::block;
  return Hatch::wood;
}

Drawing elevation(const Fastenings& all, const std::string& jamb_kind, Sides sides, double no_drill, const CardWords& words, const DrawingRoom& room) {
  Drawing d;
  d.width = room.width;
  d.height = room.height;
  d.say = heights_in_words(all, sides, words);
  double top = all.holes.across.height;
  if (std::isnan(top)) return d;
  const double opening_top = top;
  bool bracket_known = false;
  for (const auto& f : all.parts)
    for (const auto& h : f.row.holes)
      if (!std::isnan(h.height)) {
        top = std::max(top, h.height + 6);
        bracket_known = bracket_known || f.part == "bracket";
      }
  const double head = room.text * 2.6, foot = room.text * 1.6;
  const double floor_y = room.height - foot, scale = (floor_y - head) / (top + 4);
  const bool both = sides == Sides::both;
  // The tape stands outside of the jamb; the opening, broken off, between or beside.
  const double left_edge = both ? room.width * 0.42 : sides == Sides::left ? room.width * 0.68 : 0;
  const double right_edge = both ? room.width * 0.58 : sides == Sides::right ? room.width * 0.32 : 0;
  d.line({2, floor_y}, {room.width - 2, floor_y}, 1.6);
  d.label({4, room.height - 2}, words("floor"), Align::left, room.text);
  const double top_y = floor_y - opening_top * scale;
  const double from = both || sides == Sides::left ? left_edge : 8, to = both || sides == Sides::right ? right_edge : room.width - 8;
  d.line({from, top_y}, {to, top_y}, 0.6, true);
  if (both || sides == Sides::left) {
    Jamb(d, all, Side::left, left_edge, floor_y, scale, room, words).draw(jamb_kind, no_drill, top + 2);
    d.label({left_edge - 8, room.text}, words("left_jamb"), Align::right, room.text, true);
  }
  if (both || sides == Sides::right) {
    Jamb(d, all, Side::right, right_edge, floor_y, scale, room, words).draw(jamb_kind, no_drill, top + 2);
    d.label({right_edge + 8, room.text}, words("right_jamb"), Align::left, room.text, true);
  }
  return d;
}

namespace {

/// Scales that a scale ruler has, as inches on the wall for one on paper.
double nice_scale(double fits) {
  for (const double s : {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0})
    if (s >= fits) return s;
  return std::ceil(fits);
}

/// Sheet metal is named by decimals; a tape does not tell 14 gauge from 16.
std::string thin(double inches, bool metric) {
  if (std::isnan(inches)) return "--";
  return metric ? fmt::format("{} mm", text::rounded(inches * 25.4, 3)) : fmt::format("{}\"", text::rounded(inches, 3));
}

double or_else(double value, double other) { return std::isnan(value) ? other : value; }

}  // namespace

Drawing section(const Fastening& guide, const std::string& jamb_kind, double no_drill, bool metric, const CardWords& words, const DrawingRoom& room, std::string& scale_name) {
  Drawing d;
  d.width = room.width;
  d.height = room.height;
  d.say = words.in(Language::english, "section", {"--"});
  const double plate = guide.value("side.thickness"), gap = or_else(guide.value("side.gap"), 0), diameter = or_else(guide.value("fastener.diameter"), 0.375);
  const double length = guide.value("fastener.length"), edge = guide.row.holes.empty() ? guide.value("edge.loaded") : guide.row.holes.front().edge;
  if (std::isnan(length) || std::isnan(edge)) {
    scale_name = "--";
    return d;
  }
  const double in_front = or_else(plate, 0) + gap, held = length - in_front;
  const double depth = std::max(or_else(guide.value("member.depth"), held * 1.25), std::min(held * 1.1, held + 0.5));
  const double drawn_depth = std::min(depth, held * 1.35 + 0.5), shown = std::min(edge, 6.0);
  const double head = std::max(0.25, diameter * 0.7), behind = std::min(2.0, std::max(1.0, or_else(guide.value("member.width"), 4) - edge));
  const double inner_w = room.width - 24, inner_h = room.height - room.text * 5.2;
  const double scale_down = nice_scale(std::max((head + in_front + drawn_depth) * kPointsPerInch / inner_w, (shown + behind) * kPointsPerInch / inner_h));
  const double s = kPointsPerInch / scale_down;
  scale_name = fmt::format("1:{}", text::rounded(scale_down));
  d.say = words.in(Language::english, "section", {scale_name});
  const double left = 12 + head * s, metal = std::max(1.6, or_else(plate, 0.05) * s);
  const double base_x = left + metal + gap * s, top = room.text * 1.7, edge_y = top + (behind + shown) * s, screw_y = edge_y - shown * s;
  const double base_w = drawn_depth * s, base_h = edge_y - top;
  document::hatch(d, hatch_of(guide.base, jamb_kind), base_x, top, base_w, base_h);
  d.box(base_x, top, base_w, base_h, Fill::none, 1.1);
  const double strip = std::min(or_else(no_drill, edge), shown);
  if (strip > 0) document::hatch(d, Hatch::no_drill, base_x, edge_y - strip * s, base_w, strip * s);
  if (gap > 0) d.box(left + metal, top, gap * s, base_h, Fill::white, 0.5);
  const double lip = std::min(base_h, (shown + 0.4 * behind) * s);
  d.box(left, edge_y - lip, metal, lip, Fill::black, 0.4);
  // The fastener: head, shank and thread.
  const double r = std::max(1.2, diameter * s / 2), tip = left + length * s;
  d.shapes.emplace_back(document::Stroke{{{left - head * s, screw_y - r * 1.8}, {left, screw_y - r * 1.8}, {left, screw_y + r * 1.8}, {left - head * s, screw_y + r * 1.8}}, 0.8, true, Fill::grey, false});
  d.shapes.emplace_back(document::Stroke{{{left, screw_y - r}, {tip - r, screw_y - r}, {tip, screw_y}, {tip - r, screw_y + r}, {left, screw_y + r}}, 0.8, true, Fill::white, false});
  for (double x = std::max(base_x, left + length * s * 0.35); x < tip - r; x += 3) d.line({x, screw_y - r}, {x + 1.5, screw_y + r}, 0.4);
  // Edge distance, on white so that hatching does not run through the figures.
  const std::string edge_text = words("edge") + " " + on_tape_short(edge, metric);
  const double dim_x = base_x + base_w - 8;
  d.line({dim_x, screw_y}, {dim_x, edge_y}, 0.6);
  d.line({tip, screw_y}, {base_x + base_w, screw_y}, 0.4, true);
  const double text_w = static_cast<double>(edge_text.size()) * room.text * 0.62 + 4, text_y = (screw_y + edge_y) / 2;
  d.box(dim_x - 3 - text_w, text_y - room.text * 0.75, text_w, room.text * 1.3, Fill::white, 0);
  d.label({dim_x - 5, text_y + room.text * 0.3}, edge_text, Align::right, room.text, true);
  // What holds, along the fastener.
  const double line_y = edge_y + 7;
  d.line({base_x, edge_y}, {base_x, line_y + 3}, 0.4);
  d.line({std::min(tip, base_x + base_w), edge_y}, {std::min(tip, base_x + base_w), line_y + 3}, 0.4);
  d.line({base_x, line_y}, {std::min(tip, base_x + base_w), line_y}, 0.6);
  d.label({base_x, line_y + room.text * 1.2}, words("held", {on_tape_short(metric ? held : std::floor(held * 16) / 16, metric)}), Align::left, room.text);
  std::string front = words("plate", {thin(plate, metric)});
  if (gap > 0) front += ", " + words("gap", {on_tape_short(gap, metric)});
  d.label({left, top - 4}, front, Align::left, room.text);
  // A scale bar of one inch, or 25 mm.
  const double bar = (metric ? 50 / 25.4 : 2) * s, bar_y = room.height - 4;
  d.box(12, bar_y - 3, bar / 2, 3, Fill::black, 0.4);
  d.box(12 + bar / 2, bar_y - 3, bar / 2, 3, Fill::white, 0.4);
  d.label({16 + bar, bar_y}, metric ? "50 mm" : "2\"", Align::left, room.text);
  return d;
}

}  // namespace jambcheck::papers
