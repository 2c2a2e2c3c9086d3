#pragma once
// What must be found out before an opening can be judged, in the words of the keys that are missing.
#include <string>

#include "opening/answers.h"
#include "verdict/check.h"

namespace jambcheck::verdict {

/// The question about a key, with no fields yet.
Question question_of(const rules::RuleSet& set, const std::string& key);

/// Takes up what the checks of one link say beside their ratios: questions, flags and notes, each once.
void take_reasons(const rules::RuleSet& set, const ConnectionResult& link, opening::Asker asker, OpeningResult& out);

/// Drops the questions that can't be asked yet, since other answers decide whether they matter.
void leave_out_what_follows(std::vector<Question>& questions);

}  // namespace jambcheck::verdict
