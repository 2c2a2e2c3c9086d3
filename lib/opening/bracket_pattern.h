#pragma once
// Where the holes of a bracket fall, and what their pattern means along and across the grain of an upright jamb.
#include <string>
#include <vector>

#include "opening/model.h"

namespace jambcheck::opening {

struct PatternHole {
  double x = 0, z = 0;  ///< in; x along the wall, z up, from the middle of the pattern unless holes are listed
};

struct Pattern {
  std::vector<PatternHole> holes;     ///< empty when the project does not say where they are
  std::size_t count = 0;       ///< how many; 0 when not said
  std::size_t along = 1;       ///< most holes on one upright line
  std::size_t across = 1;      ///< most holes on one level line
  double spacing_along = 0;    ///< least distance up the wall between neighbours on a line; 0 where there is none
  double spacing_across = 0;
};

/// From `bracket.holes`, or count, columns, rows, across and along.
Pattern bracket_pattern(const Opening& opening, Side side);

/// Least distance and largest number on a line, for holes in any places.
void measure(Pattern& pattern);

}  // namespace jambcheck::opening
