#include "mechanics/projected_area.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace jambcheck::mechanics {
namespace {

constexpr double kSameDistance = 1e-6;
constexpr double kFar = std::numeric_limits<double>::infinity();

/// Anchors that act together, by number.
struct Group {
  std::array<std::size_t, kMostAnchors> member{};
  std::size_t size = 0;
  void add(std::size_t i) { member[size++] = i; }
  std::span<const std::size_t> all() const { return {member.data(), size}; }
};

/// Everything among `from` that is linked to `own`, step by step.
template <typename Linked>
Group grow(std::size_t own, const Group& from, Linked linked) {
  Group g;
  g.add(own);
  std::array<bool, kMostAnchors> taken{};
  taken[own] = true;
  for (std::size_t done = 0; done < g.size; ++done)
    for (const std::size_t i : from.all())
      if (!taken[i] && linked(g.member[done], i)) {
        taken[i] = true;
        g.add(i);
      }
  return g;
}

Group loaded(std::span<const double> loads, std::size_t count) {
  double most = 0;
  for (std::size_t i = 0; i < count; ++i) most = std::max(most, loads[i]);
  Group g;
  for (std::size_t i = 0; i < count; ++i)
    if (loads[i] > kNoLoad * most) g.add(i);
  return g;
}

/// The longest link that is needed to hold the group together.
double largest_spacing(const AnchorLayout& a, const Group& g) {
  std::array<double, kMostAnchors> nearest{};
  nearest.fill(kFar);
  std::array<bool, kMostAnchors> done{};
  std::size_t at = 0;
  done[0] = true;
  double largest = 0;
  for (std::size_t step = 1; step < g.size; ++step) {
    std::size_t next = 0;
    double best = kFar;
    for (std::size_t k = 0; k < g.size; ++k) {
      if (done[k]) continue;
      const Point p = a.at[g.member[at]], q = a.at[g.member[k]];
      nearest[k] = std::min(nearest[k], std::hypot(p.x - q.x, p.z - q.z));
      if (nearest[k] < best) {
        best = nearest[k];
        next = k;
      }
    }
    largest = std::max(largest, best);
    done[next] = true;
    at = next;
  }
  return largest;
}

/// Distances of one place to the four edges: loaded, other, top, bottom.
std::array<double, 4> distances(const ConcreteSurface& s, Point p) { return {s.x_high - p.x, p.x - s.x_low, s.z_high - p.z, p.z - s.z_low}; }

/// From each edge to the nearest anchor of the group.
std::array<double, 4> nearest_of(const AnchorLayout& a, const ConcreteSurface& s, const Group& g) {
  std::array<double, 4> c;
  c.fill(kFar);
  for (const std::size_t i : g.all()) {
    const auto own = distances(s, a.at[i]);
    for (std::size_t e = 0; e < c.size(); ++e) c[e] = std::min(c[e], own[e]);
  }
  return c;
}

/// The depth that counts when many edges are near; never more than the real one.
double limited_depth(const ReachRule& rule, const std::array<double, 4>& c, double spacing) {
  double near = 0, farthest = 0;
  for (const double distance : c)
    if (distance < rule.k * rule.depth) {
      near += 1;
      farthest = std::max(farthest, distance);
    }
  if (!(rule.near_edges > 0) || near < rule.near_edges) return rule.depth;
  return std::min(rule.depth, std::max(farthest / rule.k, spacing / rule.k_spacing));
}

/// Union of squares with half side r about the anchors of the group, within the surface: strips between all their sides.
double union_area(const AnchorLayout& a, const ConcreteSurface& s, const Group& g, double r) {
  std::array<double, 2 * kMostAnchors> cut;
  std::size_t cuts = 0;
  for (const std::size_t i : g.all()) {
    cut[cuts++] = std::max(s.x_low, a.at[i].x - r);
    cut[cuts++] = std::min(s.x_high, a.at[i].x + r);
  }
  std::sort(cut.begin(), cut.begin() + static_cast<std::ptrdiff_t>(cuts));
  Group upward = g;  // in the order of z: squares are alike, so each begins above the one before
  std::sort(upward.member.begin(), upward.member.begin() + static_cast<std::ptrdiff_t>(g.size),
            [&](std::size_t i, std::size_t j) { return a.at[i].z < a.at[j].z; });
  double area = 0;
  for (std::size_t k = 1; k < cuts; ++k) {
    const double middle = (cut[k - 1] + cut[k]) / 2;
    double height = 0, covered = s.z_low;
    for (const std::size_t i : upward.all()) {
      if (std::abs(a.at[i].x - middle) > r) continue;
      const double top = std::min(s.z_high, a.at[i].z + r);
      height += std::max(0.0, top - std::max(covered, a.at[i].z - r));
      covered = std::max(covered, top);
    }
    area += height * (cut[k] - cut[k - 1]);
  }
  return area;
}

/// Middle of the load less middle of the anchors, along x and z.
void eccentricity(const AnchorLayout& a, std::span<const double> loads, const Group& g, ProjectedArea& r) {
  double x = 0, z = 0, x_load = 0, z_load = 0;
  for (const std::size_t i : g.all()) {
    x += a.at[i].x;
    z += a.at[i].z;
    x_load += loads[i] * a.at[i].x;
    z_load += loads[i] * a.at[i].z;
  }
  const auto n = static_cast<double>(g.size);
  r.e_x = r.load > 0 ? std::abs(x_load / r.load - x / n) : 0;
  r.e_z = r.load > 0 ? std::abs(z_load / r.load - z / n) : 0;
}

EdgeRow row_of(const AnchorLayout& a, const ConcreteSurface& s, std::span<const double> loads, const Group& from, const ReachRule& rule) {
  const auto c = distances(s, a.at[a.own]);
  const std::size_t edge = static_cast<std::size_t>(std::min_element(c.begin(), c.end()) - c.begin());
  const bool upright = edge < 2;  // an upright edge: the row runs along z
  const auto along = [&](std::size_t i) { return upright ? a.at[i].z : a.at[i].x; };
  EdgeRow row;
  row.distance = c[edge];
  row.across = upright ? std::min(c[2], c[3]) : std::min(c[0], c[1]);
  Group same;
  for (const std::size_t i : from.all())
    if (std::abs(distances(s, a.at[i])[edge] - row.distance) <= kSameDistance) same.add(i);
  const Group g = grow(a.own, same, [&](std::size_t i, std::size_t j) { return std::abs(along(i) - along(j)) < rule.k_row * row.distance; });
  double low = along(a.own), high = low;
  for (const std::size_t i : g.all()) {
    low = std::min(low, along(i));
    high = std::max(high, along(i));
    row.load += loads[i];
  }
  row.count = static_cast<double>(g.size);
  row.factor = g.size > 1 ? 1 + (high - low) / (rule.k_row * row.distance) : 1;
  row.load = std::max(row.load, row.factor * loads[a.own]);
  return row;
}

/// One anchor of a long line: neighbours above and below, the end of the concrete where it is nearer.
void share_of_line(const AnchorLayout& a, double load, const ReachRule& rule, ProjectedArea& r) {
  const bool together = a.line_spacing < 2 * rule.k * rule.depth;
  r.depth = limited_depth(rule, {a.edge, a.other, a.end, kFar}, together ? a.line_spacing : 0);
  const double reach = rule.k * r.depth;
  const double beside = std::min(reach, a.line_spacing / 2);
  r.area = (std::min(reach, a.edge) + std::min(reach, a.other)) * (beside + std::min(beside, a.end));
  r.c_min = std::min({a.edge, a.other, a.end});
  r.load = load;
  r.count = 1;
  const double nearer = std::min(a.edge, a.other);
  const bool upright = nearer <= a.end;
  r.row.distance = r.c_min;
  r.row.across = upright ? a.end : nearer;
  const double share = a.line_spacing / (rule.k_row * nearer);
  const bool row = upright && nearer > 0 && share < 1;
  r.row.count = row ? 2 : 1;
  r.row.factor = row ? share : 1;
  r.row.load = load;
}

}  // namespace

