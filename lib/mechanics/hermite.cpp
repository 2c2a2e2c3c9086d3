#include "mechanics/hermite.h"

namespace jambcheck::mechanics {

namespace {

Matrix4 divided(const Matrix4& m, double by) {
  Matrix4 out = m;
  for (auto& row : out) {
    for (double& v : row) v /= by;
  }
  return out;
}

}  // namespace

Hermite hermite(double xi) {
  const double x2 = xi * xi;
  const double x3 = x2 * xi;
  return {1 - 3 * x2 + 2 * x3, xi - 2 * x2 + x3, 3 * x2 - 2 * x3, x3 - x2};
}

Hermite hermite_first(double xi) {
  const double x2 = xi * xi;
  return {6 * x2 - 6 * xi, 1 - 4 * xi + 3 * x2, 6 * xi - 6 * x2, 3 * x2 - 2 * xi};
}

Hermite hermite_second(double xi) { return {12 * xi - 6, 6 * xi - 4, 6 - 12 * xi, 6 * xi - 2}; }

Matrix4 hermite_mass() {
  return divided({{{156, 22, 54, -13}, {22, 4, 13, -3}, {54, 13, 156, -22}, {-13, -3, -22, 4}}}, 420);
}

Matrix4 hermite_slopes() { return divided({{{36, 3, -36, 3}, {3, 4, -3, -1}, {-36, -3, 36, -3}, {3, -1, -3, 4}}}, 30); }

Matrix4 hermite_curvatures() { return {{{12, 6, -12, 6}, {6, 4, -6, 2}, {-12, -6, 12, -6}, {6, 2, -6, 4}}}; }

Matrix4 hermite_curvature_times_value() {
  Matrix4 out = divided(hermite_slopes(), -1);  // integration by parts; the ends add
  out[1][0] -= 1;
  out[3][2] += 1;
  return out;
}

}  // namespace jambcheck::mechanics
