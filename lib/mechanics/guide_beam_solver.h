#pragma once
// A guide on its real fasteners as a solver for rule files.
#include <memory>

#include "program/native.h"

namespace jambcheck::mechanics {

/// guide_beam: the height of guide that its most loaded fastener holds, from the guide as a continuous beam on unyielding
/// supports at the real hole heights, loaded over the height of the opening. Where the heights are not known, the larger
/// of one spacing and half a spacing plus the overhang.
std::unique_ptr<program::NativeSolver> guide_beam_solver();

}  // namespace jambcheck::mechanics
