#pragma once
// How a solver ended. Data of a case never throws: the status says why there is no answer.

namespace jambcheck::mechanics {

enum class Status {
  ok,
  not_finite,      ///< a number handed in is NaN or infinite where that has no meaning
  wrong_size,      ///< a length, stiffness or count is zero or negative, or spans don't fit together
  off_plate,       ///< a fastener or the load patch lies outside the plate
  no_fastener,     ///< nothing to take the load
  no_lever,        ///< a moment on fasteners (or load points) that all lie at one place
  no_equilibrium,  ///< tension-only fasteners and a compression-only base can't balance this load
  unstable,        ///< supports at fewer than two places: the beam turns
  indeterminate,   ///< two unyielding supports at one place: the split between them is unknown
  not_converged,   ///< the iteration ended above its tolerance
};

}  // namespace jambcheck::mechanics
