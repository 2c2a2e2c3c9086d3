#pragma once
// A plate that bends, pulled off its base: fasteners that only pull, a base that only pushes, prying included.
//
// Thin (Kirchhoff) plate of bicubic Hermite rectangles (16 degrees of freedom, conforming). The base presses at a grid
// of points, 5 x 5 to an element, each with its share of the area; each fastener pulls on 3 x 3 points over a small
// square. Points act one way each. Everything is linear elastic: a plate that yields shows in the stress.
#include <memory>
#include <span>

#include "mechanics/plane.h"
#include "mechanics/status.h"

namespace jambcheck::mechanics {

struct FlexiblePlate {
  Rectangle outline;
  double thickness = 0;        ///< in
  double modulus = 0;          ///< psi
  double poisson = 0;          ///< in [0, 0.5)
  double base_modulus = 0;     ///< pressure per movement into the base, lbf/in^3, > 0
  double fastener_spread = 0;  ///< side of the square under a fastener's head, in; cut back at the edge of the plate
  double patch_width = 0;      ///< the lug that brings the load, centred on PlateLoad::at: 9 x 9 points, its edges
  double patch_height = 0;     ///< included, share the force equally and a moment in proportion to their distance
  double element_size = 0;     ///< wanted element size, in; 0 = six elements along the shorter side
};

struct FlexiblePlateResult {
  Status status = Status::ok;
  double compression = 0;       ///< resultant of the base pressure, lbf, >= 0
  Point compression_centre;     ///< where it acts; the plate centre without compression
  double largest_pressure = 0;  ///< psi
  double largest_lift = 0;      ///< largest movement off the base under a fastener, in
  double largest_moment = 0;    ///< principal bending moment of greatest magnitude, in-lbf/in
  double largest_stress = 0;    ///< von Mises bending stress at the surface, psi
  Point largest_stress_at;
  int iterations = 0;
  double residual = 0;  ///< sum of forces, and of moments / half diagonal, over the largest force in play
};

/// Working store of one thread, used again from call to call.
class FlexiblePlateScratch {
 public:
  FlexiblePlateScratch();
  ~FlexiblePlateScratch();
  FlexiblePlateScratch(FlexiblePlateScratch&&) noexcept;
  FlexiblePlateScratch& operator=(FlexiblePlateScratch&&) noexcept;

  struct Store;
  Store& store() { return *store_; }

 private:
  std::unique_ptr<Store> store_;
};

/// Tension of each fastener (lbf, never negative) into `tension` (length of `fasteners`).
/// Results vary continuously with loads, thickness, stiffnesses and positions; they step a little where the number of
/// elements changes with the outline. Bending moments under the edge of a lug or fastener depend on the mesh.
/// Resolved well while an element is no longer than about twice (4 rigidity / base_modulus)^(1/4); beyond that the
/// balance still closes, but the pressure ripples and a solve takes longer.
/// Status: ok, not_finite, wrong_size, off_plate, no_lever (a moment on a patch without extent that way),
/// no_equilibrium, not_converged; on any but ok the tensions are zero.
FlexiblePlateResult solve_flexible_plate(const FlexiblePlate& plate, std::span<const TensionFastener> fasteners,
                                         const PlateLoad& load, std::span<double> tension,
                                         FlexiblePlateScratch& scratch);

}  // namespace jambcheck::mechanics
