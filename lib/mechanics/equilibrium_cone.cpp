#include "mechanics/equilibrium_cone.h"

#include <array>
#include <cmath>

namespace jambcheck::mechanics {

namespace {

// A force and its two moments about the plate centre, in half diagonals.
using Wrench = std::array<double, 3>;

double dot(const Wrench& a, const Wrench& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

Wrench cross(const Wrench& a, const Wrench& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

// The wrenches that the supports can put against the load, one by one: first the fasteners, then the corners.
struct Generators {
  const Rectangle& outline;
  std::span<const TensionFastener> fasteners;
  double half_diagonal;

  std::size_t size() const { return fasteners.size() + 4; }

  Wrench operator[](std::size_t i) const {
    const Point c = outline.centre();
    if (i < fasteners.size()) {
      const Point p = fasteners[i].at;
      return {1, (p.x - c.x) / half_diagonal, (p.z - c.z) / half_diagonal};
    }
    const std::size_t corner = i - fasteners.size();
    const double x = (corner % 2 == 0 ? -0.5 : 0.5) * outline.width / half_diagonal;
    const double z = (corner / 2 == 0 ? -0.5 : 0.5) * outline.height / half_diagonal;
    return {-1, -x, -z};
  }
};

// No support wrench on the positive side of the plane, but the load is.
bool separates(const Wrench& plane, const Generators& generators, const Wrench& load, double tolerance) {
  if (dot(plane, load) <= tolerance) return false;
  for (std::size_t i = 0; i < generators.size(); ++i) {
    if (dot(plane, generators[i]) > 1e-12) return false;
  }
  return true;
}

bool strictly_inside(const Rectangle& r, Point p) {
  const double margin_x = 1e-9 * r.width;
  const double margin_z = 1e-9 * r.height;
  return p.x > r.left + margin_x && p.x < r.left + r.width - margin_x && p.z > r.bottom + margin_z &&
         p.z < r.bottom + r.height - margin_z;
}

}  // namespace

bool can_balance(const Rectangle& outline, std::span<const TensionFastener> fasteners, const PlateLoad& load) {
  // A pull inside the outline and pushes around it balance every load.
  for (const TensionFastener& f : fasteners) {
    if (strictly_inside(outline, f.at)) return true;
  }
  const double half_diagonal = std::hypot(outline.width, outline.height) / 2;
  const Point c = outline.centre();
  const Wrench wanted = {load.N, (load.Mz + load.N * (load.at.x - c.x)) / half_diagonal,
                         (load.Mx + load.N * (load.at.z - c.z)) / half_diagonal};
  const double size = std::sqrt(dot(wanted, wanted));
  const Generators generators{outline, fasteners, half_diagonal};
  // The four corners span all three directions, so every face of the cone holds two generators.
  for (std::size_t i = 0; i < generators.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      Wrench plane = cross(generators[i], generators[j]);
      const double length = std::sqrt(dot(plane, plane));
      if (length < 1e-12) continue;
      for (double sign : {1.0, -1.0}) {
        const Wrench side = {sign * plane[0] / length, sign * plane[1] / length, sign * plane[2] / length};
        if (separates(side, generators, wanted, 1e-11 * size)) return false;
      }
    }
  }
  return true;
}

}  // namespace jambcheck::mechanics
