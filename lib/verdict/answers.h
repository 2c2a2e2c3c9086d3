#pragma once
// Openings of which not everything is known: every answer is worked out, and the worst one counts.
#include <functional>
#include <vector>

#include "verdict/check.h"

namespace jambcheck::verdict {

/// Checks one opening that leaves nothing to choose.
using CheckOne = std::function<OpeningResult(const opening::Project&, const opening::Opening&)>;

/// The worst of all combinations of the listed values, check by check, with what each value gives at its worst.
OpeningResult check_each(const opening::Project& project, const opening::Opening& opening, const CheckOne& check_one);

/// For an opening with questions: what each word that would answer one of them gives. Long lists of words are left out.
void try_answers(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, const CheckOne& check_one, OpeningResult& result);

/// For each word that was assumed: what the other words of its list would give, so that it is seen which ones matter.
void try_assumed(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, const CheckOne& check_one, OpeningResult& result);

}  // namespace jambcheck::verdict
