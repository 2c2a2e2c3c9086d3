#pragma once
// How far things may slip before a fastening that holds stops holding: found by search on the checks themselves.
#include <string>
#include <vector>

#include "verdict/answers.h"

namespace jambcheck::verdict {

/// One field of the project, moved to its worse side in tape steps while everything else stays.
struct Margin {
  std::string field;      ///< "guide.edge", "site.wind.speed"
  std::string now;        ///< as given, with unit
  std::string limit;      ///< the last step at which all still holds
  bool falls = false;     ///< less is worse (an edge distance), else more is (a spacing)
  bool beyond = false;    ///< it still holds at the last step that was tried
  std::string stops_at;   ///< the check that stops it, one step further; empty when beyond
};

/// For an opening that holds; empty for any other. Lists and ranges of values must have been picked.
std::vector<Margin> margins(const opening::Project& project, const opening::Opening& opening, const CheckOne& check_one);

}  // namespace jambcheck::verdict
