#pragma once
// The part of a disc that lies in a convex polygon, in closed form.
#include <span>
#include <vector>

#include "mechanics/plane.h"

namespace jambcheck::mechanics {

/// Corners of an upright rectangle, counter-clockwise.
std::vector<Point> rectangle(double x_low, double x_high, double z_low, double z_high);

/// What is left of a convex polygon where n_x x + n_z z <= reach; may be empty. The normal need not have length 1.
std::vector<Point> cut(std::span<const Point> polygon, Point normal, double reach);

/// Area that the disc about `centre` and the convex polygon (counter-clockwise) have in common, in^2.
double disc_area(std::span<const Point> polygon, Point centre, double radius);

}  // namespace jambcheck::mechanics
