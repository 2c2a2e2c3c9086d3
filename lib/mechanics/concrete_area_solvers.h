#pragma once
// Areas of concrete that break out with anchors, as solvers for rule files.
#include <memory>

#include "program/native.h"

namespace jambcheck::mechanics {

/// projected_area: area of the concrete that a group in tension (or in pryout: the loads are sizes of shear) pulls out, in^2,
/// depth after the limit for near edges, in, least edge distance, eccentricities, total load, lbf, and the row along the
/// nearest edge. With a count of holes a bracket; without, one anchor of a line. No value where a number is missing.
std::unique_ptr<program::NativeSolver> projected_area_solver();

/// edge_breakout_area: area broken out toward one edge (1 loaded, 2 other, 3 top, 4 bottom), front and rear row, for the load
/// toward the edge and for the load along it. No value where a number is missing.
std::unique_ptr<program::NativeSolver> edge_breakout_solver();

}  // namespace jambcheck::mechanics
