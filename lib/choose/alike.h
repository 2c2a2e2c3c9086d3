#pragma once
// Openings that are the same to every check: one answer does for all of them. A schedule of hundreds has a few dozen.
#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

#include "opening/model.h"

namespace jambcheck::choose {

/// Places in `openings`, alike ones together, each group and the groups in the order of the openings. Alike: the same
/// facts and open choices to the last bit and in the same units, but for those that lists alone read.
std::vector<std::vector<std::size_t>> alike(std::span<const opening::Opening* const> openings);

/// Fields that no check reads: quantity, location, floor ...
std::span<const std::string_view> fields_of_lists();

}  // namespace jambcheck::choose
