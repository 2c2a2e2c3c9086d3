#pragma once
// Inside of verdict: what is the same for all cases that give the same keys and words: what must be checked, and the plan.
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "verdict/demand.h"
#include "verdict/link_run.h"

namespace jambcheck::verdict {

struct Shape {
  Demanded need;
  std::shared_ptr<const rules::Plan> plan;            ///< null when nothing is demanded
  std::vector<const rules::CheckPoint*> checks;       ///< the demanded ones, in the order of their codes
  std::vector<bool> no_strength;                      ///< of each: see is_no_strength()
  std::unique_ptr<LinkRun> run;
};

/// Keys and words of a case as one text, added to `out`.
void sign(const rules::Case& values, std::string& out);

/// Belongs to one thread. Different keys and words that lead to the same plan share one shape.
class Shapes {
 public:
  Shapes(const rules::RuleSet& set, rules::PlanCache& plans, exec::Memo& memo) : set_(set), plans_(plans), memo_(memo) {}
  /// The shape of what all load cases share and the first of them says.
  Shape& find(const rules::Case& common, const LoadCase& front);

 private:
  std::shared_ptr<Shape> made(const rules::Case& common, const LoadCase& front);
  const rules::RuleSet& set_;
  rules::PlanCache& plans_;
  exec::Memo& memo_;
  std::unordered_map<std::string, std::shared_ptr<Shape>> by_signature_;
  std::unordered_map<const rules::Plan*, std::shared_ptr<Shape>> by_plan_;
};

}  // namespace jambcheck::verdict
