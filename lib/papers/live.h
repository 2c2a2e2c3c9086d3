#pragma once
// The part of a working that a case went through: branches that were taken, and values that its check hangs on. What a
// rule holds ready for other cases is left out.
#include <map>
#include <set>
#include <string>
#include <vector>

#include "expr/tree.h"
#include "rules/evaluation.h"

namespace jambcheck::papers {

/// A formula without the branches that were not taken.
struct LiveTree {
  expr::Tree tree;
  std::vector<std::string> by;  ///< names whose values chose the branches, in order of first use
};

/// Each `if` whose condition is settled by known values gives way to the branch taken; first_not_refused to the first
/// argument that has a value. What can't be settled stays as it is.
LiveTree live_tree(const rules::Evaluation& evaluation, const rules::Rule& rule, const expr::Tree& tree);

/// Names of each rule that the check hangs on; rules that it does not hang on are missing. So are checks of their own that
/// only gave a number which a max or min did not pick.
using Needed = std::map<const rules::Rule*, std::set<std::string>>;
Needed needed_by(const rules::Evaluation& evaluation, const rules::CheckPoint& check);

}  // namespace jambcheck::papers
