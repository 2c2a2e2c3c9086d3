#pragma once
// Inside of holes: what is usually on the shelf (tables/fasteners).
#include <string_view>
#include <vector>

#include "rules/rule_set.h"

namespace jambcheck::verdict {

/// Lengths of a kind of fastener, shortest first; empty when the table has none of this kind.
std::vector<double> stock_lengths(const rules::RuleSet& set, std::string_view kind);
/// Drill bits for wood and steel, smallest first.
std::vector<double> stock_drills(const rules::RuleSet& set);

}  // namespace jambcheck::verdict
