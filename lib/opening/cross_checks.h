#pragma once
// Inside of opening: facts of one opening that contradict each other.
#include "opening/model.h"
#include "rules/rule_set.h"

namespace jambcheck::opening {

/// Compares what was read, copied facts included, for both sides. What only repeats the original's contradiction is not
/// reported again.
void check_contradictions(Opening& opening, const rules::RuleSet& rules, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
