#pragma once
// Inside of verdict: texts that the full check and the light way both tell.
#include <string>
#include <tuple>
#include <vector>

#include "rules/plan.h"
#include "verdict/connection.h"

namespace jambcheck::verdict {

struct AssumedValue {
  std::string what, value, why;
  friend bool operator<(const AssumedValue& a, const AssumedValue& b) { return std::tie(a.what, a.value, a.why) < std::tie(b.what, b.value, b.why); }
};
/// What the plan took for want of a given value, as far as a check that was made hangs on it.
std::vector<AssumedValue> assumed_by(const rules::Plan& plan, const rules::RuleSet& set, const Connection& connection);

/// "left guide: lag screw pulled straight out of wood; D + 0.6W, wind inward"
std::string why_it_governs(const std::string& connection, const rules::Rule& rule, const std::string& load_case);

}  // namespace jambcheck::verdict
