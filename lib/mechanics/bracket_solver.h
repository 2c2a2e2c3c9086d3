#pragma once
// A bracket plate on the wall as a solver for rule files.
#include <memory>

#include "program/native.h"

namespace jambcheck::mechanics {

/// bracket_plate: pull, sideways load and its direction on one fastener of a bracket plate.
/// Off the wall: the plate bends, fasteners only pull, the base only presses. How hard the base is against the fasteners
/// is not known well, so a soft and a hard base are solved and the larger pull counts. In the plane: the elastic group.
std::unique_ptr<program::NativeSolver> bracket_solver();

}  // namespace jambcheck::mechanics
