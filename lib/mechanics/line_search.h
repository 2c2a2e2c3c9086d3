#pragma once
// Where the slope of a convex function along a direction vanishes.
#include <cmath>

namespace jambcheck::mechanics {

/// A step t in (0, 1] at which |slope(t)| <= tolerance * |slope0|, or 1 when the function still falls there.
/// `slope` never falls with t; slope0 = slope(0) < 0.
template <class Slope>
double step_length(const Slope& slope, double slope0, double tolerance) {
  double right = 1;
  double slope_right = slope(right);
  const double small = tolerance * std::abs(slope0);
  if (slope_right <= small) return right;
  double left = 0;
  double slope_left = slope0;
  // False position, with the stale end halved so that it can't get stuck.
  for (int i = 0; i < 100; ++i) {
    const double t = left + (right - left) * (-slope_left) / (slope_right - slope_left);
    if (!(t > left && t < right)) break;
    const double s = slope(t);
    if (std::abs(s) <= small) return t;
    if (s < 0) {
      left = t;
      slope_left = s;
      slope_right /= 2;
    } else {
      right = t;
      slope_right = s;
      slope_left /= 2;
    }
  }
  return left > 0 ? left : right;
}

}  // namespace jambcheck::mechanics
