#pragma once
// A rigid rectangular plate pulled and bent off its base: fasteners that only pull, a base that only pushes.
//
// The plate moves as w = a + b x + c z. Each fastener pulls with stiffness * w where w > 0; the base presses with
// base_modulus * (-w) where w < 0, integrated exactly over the part of the rectangle in compression.
#include <span>

#include "mechanics/plane.h"
#include "mechanics/status.h"

namespace jambcheck::mechanics {

struct RigidPlate {
  Rectangle outline;
  double base_modulus = 0;  ///< pressure per movement into the base, lbf/in^3, > 0
};

struct RigidPlateResult {
  Status status = Status::ok;
  double compression = 0;       ///< resultant of the base pressure, lbf, >= 0
  Point compression_centre;     ///< where it acts; the plate centre without compression
  double compressed_area = 0;   ///< in^2
  double largest_pressure = 0;  ///< psi
  double a = 0, b = 0, c = 0;   ///< movement off the base w = a + b x + c z, in and in/in
  int iterations = 0;
  /// Largest of |sum of forces| and |sum of moments| / half diagonal, over the largest force in play.
  double residual = 0;
};

/// Tension of each fastener (lbf, never negative) into `tension` (length of `fasteners`).
/// All loads zero: all zero. Pure compression: fasteners zero. Fasteners on one line, or a single one: the base
/// supplies the missing lever. Status: ok, not_finite, wrong_size, off_plate, no_equilibrium, not_converged; on any but
/// ok the tensions are zero. Relative error of the statics 1e-9 or better when ok. No allocation.
RigidPlateResult solve_rigid_plate(const RigidPlate& plate, std::span<const TensionFastener> fasteners,
                                   const PlateLoad& load, std::span<double> tension);

}  // namespace jambcheck::mechanics
