#pragma once
// Combinations of words, settled one word at a time and only where something hangs on it.
#include <functional>
#include <string>
#include <vector>

#include "rules/category.h"

namespace jambcheck::rules {

/// Words that came out alike, folded together: base.material steel or wood.
using WordSets = std::map<std::string, std::vector<std::string>, std::less<>>;
/// The fewest lines that say the same as all of `combinations`.
std::vector<WordSets> fold(const RuleSet& set, const std::vector<Words>& combinations);

class WordWalk {
 public:
  /// The key that must be known next; empty when all that matters is settled.
  using NextKey = std::function<std::string(const Words&)>;
  using Settled = std::function<void(const Words&)>;

  explicit WordWalk(const RuleSet& set) : set_(set) {}
  /// Calls `settled` once for each way to settle what `next` asks for, beginning with `words`. Combinations that no case
  /// can be (rules/cases.yaml) are left out.
  void each(const Words& words, const NextKey& next, const Settled& settled);
  [[nodiscard]] std::size_t walked() const { return walked_; }

 private:
  [[nodiscard]] bool impossible(const Words& words) const;
  const RuleSet& set_;
  std::size_t walked_ = 0;
};

}  // namespace jambcheck::rules
