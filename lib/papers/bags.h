#pragma once
// The same count by opening and by phase.
#include <string>
#include <vector>

#include "papers/takeoff.h"

namespace jambcheck::papers {

/// Pieces for one opening, its parts together.
struct Bag {
  const Use* first = nullptr;  ///< names the opening and the item
  double net = 0;
  std::string parts;           ///< "left guide 4, right guide 4"
};
std::vector<Bag> bags_of(const Takeoff& takeoff);

/// Pieces for one floor of one phase.
struct Load {
  std::string phase, floor, item;
  double net = 0;
};
std::vector<Load> loads_of(const Takeoff& takeoff);

}  // namespace jambcheck::papers
