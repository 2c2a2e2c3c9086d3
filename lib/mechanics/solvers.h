#pragma once
// The mechanics of this folder as solvers that rule files can name.
#include "program/native.h"

namespace jambcheck::mechanics {

/// fastener_group: pull, sideways load and its direction on one fastener of a bracket plate.
/// windlock: pull of the windlocks on one jamb and sag of the curtain, softest and stiffest jamb.
void add_solvers(program::NativeRegistry& registry);

}  // namespace jambcheck::mechanics
