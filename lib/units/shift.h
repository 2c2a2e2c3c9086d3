#pragma once
// Inside of units: problems of a part of a text, told in places of the whole.
#include <cstddef>

#include "text/diagnostic.h"

namespace jambcheck::units {

inline text::Problem shifted(text::Problem problem, std::size_t by) {
  problem.offset += static_cast<std::uint32_t>(by);
  return problem;
}

}  // namespace jambcheck::units
