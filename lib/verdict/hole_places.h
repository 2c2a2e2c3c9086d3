#pragma once
// Inside of holes: the places of the holes of guides, brackets and boards.
#include "verdict/holes.h"
#include "verdict/key_values.h"

namespace jambcheck::verdict {

/// What the places of one link are worked out from.
struct PlaceInput {
  const opening::Opening& opening;
  const rules::RuleSet& set;
  rules::PlanCache& plans;
  const Connection& link;
  opening::Side side;
  bool bracket = false;
  HoleList& list;  ///< gets what is assumed and what is missing
};

/// Fills `row.holes` and `row.count`.
void place_guide(const PlaceInput& in, HoleRow& row);
void place_bracket(const PlaceInput& in, HoleRow& row);
void place_board(const PlaceInput& in, HoleRow& row);

/// Nearest hole of the same side and link, over all rows.
void find_neighbours(HoleList& list);

}  // namespace jambcheck::verdict
