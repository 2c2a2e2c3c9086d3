#include "opening/words.h"

#include <algorithm>
#include <cctype>

#include "text/suggest.h"

namespace jambcheck::opening {
namespace {

constexpr std::size_t kShownWords = 14;  // more would push the rest of the message off the screen

struct OwnWord {
  std::string_view list, word, also;
};
constexpr OwnWord kOwnWords[] = {
#define JAMBCHECK_WORD(list, word, also) {list, word, also},
#include "opening/words.def"
#undef JAMBCHECK_WORD
};

void add_spellings(WordList& list, std::string_view also, std::string_view word) {
  while (!also.empty()) {
    const auto bar = also.find('|');
    list.aliases.emplace_back(also.substr(0, bar), word);
    also = bar == std::string_view::npos ? std::string_view() : also.substr(bar + 1);
  }
}

WordList own_list(std::string_view name) {
  WordList list;
  for (const auto& own : kOwnWords) {
    if (own.list != name) continue;
    list.words.emplace_back(own.word);
    add_spellings(list, own.also, own.word);
  }
  return list;
}

}  // namespace

WordList word_list(std::string_view name, const rules::RuleSet& rules) {
  const std::string_view rest = name.substr(std::min<std::size_t>(4, name.size()));
  if (name.substr(0, 4) == "own:") return own_list(rest);
  WordList list;
  const rules::Key* key = rules.key(rest);
  list.open = key == nullptr || key->words.empty();
  if (!list.open) {
    list.words = key->words;
    list.aliases = key->aliases;
  }
  return list;
}

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool gap = c == ' ' || c == '\t' || c == '-' || c == '_';
    if (!gap)
      out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    else if (!out.empty() && out.back() != '_')
      out += '_';
  }
  while (!out.empty() && out.back() == '_') out.pop_back();
  return out;
}

std::string choose(const WordList& list, std::string_view text) {
  if (list.open) return std::string(text);
  for (const auto& word : list.words)
    if (word == text) return word;
  for (const auto& [alias, word] : list.aliases)
    if (alias == text) return word;
  const std::string wanted = plain(text);
  std::string found;
  const auto consider = [&](const std::string& spelling, const std::string& word) {
    if (plain(spelling) != wanted || found == word) return true;
    const bool first = found.empty();
    found = word;
    return first;
  };
  for (const auto& word : list.words)
    if (!consider(word, word)) return "";
  for (const auto& [alias, word] : list.aliases)
    if (!consider(alias, word)) return "";
  return found;
}

std::string suggest_word(const WordList& list, std::string_view text) {
  std::vector<std::string> all = list.words;
  for (const auto& [alias, word] : list.aliases) all.push_back(alias);
  const std::string best = text::nearest(text, all);
  if (!best.empty()) return "did you mean " + best + "?";
  if (list.words.size() <= kShownWords) return "write one of: " + text::join(list.words);
  const std::vector<std::string> some(list.words.begin(),
                                      list.words.begin() + static_cast<std::ptrdiff_t>(kShownWords));
  return "write one of: " + text::join(some) + " and " + std::to_string(list.words.size() - kShownWords) + " more";
}

}  // namespace jambcheck::opening
