#pragma once
// Inside of verdict: what Briefs keep, and how a link's worst cases become its state.
#include <map>
#include <span>
#include <string>
#include <vector>

#include "verdict/brief.h"
#include "verdict/shapes.h"

namespace jambcheck::verdict {

struct BriefMemory {
  BriefMemory(const rules::RuleSet& set, rules::PlanCache& plans) : shapes(set, plans, solved) {}
  exec::Memo solved;
  Shapes shapes;
  std::map<std::string, std::vector<LoadCase>> cases;  ///< while loads are held: by part, link and turns
  std::map<std::pair<const rules::Plan*, const std::vector<LoadCase>*>, CaseColumns> columns;
  bool holds_loads = false;
};

/// Raises a whole to what is worse.
void raise(Brief& whole, const Brief& part);

/// What stands beside all checks of a link.
struct Beside {
  std::vector<rules::State> leads_to;
  explicit Beside(const Connection& connection) {
    for (const auto& r : connection.reasons) leads_to.push_back(r.leads_to);
  }
  friend bool operator==(const Beside&, const Beside&) = default;
};

/// A link by the worst load cases of its checks (none where nothing is demanded) and what stands beside them.
Brief brief_of_link(const Shape& shape, std::span<const Worst> worst, const Beside& beside, const std::string& link_id);

}  // namespace jambcheck::verdict
