#include "verdict/key_values.h"

#include <algorithm>
#include <limits>

#include "rules/evaluation.h"
#include "rules/given.h"

namespace jambcheck::verdict {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

using Producer = std::pair<const rules::Rule*, const rules::Output*>;

/// The rule that defines a key in a case with these words, and as what; or nothing.
Producer producer_of(const rules::RuleSet& set, std::string_view key, const rules::Words& words) {
  const rules::Key* info = set.key(key);
  if (!info) return {};
  for (const auto& producer : info->producers)
    if (rules::applies(*producer.first, set, words, nullptr) == rules::Truth::yes) return producer;
  return {};
}

bool is_given(const rules::Case& values, std::string_view key) {
  const auto* given = values.find(key);
  return given && !given->unknown;
}

}  // namespace

KeyValues key_values(const rules::RuleSet& set, rules::PlanCache& plans, const rules::Case& values, const std::vector<std::string_view>& keys) {
  const auto words = rules::request_for(set, values, {}).words;
  std::vector<const rules::Rule*> targets;
  std::map<std::string, Producer> producers;
  KeyValues out;
  for (const auto key : keys) {
    const bool given = is_given(values, key);
    out[std::string(key)] = given ? values.find(key)->value : kNone;
    const Producer producer = given ? Producer{} : producer_of(set, key, words);
    if (!producer.first) continue;
    producers[std::string(key)] = producer;
    if (std::find(targets.begin(), targets.end(), producer.first) == targets.end()) targets.push_back(producer.first);
  }
  if (targets.empty()) return out;
  const rules::Evaluation run(plans.get(rules::request_for(set, values, targets)), values);
  for (const auto& [key, producer] : producers) out[key] = run.value(*producer.first, producer.second->step);
  return out;
}

rules::Case with_word(const rules::RuleSet& set, rules::Case values, const std::string& key, std::string_view word) {
  if (const rules::Key* info = set.key(key)) rules::set_word(set, *info, word, values);
  return values;
}

}  // namespace jambcheck::verdict
