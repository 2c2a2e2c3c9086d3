#pragma once
// Inside of holes: which bit, how deep, how tight. Sizes come from rules or from the anchor's data, bits from the stock.
#include "verdict/holes.h"
#include "verdict/key_values.h"

namespace jambcheck::verdict {

Drill drill_for(const rules::RuleSet& set, rules::PlanCache& plans, const Connection& link);

}  // namespace jambcheck::verdict
