#pragma once
// Conditions on words, decided before any number is known: which rules belong to a case at all.
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "rules/rule_set.h"

namespace jambcheck::rules {

/// The words of a case that are known: key -> word.
using Words = std::map<std::string, std::string, std::less<>>;

enum class Truth { no, yes, open };

/// Decides a word-only formula; `open` when it hangs on a word that is not known. `undecided` collects those keys.
/// Names of the formula are case keys, or word inputs of `rule` (may be null).
Truth decide(const Formula& formula, const Rule* rule, const Words& words, std::vector<std::string>* undecided);

/// Whether a rule belongs to a case: its method, its editions and its not-applicable lines together.
/// `why_not` gets the line that says no.
Truth applies(const Rule& rule, const RuleSet& set, const Words& words, std::vector<std::string>* undecided,
              std::string* why_not = nullptr);

/// Every word key that decides whether `rule` applies.
std::vector<std::string> deciding_keys(const Rule& rule, const RuleSet& set);

/// True when a formula is made of word comparisons, and, or, not alone.
bool word_only(const Formula& formula);

}  // namespace jambcheck::rules