bool projected_area(const AnchorLayout& a, std::span<const double> loads, const ReachRule& rule, ProjectedArea& r) {
  r = {};
  if (!sensible(a) || !(rule.depth > 0) || !(rule.k > 0) || !(rule.near_edges >= 0) || !(rule.k_spacing > 0) || !(rule.k_row > 0)) return false;
  if (a.is_line()) {
    share_of_line(a, loads[0], rule, r);
    return true;
  }
  for (std::size_t i = 0; i < a.count; ++i)
    if (!std::isfinite(loads[i])) return false;
  const ConcreteSurface s = surface_of(a);
  Group from = loaded(loads, a.count);
  const auto all = from.all();
  const bool pulls = std::find(all.begin(), all.end(), a.own) != all.end();
  if (!pulls) from.size = 0;
  const double side = 2 * rule.k * rule.depth;
  const Group g = grow(a.own, from, [&](std::size_t i, std::size_t j) {
    return std::abs(a.at[i].x - a.at[j].x) < side && std::abs(a.at[i].z - a.at[j].z) < side;
  });
  const auto c = nearest_of(a, s, g);
  r.c_min = *std::min_element(c.begin(), c.end());
  r.depth = limited_depth(rule, c, largest_spacing(a, g));
  r.area = union_area(a, s, g, rule.k * r.depth);
  r.count = static_cast<double>(g.size);
  if (pulls)
    for (const std::size_t i : g.all()) r.load += loads[i];
  eccentricity(a, loads, g, r);
  r.row = row_of(a, s, loads, from, rule);
  if (!pulls) r.row.load = 0;
  return true;
}

}  // namespace jambcheck::mechanics
