#pragma once
// From a rule that applies to all it reads: who gives each key, for every combination of the words that matter there.
#include <set>
#include <unordered_set>

#include "rules/findings.h"

namespace jambcheck::rules {

class Reach {
 public:
  Reach(const RuleSet& set, WordWalk& walk, Findings& findings);
  /// Goes upstream from a rule that applies to the case with these words. Finds no_value and unknown_word.
  void from(const Rule& rule, const Words& words);
  [[nodiscard]] bool reached(const Rule& rule) const { return reached_.count(&rule) != 0; }

 private:
  void collect_touched();
  void close_over_never(std::set<std::string>& keys) const;
  [[nodiscard]] Words only_touched(const Rule& rule, const Words& words) const;
  void resolve(const Rule& rule, const Input& input, const Words& words);
  [[nodiscard]] const Rule* provider(const Key& key, const Words& words, std::vector<std::string>* open) const;
  [[nodiscard]] Truth case_has(const Key& key, const Words& words, std::vector<std::string>* open) const;

  const RuleSet& set_;
  WordWalk& walk_;
  Findings& findings_;
  std::vector<std::set<std::string>> touched_;  ///< per rule: words that something upstream of it hangs on
  std::set<const Rule*> reached_;
  std::unordered_set<std::string> visited_;
};

}  // namespace jambcheck::rules
