#pragma once
// The light way for a row of a schedule: what is printed of an opening that holds or is short and raises no question.
#include <memory>
#include <optional>
#include <string>

#include "verdict/check.h"

namespace jambcheck::verdict {

/// As an OpeningResult has them, to the last bit and letter.
struct LightResult {
  rules::State state = rules::State::holds;
  double ratio = 0;
  std::string governs;
  std::string why;
  std::size_t assumed = 0;
};

/// Belongs to one thread.
class Light {
 public:
  Light(const rules::RuleSet& set, rules::PlanCache& plans);
  ~Light();
  Light(const Light&) = delete;
  Light& operator=(const Light&) = delete;
  /// Empty where only Checker::check can tell all: several values to try, something unknown, recorded or not covered.
  std::optional<LightResult> check(const opening::Project& project, const opening::Opening& opening);

 private:
  struct Memory;
  const rules::RuleSet& set_;
  std::unique_ptr<Memory> memory_;
};

}  // namespace jambcheck::verdict
