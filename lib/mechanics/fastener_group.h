#pragma once
// Shear of a group of like fasteners loaded in their own plane: the elastic (polar) method.
#include <optional>
#include <span>

#include "mechanics/plane.h"
#include "mechanics/status.h"

namespace jambcheck::mechanics {

/// A force (lbf) and a moment (in-lbf) in the plane of the fasteners.
struct InPlaneLoad {
  double Fx = 0;
  double Fz = 0;
  double My = 0;            ///< + turns x toward z (a force Fz at positive x makes a positive moment)
  std::optional<Point> at;  ///< where the force acts; empty = at the centroid of the group
};

/// Force of the plate on one fastener, lbf.
struct Shear {
  double x = 0;
  double z = 0;

  double magnitude() const;
  /// Direction of the force, rad from +x toward +z in (-pi, pi]; 0 without a force.
  double angle() const;
};

/// Shear on each fastener. `shear` has the length of `at`. Fasteners share the force equally and the moment by distance
/// from the centroid. Status: ok, not_finite, wrong_size, no_fastener, no_lever (moment on one fastener, or on
/// fasteners all at one place); on any but ok the shears are zero.
Status solve_fastener_group(std::span<const Point> at, const InPlaneLoad& load, std::span<Shear> shear);

}  // namespace jambcheck::mechanics
