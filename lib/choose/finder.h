#pragma once
// Trying every candidate of a space on the real checks, and telling which hold and why the others do not.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "choose/narrow.h"
#include "choose/prices.h"
#include "choose/space.h"

namespace jambcheck::choose {

enum class By { holes, size, margin, cost };

struct Tried {
  std::size_t candidate = 0;
  rules::State state = rules::State::holds;
  double ratio = 0;                   ///< the worse side's; NaN when there is none
  const rules::Rule* rule = nullptr;  ///< that decides; null: something beside all checks
  std::string link;
  bool harms_brackets = false;        ///< it holds, but with this spacing the brackets no longer do
};

/// Refused for the same reason.
struct Refused {
  std::string reason;
  std::vector<std::size_t> tried;  ///< places in Found::tried
  double least = 0, most = 0;      ///< ratios; NaN when there are none
};

struct Found {
  Space space;
  std::vector<Tried> tried;            ///< one a candidate of the space, in its order
  std::vector<std::size_t> holding;    ///< places in `tried`, the best first
  std::vector<Refused> refused;        ///< the largest group first
  std::vector<std::string> help;       ///< where nothing holds: what would help
  std::size_t evaluations = 0;         ///< limit states of load cases judged
  double price_of(std::size_t tried, const Prices& prices) const;  ///< of one part; NaN: not in the list
};

struct Wish {
  bool bracket = false;
  Sides sides = Sides::both;
  By by = By::holes;
  bool reasons = true;  ///< texts of the refused; without them only the states
  Narrow narrow = {};   ///< what of the space is tried
};

/// A candidate holds where every combination of the values that the file leaves open does.
Found find(verdict::Checker& checker, verdict::Briefs& briefs, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& opening, const Wish& wish, const Prices& prices);
/// The same with a memory of its own; `briefs` keep plans and solved plates from opening to opening.
Found find(verdict::Checker& checker, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& opening, const Wish& wish, const Prices& prices);

/// The opening with a candidate in its place.
opening::Opening with(const opening::Opening& opening, const Found& found, std::size_t tried);

/// Project and opening with one value picked for each list or range; calls `each` for every combination.
void for_each_answer(const opening::Project& project, const opening::Opening& opening, const std::function<void(const opening::Project&, const opening::Opening&)>& each);

}  // namespace jambcheck::choose
