#pragma once
// Values of keys in one case: as given, or worked out by the rule that defines them there.
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "rules/judge.h"

namespace jambcheck::verdict {

/// Canonical values; NaN for a key that the case does not give and no rule can work out.
using KeyValues = std::map<std::string, double, std::less<>>;
KeyValues key_values(const rules::RuleSet& set, rules::PlanCache& plans, const rules::Case& values, const std::vector<std::string_view>& keys);

/// A case in which `key` is this word; unchanged when the key has no such word.
rules::Case with_word(const rules::RuleSet& set, rules::Case values, const std::string& key, std::string_view word);

}  // namespace jambcheck::verdict
