#pragma once
// Areas of masonry at one anchor as a solver for rule files.
#include <memory>

#include "program/native.h"

namespace jambcheck::mechanics {

/// masonry_area: projected areas of tension and shear breakout of one anchor, in^2, and its distances to the edges, in.
/// With a count it is one of a bracket's holes; without, one of a line with equal spacing up the wall.
std::unique_ptr<program::NativeSolver> masonry_area_solver();

}  // namespace jambcheck::mechanics
