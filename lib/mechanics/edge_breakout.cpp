#include "mechanics/edge_breakout.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace jambcheck::mechanics {
namespace {

constexpr double kSameDistance = 1e-6;
constexpr double kFar = std::numeric_limits<double>::infinity();

/// An anchor seen from the edge: distance to it, place along it, load.
struct Seen {
  double distance = 0, along = 0, load = 0;
};

struct Row {
  std::array<Seen, kMostAnchors> anchor{};
  std::size_t count = 0;
  void add(const Seen& s) { anchor[count++] = s; }
  std::span<const Seen> all() const { return {anchor.data(), count}; }
};

/// Where the concrete ends along the edge.
struct Sides {
  double low = 0, high = 0;
};

double width_of(const Row& row, const Sides& sides, double half) {
  double width = 0, covered = sides.low;
  for (const Seen& s : row.all()) {  // sorted along the edge
    const double end = std::min(sides.high, s.along + half);
    width += std::max(0.0, end - std::max(covered, s.along - half));
    covered = std::max(covered, end);
  }
  return width;
}

BreakoutRow breakout_of(const Row& row, const Row& loading, const Sides& sides, const EdgeReachRule& rule) {
  const double c = row.anchor[0].distance, low = row.anchor[0].along - sides.low, high = sides.high - row.anchor[row.count - 1].along;
  double spacing = 0, middle = 0, load = 0, moment = 0;
  for (std::size_t i = 0; i < row.count; ++i) {
    if (i > 0) spacing = std::max(spacing, row.anchor[i].along - row.anchor[i - 1].along);
    middle += row.anchor[i].along / static_cast<double>(row.count);
  }
  for (const Seen& s : loading.all()) {
    load += s.load;
    moment += s.load * s.along;
  }
  BreakoutRow r;
  r.c_side = std::min(low, high);
  const double reach = rule.k * c, wide = std::max(low, high);
  r.distance = wide < reach && rule.thickness < reach ? std::min(c, std::max({wide / rule.k, rule.thickness / rule.k, spacing / rule.k_spacing})) : c;
  r.area = width_of(row, sides, rule.k * r.distance) * std::min(rule.k * r.distance, rule.thickness);
  r.e = load > 0 ? std::abs(moment / load - middle) : 0;
  return r;
}

/// The anchors of `all` that act together with the one at `own`, which comes first.
Row together(const std::array<Seen, kMostAnchors>& all, std::size_t count, std::size_t own, double k) {
  double most = 0;
  for (std::size_t i = 0; i < count; ++i) most = std::max(most, all[i].load);
  Row g;
  g.add(all[own]);
  if (!(all[own].load > kNoLoad * most)) {
    g.anchor[0].load = 0;
    return g;
  }
  std::array<bool, kMostAnchors> taken{};
  taken[own] = true;
  for (std::size_t done = 0; done < g.count; ++done)
    for (std::size_t i = 0; i < count; ++i)
      if (!taken[i] && all[i].load > kNoLoad * most &&
          std::abs(all[i].along - g.anchor[done].along) < k * (all[i].distance + g.anchor[done].distance)) {
        taken[i] = true;
        g.add(all[i]);
      }
  return g;
}

Row at_distance(const Row& group, double distance) {
  Row row;
  for (const Seen& s : group.all())
    if (std::abs(s.distance - distance) <= kSameDistance) row.add(s);
  std::sort(row.anchor.begin(), row.anchor.begin() + static_cast<std::ptrdiff_t>(row.count), [](const Seen& a, const Seen& b) { return a.along < b.along; });
  return row;
}

EdgeBreakout rows_of(const Row& group, const Sides& sides, const EdgeReachRule& rule) {
  double nearest = kFar, farthest = 0;
  EdgeBreakout r;
  for (const Seen& s : group.all()) {
    nearest = std::min(nearest, s.distance);
    farthest = std::max(farthest, s.distance);
    r.load += s.load;
  }
  const Row front = at_distance(group, nearest), rear = at_distance(group, farthest);
  for (const Seen& s : front.all()) r.front_load += s.load;
  r.rows_apart = farthest - nearest <= kSameDistance ? 0 : farthest - nearest;
  r.front = breakout_of(front, group, sides, rule);
  r.front.e = std::max(r.front.e, breakout_of(front, front, sides, rule).e);  // its own share, or all of the load
  r.rear = breakout_of(rear, group, sides, rule);
  return r;
}

/// Distance to the edge and place along it.
Seen seen(const ConcreteSurface& s, Point p, ConcreteEdge edge) {
  switch (edge) {
    case ConcreteEdge::loaded: return {s.x_high - p.x, p.z, 0};
    case ConcreteEdge::other: return {p.x - s.x_low, p.z, 0};
    case ConcreteEdge::top: return {s.z_high - p.z, p.x, 0};
    case ConcreteEdge::bottom: return {p.z - s.z_low, p.x, 0};
  }
  return {};
}

double toward_edge(double across, double down, const EdgeReachRule& rule) {
  switch (rule.toward) {
    case ConcreteEdge::loaded: return rule.either_way != 0 ? std::abs(across) : across;
    case ConcreteEdge::other: return rule.either_way != 0 ? std::abs(across) : -across;
    case ConcreteEdge::top: return -down;
    case ConcreteEdge::bottom: return down;
  }
  return 0;
}

bool upright(ConcreteEdge e) { return e == ConcreteEdge::loaded || e == ConcreteEdge::other; }

/// The share of one anchor of a line. Toward its own end the line stands one behind another: all of its load counts there.
void share_of_line(const AnchorLayout& a, double across, double down, const EdgeReachRule& rule, EdgeBreakout& toward, EdgeBreakout& along) {
  const bool side = upright(rule.toward);
  const double half = a.line_spacing / 2;
  const Sides sides = side ? Sides{-std::min(half, a.end), half} : Sides{-a.other, a.edge};
  Row row;
  row.add({side ? (rule.toward == ConcreteEdge::loaded ? a.edge : a.other) : a.end, 0, 0});
  BreakoutRow r;
  if (side) {  // neighbours are no edge: the concrete goes on beyond the half-way lines
    const double reach = rule.k * row.anchor[0].distance;
    r.distance = row.anchor[0].distance;
    r.c_side = a.end;
    r.area = width_of(row, sides, reach) * std::min(reach, rule.thickness);
  } else {
    r = breakout_of(row, row, sides, rule);
  }
  toward = along = {0, 0, 0, r, r};
  const double load = std::max(0.0, toward_edge(across, down, rule));
  toward.load = toward.front_load = std::isnan(across) || std::isnan(down) ? across + down : side || load == 0 ? load : load * rule.line_count;
  along.load = along.front_load = std::abs(side ? down : across);
}

}  // namespace

