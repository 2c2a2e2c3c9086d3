#include "rules/word_walk.h"

#include <algorithm>
#include <set>

namespace jambcheck::rules {
namespace {

using Sets = std::map<std::string, std::set<std::string>, std::less<>>;

/// Joins the combinations that differ in `key` alone; a key whose word never matters is dropped.
std::vector<Sets> fold_one(const std::vector<Sets>& lines, const std::string& key, std::size_t words_of_key) {
  std::map<Sets, std::set<std::string>> alike;
  std::vector<Sets> out;
  for (const Sets& line : lines) {
    const auto it = line.find(key);
    if (it == line.end()) {
      out.push_back(line);
      continue;
    }
    Sets rest = line;
    rest.erase(key);
    alike[rest].insert(it->second.begin(), it->second.end());
  }
  for (const auto& [rest, words] : alike) {
    Sets line = rest;
    if (words.size() < words_of_key) line[key] = words;
    out.push_back(std::move(line));
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

}  // namespace

std::vector<WordSets> fold(const RuleSet& set, const std::vector<Words>& combinations) {
  std::vector<Sets> lines;
  std::set<std::string> keys;
  for (const Words& words : combinations) {
    Sets line;
    for (const auto& [key, word] : words) line[key] = {word}, keys.insert(key);
    lines.push_back(std::move(line));
  }
  for (std::size_t before = lines.size() + 1; lines.size() < before;) {
    before = lines.size();
    for (const auto& key : keys) {
      const Key* info = set.key(key);
      lines = fold_one(lines, key, info ? info->words.size() : 0);
    }
  }
  std::vector<WordSets> out;
  for (const Sets& line : lines) {
    WordSets folded;
    for (const auto& [key, words] : line) folded[key].assign(words.begin(), words.end());
    out.push_back(std::move(folded));
  }
  return out;
}

bool WordWalk::impossible(const Words& words) const {
  const auto& never = set_.cases().never;
  return std::any_of(never.begin(), never.end(), [&](const Formula& f) { return decide(f, nullptr, words, nullptr) == Truth::yes; });
}

void WordWalk::each(const Words& words, const NextKey& next, const Settled& settled) {
  const std::string key = next(words);
  const Key* info = key.empty() ? nullptr : set_.key(key);
  if (!info) {
    ++walked_;
    settled(words);
    return;
  }
  Words more = words;
  for (const auto& word : info->words) {
    more[key] = word;
    if (!impossible(more)) each(more, next, settled);
  }
}

}  // namespace jambcheck::rules
