#pragma once
// Words of fields: the closed lists of words.def and the words of the rules' keys, read with some tolerance.
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rules/rule_set.h"

namespace jambcheck::opening {

struct WordList {
  std::vector<std::string> words;
  std::vector<std::pair<std::string, std::string>> aliases;  ///< other spelling -> word
  bool open = false;                                         ///< no list is known: any word is taken as it stands
};

/// The list that `name` ("key:member.species", "own:yes_no") stands for; open when the rules have no such key.
WordList word_list(std::string_view name, const rules::RuleSet& rules);

/// The word of the list that `text` means, or empty. Capitals, blanks, - and _ make no difference, unless that would
/// leave a choice.
std::string choose(const WordList& list, std::string_view text);

/// Small letters, blanks and - as _: "Self-drilling  screw" -> "self_drilling_screw".
std::string plain(std::string_view text);

/// "did you mean SPF?" or the words, cut short when there are many.
std::string suggest_word(const WordList& list, std::string_view text);

}  // namespace jambcheck::opening
