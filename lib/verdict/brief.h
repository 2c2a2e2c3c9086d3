#pragma once
// The light way: state, ratio and what decides of one guide or bracket, from the block program alone. No working, no
// texts; the same state and ratio as Checker::check, to the last bit. For trying many fastenings one after another.
#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "verdict/check.h"

namespace jambcheck::verdict {

struct Brief {
  rules::State state = rules::State::holds;
  double ratio = 0;                   ///< of the check that decides; NaN when it has none
  const rules::Rule* rule = nullptr;  ///< the check that decides; null: something that stands beside all checks
  std::string link;                   ///< L1 or L2: where it decides
  bool decided = false;               ///< something was judged
};

/// One guide or bracket of an opening.
struct Part {
  opening::Side side = opening::Side::left;
  bool bracket = false;
};
/// LB, RB, LG, RG, in the order of a check.
const std::vector<Part>& parts();
std::string id_of(Part part);  ///< "LG"

struct BriefMemory;  // brief.cpp

/// Belongs to one thread. Projects and openings must leave nothing to choose.
class Briefs {
 public:
  Briefs(const rules::RuleSet& set, rules::PlanCache& plans);
  ~Briefs();
  Briefs(const Briefs&) = delete;
  Briefs& operator=(const Briefs&) = delete;

  Brief part(const opening::Project& project, const opening::Opening& opening, Part part);
  /// All four parts together.
  Brief whole(const opening::Project& project, const opening::Opening& opening);
  /// From now on openings differ from the one tried last only in what guide, bracket and buck say, until release(): the
  /// load cases of each part are then made once.
  void hold_loads();
  void release();

  /// Limit states of load cases judged so far: the unit in which speed is told.
  [[nodiscard]] std::size_t evaluations() const { return evaluations_; }
  [[nodiscard]] std::size_t solved() const;  ///< solver runs that could not be taken from memory

 private:
  void add_link(const Connection& connection, const std::vector<LoadCase>& cases, Brief& whole);
  const std::vector<LoadCase>& cases_for(const opening::Project& project, const opening::Opening& opening, Part part, std::size_t link, const Connection& connection);
  const rules::RuleSet& set_;
  rules::PlanCache& plans_;
  std::unique_ptr<BriefMemory> memory_;
  std::size_t evaluations_ = 0;
};

}  // namespace jambcheck::verdict
