#pragma once
// One cell of a shipped table, for the little that a project must be read by before any rule runs.
#include <limits>
#include <span>
#include <string_view>

#include "rules/rule_set.h"

namespace jambcheck::rules {

/// NaN when the rule set has no such table, column or cell. `at`: canonical numbers or symbols, one an axis.
inline double cell(const RuleSet& set, std::string_view id, std::string_view column, std::span<const double> at) {
  const table::Table* table = set.table(id);
  const table::Column* c = table ? table->column(column) : nullptr;
  return c ? table::find(*table, *c, at).value : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace jambcheck::rules