bool edge_breakout(const AnchorLayout& a, std::span<const double> across, std::span<const double> down, const EdgeReachRule& rule,
                   EdgeBreakout& toward, EdgeBreakout& along) {
  toward = along = {};
  if (!sensible(a) || !(rule.thickness > 0) || !(rule.k > 0) || !(rule.k_spacing > 0) || std::isnan(rule.either_way)) return false;
  if (a.is_line()) {
    share_of_line(a, across[0], down[0], rule, toward, along);
    return true;
  }
  const ConcreteSurface s = surface_of(a);
  const Sides sides = upright(rule.toward) ? Sides{s.z_low, s.z_high} : Sides{s.x_low, s.x_high};
  std::array<Seen, kMostAnchors> to{}, by{};
  for (std::size_t i = 0; i < a.count; ++i) {
    if (!std::isfinite(across[i]) || !std::isfinite(down[i])) return false;
    to[i] = by[i] = seen(s, a.at[i], rule.toward);
    to[i].load = toward_edge(across[i], down[i], rule);
    by[i].load = std::abs(upright(rule.toward) ? down[i] : across[i]);
  }
  toward = rows_of(together(to, a.count, a.own, rule.k), sides, rule);
  along = rows_of(together(by, a.count, a.own, rule.k), sides, rule);
  return true;
}

}  // namespace jambcheck::mechanics
