#include "verdict/hole_places.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "verdict/board.h"
#include "verdict/demand.h"
#include "opening/bracket_pattern.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;
using opening::Side;

constexpr double kSameLevel = 1.0 / 64;  // in

/// Reads what the project says of one side.
class Said {
 public:
  explicit Said(const PlaceInput& in) : in_(in) {}
  /// NaN where it is not said, and told as missing when it is `wanted`.
  double number(const std::string& path, bool wanted = false) const {
    const Fact* f = opening::fact(in_.opening, path, in_.side);
    const bool known = f && !f->unknown && f->kind == Fact::Kind::number;
    if (!known && wanted) miss(path);
    return known ? f->value : kNotKnown;
  }
  const Fact* list(const std::string& path) const {
    const Fact* f = opening::fact(in_.opening, path, in_.side);
    return f && !f->unknown && f->kind == Fact::Kind::list ? f : nullptr;
  }
  /// Of the case, as `check` takes it: given or assumed there.
  double of_case(const std::string& key) const { return in_.link.common.number(key); }
  void miss(const std::string& path) const {
    auto& missing = in_.list.missing;
    if (std::find(missing.begin(), missing.end(), path) == missing.end()) missing.push_back(path);
  }
  void assume(const std::string& what, const std::string& value, const std::string& why) const {
    for (auto& a : in_.list.assumed)
      if (a.what == what && a.value == value && a.why == why) {
        if (std::find(a.where.begin(), a.where.end(), in_.link.name) == a.where.end()) a.where.push_back(in_.link.name);
        return;
      }
    in_.list.assumed.push_back({what, value, why, {in_.link.name}, {}});
  }

 private:
  const PlaceInput& in_;
};

bool is_flush(const PlaceInput& in, const Said& said) {
  const Fact* flush = opening::fact(in.opening.facts, "flush_guide");
  const bool named = flush && !flush->unknown;
  if (!named) said.assume("flush_guide", "left", "which guide is set flush with its jamb is not said; common practice, no source");
  return (named ? flush->word : "left") == opening::word(in.side);
}

/// The tape goes before the trade's rule.
double guide_edge(const PlaceInput& in, const Said& said) {
  const double given = said.number("guide.edge");
  if (!std::isnan(given)) return given;
  if (!in.list.face_mounted) {
    said.miss("guide.edge");
    return kNotKnown;
  }
  const bool flush = is_flush(in, said);
  const auto values = with_word(in.set, merged(in.link, in.link.cases.front()), "guide.set", flush ? "flush" : "measured");
  const auto found = key_values(in.set, in.plans, values, {"guide.hole_edge_least", "guide.hole_edge_most"});
  const double least = found.at("guide.hole_edge_least"), most = found.at("guide.hole_edge_most");
  said.miss("guide.edge");
  if (std::isnan(least)) return kNotKnown;
  const std::string range = most > least ? fmt::format("{} to {}", as_measured(least, in.list.metric), as_measured(most, in.list.metric)) : as_measured(least, in.list.metric);
  said.assume("guide.edge", range, flush ? "this guide flush with the edge of its jamb; common practice, no source" : "set by the width over both guides, the least of it; common practice, no source");
  return least;
}

/// Across the opening: on the face beside it, or on the jamb inside it.
double across_of(const PlaceInput& in, double edge) {
  const bool left = in.side == Side::left;
  const double out = in.list.face_mounted ? edge : 0;
  return left ? 0 - out : in.list.across.opening + out;
}

void name_from_below(HoleRow& row) {
  std::stable_sort(row.holes.begin(), row.holes.end(), [](const Hole& a, const Hole& b) {
    if (std::fabs(a.above_lowest - b.above_lowest) > kSameLevel) return a.above_lowest < b.above_lowest;
    return a.edge < b.edge;
  });
  for (std::size_t i = 0; i < row.holes.size(); ++i) row.holes[i].name = fmt::format("{}-{}", row.id, i + 1);
  row.count = std::max(row.count, row.holes.size());
}

/// Heights first, first + spacing ... up to `top`.
std::vector<double> up_to(double first, double spacing, double top) {
  std::vector<double> out;
  if (std::isnan(first) || std::isnan(spacing) || std::isnan(top) || !(spacing > 0)) return out;
  const auto more = static_cast<std::size_t>(std::max(0.0, std::floor((top - first) / spacing + 1e-9)));
  for (std::size_t i = 0; i <= more; ++i) out.push_back(first + static_cast<double>(i) * spacing);
  return out;
}

