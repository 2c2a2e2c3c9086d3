#include "mechanics/disc_area.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::mechanics {
namespace {

double cross(Point a, Point b) { return a.x * b.z - a.z * b.x; }
double dot(Point a, Point b) { return a.x * b.x + a.z * b.z; }
Point along(Point a, Point b, double t) { return {a.x + t * (b.x - a.x), a.z + t * (b.z - a.z)}; }

/// Signed area of the sector between the directions of a and b, seen from the centre.
double sector(Point a, Point b, double radius) { return radius * radius / 2 * std::atan2(cross(a, b), dot(a, b)); }

/// Signed area of the triangle (centre, a, b) inside the disc. a and b are measured from the centre.
double triangle_in_disc(Point a, Point b, double radius) {
  const Point d{b.x - a.x, b.z - a.z};
  const double A = dot(d, d), B = dot(a, d), C = dot(a, a) - radius * radius;
  if (A == 0) return 0;
  const double under = B * B - A * C;
  if (under <= 0) return sector(a, b, radius);
  const double root = std::sqrt(under);
  const double enters = (-B - root) / A, leaves = (-B + root) / A;
  if (enters >= 1 || leaves <= 0) return sector(a, b, radius);
  const double t_a = std::max(enters, 0.0), t_b = std::min(leaves, 1.0);
  const Point p = along(a, b, t_a), q = along(a, b, t_b);
  double area = cross(p, q) / 2;
  if (t_a > 0) area += sector(a, p, radius);
  if (t_b < 1) area += sector(q, b, radius);
  return area;
}

}  // namespace

std::vector<Point> rectangle(double x_low, double x_high, double z_low, double z_high) {
  return {{x_low, z_low}, {x_high, z_low}, {x_high, z_high}, {x_low, z_high}};
}

std::vector<Point> cut(std::span<const Point> polygon, Point normal, double reach) {
  std::vector<Point> left;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point a = polygon[i], b = polygon[(i + 1) % polygon.size()];
    const double over_a = dot(a, normal) - reach, over_b = dot(b, normal) - reach;
    if (over_a <= 0) left.push_back(a);
    if ((over_a < 0 && over_b > 0) || (over_a > 0 && over_b < 0))
      left.push_back(along(a, b, over_a / (over_a - over_b)));
  }
  if (left.size() < 3) left.clear();
  return left;
}

double disc_area(std::span<const Point> polygon, Point centre, double radius) {
  if (!(radius > 0)) return 0;
  double area = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point a = polygon[i], b = polygon[(i + 1) % polygon.size()];
    area += triangle_in_disc({a.x - centre.x, a.z - centre.z}, {b.x - centre.x, b.z - centre.z}, radius);
  }
  return std::max(0.0, area);
}

}  // namespace jambcheck::mechanics
