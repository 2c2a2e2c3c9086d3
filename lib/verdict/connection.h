#pragma once
// One fastened part of one door, as the case that rules read: what is the same for all of its load cases, and the load
// cases themselves. All numbers come from the project; what a rule or a key assumes is not in here.
#include <string>
#include <vector>

#include "opening/answers.h"
#include "opening/model.h"
#include "rules/judge.h"

namespace jambcheck::verdict {

/// One load case of one fastener: the keys that differ from case to case.
struct LoadCase {
  rules::Case values;
  std::string say;  ///< "D + 0.6W, wind inward"
};

struct Connection {
  std::string id;    ///< LG, RG, LB, RB
  std::string name;  ///< "left guide"
  std::string link_id;  ///< L1 hardware, L2 the board under it
  std::string link;  ///< what the link joins: "guide to jamb"
  std::string fastener;  ///< as written, "lag 3/8 x 3"
  opening::Asker asker;  ///< whose fields answer its questions
  rules::Case common;
  std::vector<LoadCase> cases;
  std::size_t turns = 1;  ///< fasteners of which each has its turn in the load cases
  std::vector<rules::Reason> reasons;  ///< what keeps this part from being settled by a rule
  std::vector<std::pair<std::string, std::string>> assumed;  ///< what, why
};

/// Which load cases are wanted: they hang on nothing that guide, bracket and buck say but on `turns`. The first alone
/// does for what is the same in all of them: holes, drills, sizes.
enum class Cases { all, first, none };

/// The links of an opening: left and right bracket, left and right guide, each followed by that of the board under it.
std::vector<Connection> connections(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Cases cases = Cases::all);

/// A link as far as nothing below its part ("guide." or "bracket.") is read.
struct LinkStart {
  bool known = false;
  Connection connection;
  std::string method;
  bool counted = false;  ///< earthquake
};
/// Kept from call to call of links_of() with the same side and part, while project and opening change in nothing but
/// what stands below the part.
struct LinkStarts {
  LinkStart hardware, board;
};

/// The links of one guide or bracket: that of the hardware, then that of the board under it.
std::vector<Connection> links_of(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, opening::Side side, bool bracket,
                                 Cases cases = Cases::all, LinkStarts* starts = nullptr);

}  // namespace jambcheck::verdict