/// Holes one above the other at one edge distance.
void add_line(const PlaceInput& in, const Said& said, const std::vector<double>& heights, double edge, double other_edge, double joint, HoleRow& row) {
  const double end = said.of_case("end.distance");
  for (const double z : heights) {
    Hole h;
    h.height = z;
    h.above_lowest = z - heights.front();
    h.edge = edge;
    h.other_edge = other_edge;
    h.across = across_of(in, edge);
    h.end_below = end + h.above_lowest;
    h.joint = joint;
    row.holes.push_back(h);
  }
  name_from_below(row);
}

double other_edge_of(double given, double width, double edge) { return std::isnan(given) ? width - edge : given; }

}  // namespace

void place_guide(const PlaceInput& in, HoleRow& row) {
  const Said said(in);
  const Fact* heights = said.list("guide.heights");
  const double top = in.list.across.height;
  const auto at = heights ? heights->list : up_to(said.number("guide.first", true), said.number("guide.spacing", true), top);
  if (!at.empty()) said.assume("guide.height", as_measured(0, in.list.metric), "the guide stands on the floor");
  const double edge = guide_edge(in, said);
  add_line(in, said, at, edge, other_edge_of(said.number("guide.other_edge"), row.jamb_width, edge), said.number("guide.fastener.joint_distance"), row);
}

void place_bracket(const PlaceInput& in, HoleRow& row) {
  const Said said(in);
  const opening::Pattern pattern = opening::bracket_pattern(in.opening, in.side);
  row.count = pattern.count;
  if (pattern.holes.empty()) return said.miss("bracket.holes");
  const double middle = said.number("bracket.height", true), edge = said.number("bracket.edge", true), end = said.number("bracket.end");
  double x_most = pattern.holes.front().x, x_least = x_most, z_most = pattern.holes.front().z, z_least = z_most, z_sum = 0;
  for (const opening::PatternHole& p : pattern.holes) {
    x_most = std::max(x_most, p.x), x_least = std::min(x_least, p.x);
    z_most = std::max(z_most, p.z), z_least = std::min(z_least, p.z);
    z_sum += p.z;
  }
  const double given_other = said.number("bracket.other_edge"), joint = said.number("bracket.fastener.joint_distance");
  for (const opening::PatternHole& p : pattern.holes) {
    Hole h;
    h.above_lowest = p.z - z_least;
    h.height = middle + p.z - z_sum / static_cast<double>(pattern.holes.size());
    h.edge = edge + (x_most - p.x);
    h.other_edge = std::isnan(given_other) ? row.jamb_width - h.edge : given_other + (p.x - x_least);
    h.across = across_of(in, h.edge);
    h.end_above = end + (z_most - p.z);
    h.joint = joint;
    row.holes.push_back(h);
  }
  name_from_below(row);
}

/// The board's own fasteners: from its lower end up to the bracket it carries, or to the height of the opening.
void place_board(const PlaceInput& in, HoleRow& row) {
  const Said said(in);
  const double bracket = said.number("bracket.height"), plate = said.number("bracket.plate.height");
  double top = in.list.across.height;
  if (!std::isnan(bracket)) top = std::max(top, bracket + (std::isnan(plate) ? 0 : plate / 2));
  const auto at = up_to(said.number("buck.first", true), said.number("buck.spacing", true), top);
  if (!at.empty()) said.assume("buck.height", as_measured(0, in.list.metric), fmt::format("the board stands on the floor and ends {} above it", as_measured(top, in.list.metric)));
  const double edge = said.number("buck.edge", true);
  add_line(in, said, at, edge, row.jamb_width - edge, said.number("buck.fastener.joint_distance"), row);
  for (Hole& h : row.holes) {  // ends are those of the board
    h.end_below = h.height;
    h.end_above = top - h.height;
  }
}

void find_neighbours(HoleList& list) {
  for (HoleRow& row : list.rows)
    for (Hole& h : row.holes)
      for (const HoleRow& other : list.rows) {
        if (other.side != row.side || other.link_id != row.link_id) continue;
        for (const Hole& o : other.holes) {
          if (&o == &h) continue;
          // Within a row the lowest hole is a level to measure from, even where the floor is not.
          const bool same_row = &other == &row;
          const double up = same_row ? o.above_lowest - h.above_lowest : o.height - h.height, along = o.edge - h.edge;
          const double apart = std::hypot(up, same_row && std::isnan(along) ? 0 : along);
          if (std::isnan(apart) || apart >= h.neighbour) continue;
          h.neighbour = apart;
          h.neighbour_name = o.name;
        }
      }
}

}  // namespace jambcheck::verdict
