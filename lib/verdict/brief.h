#pragma once
// The light way: state, ratio and what decides of one guide or bracket, from the block program alone. No working, no
// texts; the same state and ratio as Checker::check, to the last bit. For trying many fastenings one after another.
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "verdict/check.h"

namespace jambcheck::verdict {

struct Brief {
  rules::State state = rules::State::holds;
  double ratio = 0;                   ///< of the check that decides; NaN when it has none
  const rules::Rule* rule = nullptr;  ///< the check that decides; null: something that stands beside all checks
  std::string link;                   ///< L1 or L2: where it decides
  bool decided = false;               ///< something was judged
  std::size_t load_case = 0;          ///< of the link, in which `rule` decides
};

/// One guide or bracket of an opening.
struct Part {
  opening::Side side = opening::Side::left;
  bool bracket = false;
};
/// LB, RB, LG, RG, in the order of a check.
const std::vector<Part>& parts();
std::string id_of(Part part);  ///< "LG"

struct BriefMemory;  // brief_memory.h

/// Belongs to one thread. Projects and openings must leave nothing to choose.
class Briefs {
 public:
  Briefs(const rules::RuleSet& set, rules::PlanCache& plans);
  ~Briefs();
  Briefs(const Briefs&) = delete;
  Briefs& operator=(const Briefs&) = delete;

  Brief part(const opening::Project& project, const opening::Opening& opening, Part part);
  /// The same for links that were made by links_of() with all load cases.
  Brief part(const std::vector<Connection>& links);
  /// All four parts together.
  Brief whole(const opening::Project& project, const opening::Opening& opening);

  /// The opening of item i in layout l, good until the next call.
  using Candidate = std::function<const opening::Opening&(std::size_t item, std::size_t layout)>;
  /// One part with each of `items` fastenings in each of `layouts`, layout by layout. The candidates may differ in what
  /// stands below the part only; an item changes the same keys in every layout. Loads and what hangs on the layout
  /// alone or the item alone are worked out once; the load cases are those of hold_loads() where it was called.
  std::vector<Brief> candidates(const opening::Project& project, Part part, std::size_t items, std::size_t layouts, const Candidate& candidate);

  /// From now on openings differ from the one tried last only in what guide, bracket and buck say, until release(): the
  /// load cases of each part are then made once.
  void hold_loads();
  void release();

  /// Limit states of load cases judged so far: the unit in which speed is told. Fastenings that differ in nothing that a
  /// plan reads count once.
  [[nodiscard]] std::size_t evaluations() const { return evaluations_; }
  [[nodiscard]] std::size_t solved() const;  ///< solver runs that could not be taken from memory

 private:
  const std::vector<LoadCase>& cases_for(const opening::Project& project, const opening::Opening& opening, Part part, std::size_t link, const Connection& connection);
  Brief link(const Connection& connection, const std::vector<LoadCase>& cases);
  const rules::RuleSet& set_;
  rules::PlanCache& plans_;
  std::unique_ptr<BriefMemory> memory_;
  std::size_t evaluations_ = 0;
};

/// The sides of which each must be looked at: one stands for both where nothing tells them apart.
std::vector<Part> sides_that_differ(const opening::Opening& opening, bool bracket);

}  // namespace jambcheck::verdict
