#pragma once
// For each type of fastening: other fasteners that would hold in the same holes.
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "papers/types.h"

namespace jambcheck::papers {

struct Alternate {
  std::string type, part;  ///< "A", "guide"
  std::string now, item;   ///< as a project file writes them
  double count = 0;        ///< in one guide or bracket
  double length = std::numeric_limits<double>::quiet_NaN();
  double ratio = std::numeric_limits<double>::quiet_NaN();  ///< the worst of all members; NaN: none holds, see `note`
  std::string data, note;
};

/// The next `most` of each type and part, by kind, diameter and length; tried at every member by the checks themselves.
/// `project_of` is the project that counts for a member: rows of a schedule may have their own wind.
std::vector<Alternate> alternates_of(const opening::Project& project, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker,
                                     const std::function<const opening::Project&(const opening::Opening&)>& project_of, std::size_t most = 3);

}  // namespace jambcheck::papers
