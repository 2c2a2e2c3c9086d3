#include "mechanics/masonry_area.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mechanics/disc_area.h"

namespace jambcheck::mechanics {
namespace {

constexpr double kSamePlace = 1e-9;
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// Solid masonry on the surface that the anchors enter.
struct Surface {
  double x_low, x_high, z_low, z_high;
};

Surface surface_of(const MasonryAnchors& a) {
  Surface s{a.at[0].x, a.at[0].x, a.at[0].z, a.at[0].z};
  for (const Point p : a.at) {
    s.x_low = std::min(s.x_low, p.x);
    s.x_high = std::max(s.x_high, p.x);
    s.z_low = std::min(s.z_low, p.z);
    s.z_high = std::max(s.z_high, p.z);
  }
  s.x_low -= std::min(a.other, a.open_beside);
  s.x_high += std::min(a.edge, a.open_beside);
  s.z_low -= a.end;
  s.z_high += a.end;
  if (a.line_spacing > 0) {  // the worst of the line: one neighbour half a spacing away, beyond it another or the end
    s.z_low = a.at[0].z - std::min(a.end, a.line_spacing / 2);
    s.z_high = a.at[0].z + a.line_spacing / 2;
  }
  return s;
}

double tension_area(const MasonryAnchors& a, const Surface& s) {
  const Point own = a.at[a.index];
  std::vector<Point> part = rectangle(s.x_low, s.x_high, s.z_low, s.z_high);
  for (std::size_t j = 0; j < a.at.size(); ++j) {
    if (j == a.index) continue;
    const Point other = a.at[j], toward{other.x - own.x, other.z - own.z};
    const Point half{(other.x + own.x) / 2, (other.z + own.z) / 2};
    part = cut(part, toward, toward.x * half.x + toward.z * half.z);
  }
  return disc_area(part, own, a.embedment);
}

/// An anchor seen on the face of an edge: its place along the edge, its distance to it.
struct Seen {
  double along, distance;
};

/// Half disc of `own` on a face that reaches from `low` to `high` and `depth` deep.
double shear_area(const std::vector<Seen>& all, std::size_t own, double low, double high, double depth) {
  const Seen me = all[own];
  std::vector<double> about_here;  // radii of the half discs about the same place, the own one with them
  for (const Seen& other : all) {
    const double apart = std::abs(other.along - me.along);
    if (apart <= kSamePlace) {
      about_here.push_back(other.distance);
      continue;
    }
    const double kept = std::max(apart / 2, apart - other.distance);
    if (other.along > me.along) high = std::min(high, me.along + kept);
    else low = std::max(low, me.along - kept);
  }
  if (!(high > low) || !(depth > 0)) return 0;
  std::sort(about_here.begin(), about_here.end());
  const auto face = rectangle(low, high, 0, depth);
  double area = 0, within = 0;
  for (std::size_t k = 0; k < about_here.size() && about_here[k] <= me.distance; ++k) {
    const double disc = disc_area(face, {me.along, 0}, about_here[k]);
    area += (disc - within) / static_cast<double>(about_here.size() - k);
    within = disc;
  }
  return area;
}

bool sensible(const MasonryAnchors& a) {
  if (a.at.empty() || a.index >= a.at.size() || (a.line_spacing > 0 && a.at.size() != 1)) return false;
  for (const double length : {a.embedment, a.edge, a.other, a.end, a.depth, a.open_beside, a.line_spacing})
    if (!(length >= 0) || std::isinf(length)) return false;
  for (std::size_t i = 0; i < a.at.size(); ++i) {
    if (!std::isfinite(a.at[i].x) || !std::isfinite(a.at[i].z)) return false;
    for (std::size_t j = 0; j < i; ++j)
      if (std::hypot(a.at[i].x - a.at[j].x, a.at[i].z - a.at[j].z) <= kSamePlace) return false;
  }
  return true;
}

}  // namespace

bool masonry_areas(const MasonryAnchors& a, MasonryAreas& areas) {
  if (!sensible(a)) return false;
  const Surface s = surface_of(a);
  areas.tension = tension_area(a, s);
  const auto side = [&](auto along, auto distance, double low, double high) {
    std::vector<Seen> seen;
    for (const Point p : a.at) seen.push_back({along(p), distance(p)});
    return ShearArea{seen[a.index].distance, shear_area(seen, a.index, low, high, a.depth)};
  };
  const auto x = [](Point p) { return p.x; };
  const auto z = [](Point p) { return p.z; };
  areas.toward = side(
      z, [&](Point p) { return s.x_high - p.x; }, s.z_low, s.z_high);
  areas.away = side(
      z, [&](Point p) { return p.x - s.x_low; }, s.z_low, s.z_high);
  areas.down = side(
      x, [&](Point p) { return p.z - s.z_low; }, s.x_low, s.x_high);
  areas.up = side(
      x, [&](Point p) { return s.z_high - p.z; }, s.x_low, s.x_high);
  if (a.line_spacing > 0) areas.down = areas.up = {kNone, kNone};
  return true;
}

}  // namespace jambcheck::mechanics
