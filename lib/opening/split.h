#pragma once
// Inside of opening: texts with a times sign in them, and the units of quantities by name.
#include <cstdint>
#include <string_view>
#include <vector>

#include "units/quantity.h"

namespace jambcheck::opening {

/// A part of a text without the blanks around it.
struct Part {
  std::string_view text;
  std::uint32_t offset = 0;
};

Part trimmed(std::string_view text, std::size_t begin, std::size_t end);

/// The parts between the signs x, X, × and the word `by`.
std::vector<Part> split_at_times(std::string_view text);

/// parse_length of a part, its problems placed in the whole text.
units::Expected<units::Quantity> length_of(const Part& part);

/// A coordinate: parse_length with a sign in front, as -2" or -1 1/2 in.
units::Expected<units::Quantity> signed_length(std::string_view text);

/// The dimension of a unit of the list.
units::Dimension dimension_of(std::string_view unit);

}  // namespace jambcheck::opening
