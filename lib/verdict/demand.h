#pragma once
// Inside of verdict: what a case must be checked for, and how the worst of several checks is told.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "rules/judge.h"
#include "verdict/connection.h"

namespace jambcheck::verdict {

/// What a case must be checked for: the required rules and what they say must be beside them.
struct Demanded {
  std::vector<const rules::Rule*> rules;
  std::vector<std::string> open;  ///< words that must be known before it is known what is required
  bool covered = false;           ///< some line speaks of this very fastening, not only of what stands beside it
};
Demanded demanded(const rules::RuleSet& set, const rules::Words& words);

/// The whole case: what all load cases share, and what this one says.
rules::Case merged(const Connection& connection, const LoadCase& load_case);

constexpr double kTie = 1 + 1e-9;  ///< nearer than this two ratios are one: the first case counts, in any units

/// Whether `state` with `ratio` takes the place of what decided so far, when something did.
inline bool decides(rules::State state, double ratio, rules::State so_far, double its_ratio) {
  return state > so_far || (state == so_far && (std::isnan(its_ratio) ? false : std::isnan(ratio) || ratio > its_ratio * kTie));
}

/// A check on lengths says how a hole lies, a count that there are enough, a gate that nothing stands in the way: none of
/// them how much strength is used. While all hold, strength is what decides.
bool is_no_strength(const rules::Rule& rule);

/// W2 before W10.
bool code_before(const std::string& a, const std::string& b);

}  // namespace jambcheck::verdict
