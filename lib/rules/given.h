#pragma once
// Values of a case from text: `fastener.diameter: 1/2 in`, `base.material: wood`, `member.species: unknown`.
#include "rules/judge.h"

namespace jambcheck::rules {

/// Reads `text` as a value of `key`. Problems: K101 no such key, K102 no such word, U... units, U020 dimension.
units::Expected<Given> parse_given(const RuleSet& set, std::string_view key, std::string_view text);

/// Says a word of a key, in any of its spellings; nothing when it is none of the key's words.
void set_word(const RuleSet& set, const Key& key, std::string_view word, Case& values);

}  // namespace jambcheck::rules
