#pragma once
// Whether the rules leave no case without an answer: every combination of the words that decide is led through them.
#include <string>
#include <vector>

#include "rules/word_walk.h"

namespace jambcheck::rules {

enum class FindingKind {
  nothing_required,  ///< no line of required/1 speaks of this kind of case
  not_applicable,    ///< a rule is required where it does not apply
  no_value,          ///< an applicable rule reads a key that no rule, default or question provides
  no_question,       ///< a word decides, and when it is missing nobody asks for it
  unknown_word,      ///< an applicable rule reads a word that it does not know
  same_code,         ///< two required checks of one case share an address
  dead_rule,         ///< a rule applies to no case at all
  dead_line,         ///< a line of required/1 speaks of no case
  unread_key,        ///< declared, but nothing reads it; from here on notes, that leave no case without an answer
  no_find,           ///< a question that does not say how to find out
  aside,             ///< a rule that no required check reads
};
/// A note leaves no case without an answer; everything else is a fault of the rules.
inline bool is_note(FindingKind kind) { return kind >= FindingKind::unread_key; }

struct Finding {
  FindingKind kind = FindingKind::nothing_required;
  std::string subject;         ///< a rule, a key or the words of a required line
  std::string other;           ///< the rule that reads the key; the other check of that code
  std::vector<WordSets> when;  ///< the cases that it comes up in; empty: not a matter of cases
  text::Place place;           ///< of the subject in its file
};

struct Completeness {
  std::vector<std::string> words;  ///< the keys whose word decides which rules apply
  double combinations = 0;         ///< of all their words
  std::size_t walked = 0;          ///< combinations walked; words that nothing hangs on are not told apart
  std::size_t kinds = 0;           ///< kinds of case that required/1 tells apart
  std::size_t checked = 0;         ///< of these, with limit states that are worked out
  std::size_t refused = 0;         ///< of these, ending in a refusal that says why
  std::vector<Finding> findings;   ///< by kind, then by subject
  [[nodiscard]] bool clean() const;
};

Completeness complete(const RuleSet& set);

}  // namespace jambcheck::rules
