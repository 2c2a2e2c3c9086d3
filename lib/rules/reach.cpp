#include "rules/reach.h"

#include <algorithm>

#include "expr/tree.h"

namespace jambcheck::rules {
namespace {

/// Whether a reader can do without anybody giving the key: a default, a question, or it need not be there.
bool answers_itself(const Input& input, const Key& key) {
  return input.optional || input.assumed || !input.assumed_word.empty() || key.assumed || !key.assumed_word.empty() || !key.ask.empty();
}

}  // namespace

Reach::Reach(const RuleSet& set, WordWalk& walk, Findings& findings) : set_(set), walk_(walk), findings_(findings) { collect_touched(); }

/// Rules stand after all that they read from, so one pass is enough.
void Reach::collect_touched() {
  touched_.resize(set_.rules().size());
  for (const auto& rule : set_.rules()) {
    auto& keys = touched_[static_cast<std::size_t>(rule->index)];
    for (const auto& input : rule->inputs) {
      if (set_.key(input.key)->decides) keys.insert(input.key);
      for (const auto& [producer, output] : set_.key(input.key)->producers) {
        if (producer == rule.get()) continue;
        for (const auto& key : deciding_keys(*producer, set_)) keys.insert(key);
        const auto& above = touched_[static_cast<std::size_t>(producer->index)];
        keys.insert(above.begin(), above.end());
      }
      for (const auto& line : set_.cases().has)
        if (line.when && std::find(line.keys.begin(), line.keys.end(), input.key) != line.keys.end())
          for (const auto& name : expr::names(line.when->tree))
            if (set_.key(name)) keys.insert(name);
    }
    close_over_never(keys);
  }
}

/// Words that exclude each other are kept together, or a combination that can't be would be walked.
void Reach::close_over_never(std::set<std::string>& keys) const {
  for (std::size_t before = keys.size() + 1; keys.size() != before;) {
    before = keys.size();
    for (const auto& never : set_.cases().never) {
      const auto names = expr::names(never.tree);
      if (std::none_of(names.begin(), names.end(), [&](const std::string& n) { return keys.count(n) != 0; })) continue;
      for (const auto& name : names)
        if (set_.key(name)) keys.insert(name);
    }
  }
}

Words Reach::only_touched(const Rule& rule, const Words& words) const {
  Words out;
  for (const auto& key : touched_[static_cast<std::size_t>(rule.index)])
    if (const auto it = words.find(key); it != words.end()) out.insert(*it);
  return out;
}

void Reach::from(const Rule& rule, const Words& words) {
  reached_.insert(&rule);
  const Words here = only_touched(rule, words);
  std::string state = std::to_string(rule.index);
  for (const auto& [key, word] : here) state += ";" + key + "=" + word;
  if (!visited_.insert(std::move(state)).second) return;
  for (const auto& input : rule.inputs) resolve(rule, input, here);
}

/// The rule that gives a key; null with nothing in `open`: none does.
const Rule* Reach::provider(const Key& key, const Words& words, std::vector<std::string>* open) const {
  for (const auto& [producer, output] : key.producers) {
    if (producer->status == "withdrawn") continue;
    if (rules::applies(*producer, set_, words, open) == Truth::yes) return producer;
  }
  return nullptr;
}

Truth Reach::case_has(const Key& key, const Words& words, std::vector<std::string>* open) const {
  Truth out = Truth::no;
  for (const auto& line : set_.cases().has) {
    if (std::find(line.keys.begin(), line.keys.end(), key.name) == line.keys.end()) continue;
    const Truth truth = line.when ? decide(*line.when, nullptr, words, open) : Truth::yes;
    if (truth == Truth::yes) return Truth::yes;
    if (truth == Truth::open) out = Truth::open;
  }
  return out;
}

void Reach::resolve(const Rule& rule, const Input& input, const Words& words) {
  const Key& key = *set_.key(input.key);
  if (const auto word = words.find(key.name); word != words.end() && input.is_word)
    if (std::find(input.words->begin(), input.words->end(), word->second) == input.words->end())
      findings_.add(FindingKind::unknown_word, key.name, rule.id, input.place, &words);
  if (words.count(key.name)) return;  // the case says it
  const bool free = answers_itself(input, key);
  const auto next = [&](const Words& known) -> std::string {
    std::vector<std::string> open;
    if (provider(key, known, &open)) return "";
    if (open.empty() && !free) (void)case_has(key, known, &open);
    return open.empty() ? "" : open.front();
  };
  walk_.each(words, next, [&](const Words& known) {
    const Rule* giver = provider(key, known, nullptr);
    if (giver && giver != &rule) from(*giver, known);
    if (!giver && !free && case_has(key, known, nullptr) != Truth::yes)
      findings_.add(FindingKind::no_value, key.name, rule.id, input.key_place, &known);
  });
}

}  // namespace jambcheck::rules
