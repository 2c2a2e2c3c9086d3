#include "papers/chart.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/fastening.h"
#include "papers/live.h"
#include "papers/working.h"
#include "text/number.h"
#include "units/quantity.h"
#include "verdict/connection.h"
#include "verdict/demand.h"
#include "verdict/key_values.h"

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Disc;
using document::Drawing;
using document::Fill;
using document::Point;
using document::Stroke;

constexpr double kText = 9;

/// 0 and the greatest and least of the values, so that a curve is never shown steeper than it is.
struct Range {
  double least = 0, most = 0;
  void see(double x) { least = std::min(least, x), most = std::max(most, x); }
  [[nodiscard]] double share(double x) const { return most > least ? (x - least) / (most - least) : 0.5; }
};

std::string short_number(double x) { return text::rounded(x, 3); }

}  // namespace

Drawing chart(const Axes& axes, const std::vector<Curve>& curves, std::optional<Point> chosen) {
  Drawing d;
  Range y;
  double first = 1e300, last = -1e300;
  for (const auto& c : curves)
    for (const auto& p : c.points) first = std::min(first, p.x), last = std::max(last, p.x), y.see(p.y);
  if (!(last > first)) return d;
  d.width = 250, d.height = 120 + kText * 1.3 * static_cast<double>(curves.size());
  constexpr double kLeft = 52, kRight = 14, kTop = 28, kHigh = 66;
  const double w = d.width - kLeft - kRight, floor_y = kTop + kHigh;
  const auto at = [&](Point p) { return Point{kLeft + (p.x - first) / (last - first) * w, floor_y - y.share(p.y) * kHigh}; };
  d.say = axes.title;
  d.label({2, kText}, axes.title, Align::left, kText, true);
  d.label({2, kText * 2.2}, axes.y_name, Align::left, kText);
  d.line({kLeft, kTop - 4}, {kLeft, floor_y}, 0.6);
  d.line({kLeft, at({first, 0}).y}, {kLeft + w, at({first, 0}).y}, 0.6);
  for (const double value : {y.least, y.most})
    if (value != 0 || y.least == y.most || value == y.least) d.label({kLeft - 3, at({first, value}).y + 3}, short_number(value), Align::right, kText);
  d.label({kLeft, floor_y + kText * 1.3}, axes.x_first.empty() ? short_number(first) : axes.x_first, Align::left, kText);
  d.label({kLeft + w, floor_y + kText * 1.3}, axes.x_last.empty() ? short_number(last) : axes.x_last, Align::right, kText);
  d.label({kLeft + w / 2, floor_y + kText * 1.3}, axes.x_name, Align::middle, kText);
  double key_y = floor_y + kText * 2.9;
  for (const auto& c : curves) {
    Stroke line;
    line.width = 1.1, line.dashed = c.dashed;
    for (const auto& p : c.points) line.points.push_back(at(p));
    d.shapes.emplace_back(line);
    for (const auto& p : c.points) d.shapes.emplace_back(Disc{at(p), 1.8, c.dashed ? Fill::white : Fill::black, 0.8});
    d.line({kLeft, key_y - 3}, {kLeft + 22, key_y - 3}, 1.1, c.dashed);
    std::string values;
    for (const auto& p : c.points) values += (values.empty() ? "" : ", ") + short_number(p.y);
    d.label({kLeft + 27, key_y}, c.name + ": " + values, Align::left, kText);
    d.say += fmt::format("; {}: {}", c.name, values);
    key_y += kText * 1.3;
  }
  if (chosen) d.shapes.emplace_back(Disc{at(*chosen), 4.5, Fill::none, 1.2});
  return d;
}

namespace {

const verdict::LoadCase* case_of_state(const verdict::Connection& c, std::string_view state) {
  for (const auto& one : c.cases)
    if (one.values.word("door.state") == state) return &one;
  return nullptr;
}

}  // namespace

Drawing travel_chart(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, verdict::Checker& checker) {
  constexpr std::string_view kOff = "bracket.M_out_of_plane", kIn = "bracket.M_in_plane";
  const auto* key = set.key(kOff);
  if (!key) return {};
  Curve off{"off the wall", {}, false}, in{"in the plane of the wall", {}, true};
  for (const auto& c : verdict::connections(first_choices(project), first_choices(opening), set)) {
    if (c.id.back() != 'B' || !off.points.empty()) continue;
    double x = 0;
    for (const char* state : {"closed", "open"}) {
      const auto* one = case_of_state(c, state);
      if (!one) return {};
      const rules::Case values = verdict::merged(c, *one);
      const auto found = verdict::key_values(set, checker.plans(), values, {kOff, kIn});
      if (std::isnan(found.at(std::string(kOff))) || std::isnan(found.at(std::string(kIn)))) return {};
      off.points.push_back({x, key->unit.from_canonical(found.at(std::string(kOff)))});
      in.points.push_back({x, key->unit.from_canonical(found.at(std::string(kIn)))});
      x += 1;
    }
  }
  if (off.points.empty()) return {};
  return chart({"Moments on the bracket, door closed to open", "travel", key->unit.name, "closed", "open"}, {off, in}, std::nullopt);
}

namespace {

/// Whether the check reads a distance from an edge.
bool reads_edge(const verdict::CheckResult& check) {
  const rules::Evaluation run(check.plan, *check.values);
  for (const auto& [rule, names] : needed_by(run, *check.plan->check_of(*check.rule)))
    for (const auto& input : rule->inputs)
      if (input.key.rfind("edge.", 0) == 0 && names.count(input.name) != 0) return true;
  return false;
}

}  // namespace

Drawing edge_chart(const opening::Project& project, const opening::Opening& opening, const verdict::ConnectionResult& connection, verdict::Checker& checker) {
  const auto* check = worst_strength(connection);
  if (!check || std::isnan(check->judgement.capacity) || !reads_edge(*check)) return {};
  const bool bracket = connection.id.back() == 'B';
  const auto side = connection.id.front() == 'L' ? opening::Side::left : opening::Side::right;
  const std::string path = bracket ? "bracket.edge" : "guide.edge";
  const opening::Project p = first_choices(project);
  opening::Opening o = first_choices(opening);
  const auto fact = o.facts.find(path);
  if (fact == o.facts.end() || fact->second.unknown) return {};
  const double given = fact->second.value;
  const units::Unit length = fact->second.shown;
  Curve curve{check->rule->title, {}, false};
  std::optional<Point> chosen;
  for (const double share : {0.6, 0.8, 1.0, 1.25, 1.5}) {
    fact->second.value = given * share;
    const auto result = checker.check_part(p, o, side, bracket);
    for (const auto& k : result.checks) {
      if (k.rule != check->rule || k.address.find("/L1/") == std::string::npos || std::isnan(k.judgement.capacity)) continue;
      const Point at{length.from_canonical(given * share), k.unit.from_canonical(k.judgement.capacity)};
      curve.points.push_back(at);
      if (share == 1.0) chosen = at;
    }
  }
  if (curve.points.size() < 2) return {};
  const auto flat = std::all_of(curve.points.begin(), curve.points.end(), [&](const Point& a) { return std::fabs(a.y - curve.points.front().y) <= 1e-9 * std::fabs(a.y); });
  if (flat) return {};
  return chart({"Capacity over the edge distance", "edge, " + length.name, check->unit.name, "", ""}, {curve}, chosen);
}

}  // namespace jambcheck::papers
