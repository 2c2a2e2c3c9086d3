#pragma once
// Openings that are the same to every check: one answer does for all of them. A schedule of hundreds has a few dozen.
#include <cstddef>
#include <span>
#include <vector>

#include "opening/model.h"

namespace jambcheck::choose {

/// Places in `openings`, alike ones together, each group and the groups in the order of the openings. Alike: the same
/// facts and open choices to the last bit and in the same units, but for opening::naming_fields().
std::vector<std::vector<std::size_t>> alike(std::span<const opening::Opening* const> openings);

}  // namespace jambcheck::choose
