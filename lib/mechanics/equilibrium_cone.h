#pragma once
// Can pulls at given points and pushes anywhere on a rectangle balance a load?
#include <span>

#include "mechanics/plane.h"

namespace jambcheck::mechanics {

/// True when pulls (>= 0) at the fasteners and pressure (>= 0) on the outline can balance `load`.
/// Finite input, fasteners on the outline.
bool can_balance(const Rectangle& outline, std::span<const TensionFastener> fasteners, const PlateLoad& load);

}  // namespace jambcheck::mechanics
