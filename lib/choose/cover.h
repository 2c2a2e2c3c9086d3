#pragma once
// The fewest fastenings that serve all: exact set cover.
#include <cstddef>
#include <vector>

namespace jambcheck::choose {

struct Cover {
  std::vector<std::size_t> chosen;  ///< indices of sets, upward
  bool exact = true;                ///< false: the search was cut short, this is the best so far
  std::vector<std::size_t> left;    ///< elements that no set has
};

/// `sets[i]` lists the elements (0 .. elements-1) that set i serves. Of covers of the same size the one whose sets come
/// first in the list is taken. `most` nodes are searched; more would be cut short.
Cover fewest(const std::vector<std::vector<std::size_t>>& sets, std::size_t elements, std::size_t most = 2000000);

}  // namespace jambcheck::choose
