#include "rules/given.h"

#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using text::Problem;

units::Expected<Given> parse_given(const RuleSet& set, std::string_view key, std::string_view text) {
  const Key* info = set.key(key);
  if (!info) {
    std::vector<std::string> known;
    for (const auto& [name, k] : set.keys()) known.push_back(name);
    return tl::make_unexpected(Problem{MessageId::K101, {std::string(key), text::suggestion(key, known)}, 0, 0});
  }
  Given given;
  if (text::trim(text) == "unknown") {
    given.unknown = true;
    return given;
  }
  if (info->is_word) {
    const std::string* word = info->canonical_word(text::trim(text));
    if (!word) {
      std::vector<std::string> known = info->words;
      for (const auto& [alias, w] : info->aliases) known.push_back(alias);
      return tl::make_unexpected(Problem{MessageId::K102, {std::string(key), std::string(text), text::suggestion(text, known)}, 0, 0});
    }
    given.is_word = true;
    given.word = *word;
    given.value = static_cast<double>(set.symbols().find(*word));
    return given;
  }
  const auto quantity = units::parse_quantity(text);
  if (!quantity) return tl::make_unexpected(quantity.error());
  if (quantity->shown.name == "1" && !info->unit.dimension.pure())  // 12 what?
    return tl::make_unexpected(Problem{MessageId::U010, {std::string(text::trim(text)), "a unit such as " + info->unit.name}, 0, 0});
  const auto value = units::convert(*quantity, info->unit.dimension, key);
  if (!value) return tl::make_unexpected(value.error());
  given.value = *value;
  return given;
}

void set_word(const RuleSet& set, const Key& key, std::string_view word, Case& values) {
  if (const std::string* canonical = key.canonical_word(word)) values.set(key, {static_cast<double>(set.symbols().find(*canonical)), true, false, *canonical});
}

}  // namespace jambcheck::rules
