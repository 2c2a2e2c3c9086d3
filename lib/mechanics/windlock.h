#pragma once
// A curtain held at both ends by windlocks: how far it sags and how hard it pulls on the jambs.
//
// The curtain hangs as a parabola between the two jambs. Its extra length comes from the travel of the locks before
// they bear, from stretch and from the give of the jambs; what its own bending carries doesn't pull. All values are per
// unit height of door.
#include <limits>

#include "mechanics/status.h"

namespace jambcheck::mechanics {

struct WindlockCurtain {
  double pressure = 0;  ///< psi, >= 0
  double width = 0;     ///< between the locks, in, > 0
  double gap = 0;       ///< travel of one lock before it bears, in, >= 0
  double axial = std::numeric_limits<double>::infinity();  ///< E A across the opening, lbf/in; infinite: no stretch
  double bending = 0;                                      ///< E I across the opening, lbf in; 0: limp
  double jamb = std::numeric_limits<double>::infinity();   ///< force for unit give of one jamb, psi; infinite: rigid
};

struct WindlockResult {
  Status status = Status::ok;
  double sag = 0;       ///< at mid-width, in; infinite where nothing holds a limp curtain
  double pull = 0;      ///< along the wall on one jamb, lbf/in; 0 where the locks don't bear
  double residual = 0;  ///< |extra length needed - extra length there| over the extra length needed
};

/// Status: ok, not_finite, wrong_size (width <= 0, anything negative), no_equilibrium (no gap, no stretch and no give: a
/// straight curtain carries nothing sideways). The pull grows with the pressure, falls with the gap and with any give.
WindlockResult solve_windlock(const WindlockCurtain& curtain);

}  // namespace jambcheck::mechanics
