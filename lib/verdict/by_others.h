#pragma once
// What others must show that wall, header or stud carries: the greatest forces of each link over all load cases. They
// decide nothing here. The sums and free bodies are rules (loads.by_others.*).
#include <limits>
#include <string>
#include <vector>

#include "rules/plan.h"
#include "verdict/connection.h"

namespace jambcheck::verdict {

/// The greatest of one force, and the load case that brings it.
struct Greatest {
  double value = std::numeric_limits<double>::quiet_NaN();  ///< lbf, in-lbf for a moment; NaN: not worked out
  std::string load_case;
};

/// One fastener, or all of a guide or bracket together. Across and along: sideways on the face of the jamb.
struct Forces {
  Greatest pull, push, across, along;
};

struct ByOthers {
  std::string id;      ///< LG
  std::string name;    ///< left guide
  std::string link_id, link;
  std::string level;   ///< ASD or LRFD
  bool in_board = false;  ///< a board takes it, not the wall
  Forces one;          ///< on one fastener; of a bracket without push, for its plate presses
  Forces all;          ///< of the whole guide or bracket
  Greatest moment;     ///< of a bracket, off the wall or toward it
};

/// One for each link, in their order.
std::vector<ByOthers> by_others(const rules::RuleSet& set, rules::PlanCache& plans, const std::vector<Connection>& links);
/// Of several answers to a question the greater forces count.
void take_greater(std::vector<ByOthers>& into, const std::vector<ByOthers>& more);

/// "By others: left guide, to jamb (ASD): one fastener pull 374 lbf (D + 0.6W, wind inward), ..."
std::string by_others_text(const ByOthers& forces, int digits);

}  // namespace jambcheck::verdict
