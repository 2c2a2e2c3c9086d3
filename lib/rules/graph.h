#pragma once
// Which rule reads from which: order, loops, gaps and doubles. The only file that includes Boost.Graph is graph.cpp.
#include <string>
#include <utility>
#include <vector>

namespace jambcheck::rules {

struct Order {
  std::vector<std::size_t> sequence;            ///< nodes, each after all it reads from; empty when there is a loop
  std::vector<std::vector<std::size_t>> loops;  ///< each a closed walk: first node, ..., last node (which leads to the first)
};

/// `edges`: (from, to) where `to` reads from `from`.
Order order(std::size_t nodes, const std::vector<std::pair<std::size_t, std::size_t>>& edges);

/// The nodes from which any of `targets` can be reached, themselves included.
std::vector<bool> needed_for(std::size_t nodes, const std::vector<std::pair<std::size_t, std::size_t>>& edges,
                             const std::vector<std::size_t>& targets);

}  // namespace jambcheck::rules
