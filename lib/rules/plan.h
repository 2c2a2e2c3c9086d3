#pragma once
// A plan: the rules that a kind of case needs, in order, as one program. Made once for each kind, then shared.
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "exec/compiled.h"
#include "program/program.h"
#include "rules/category.h"
#include "rules/rule_set.h"

namespace jambcheck::rules {

struct PlanRequest {
  Words words;                       ///< category words of the case
  std::vector<const Key*> given;     ///< keys the case gives, by number; these win over rules that would define them
  std::vector<const Rule*> targets;  ///< the rules to evaluate
  void give(const Key& key);
  [[nodiscard]] bool gives(const Key& key) const;
};

/// A column of the case: a key that no rule of the plan defines.
struct Source {
  const Key* key = nullptr;
  bool given = false;
  bool optional = true;                 ///< every reader can do without
  double assumed = 0;                   ///< default of a reader or of the key, canonical or symbol; NaN: none
  double plausible = 1;                 ///< a value some reader would take, to see whether a missing one matters
  std::string assumed_why;              ///< what the assumed value is, in words; empty: nothing is assumed
  std::vector<std::string> open_words;  ///< the words that must be known before it is known who defines this key
};

enum class SiteKind { range, limit, flag, lookup, applies };

/// A place of a rule that can record something about a case.
struct Site {
  SiteKind kind = SiteKind::flag;
  const Rule* rule = nullptr;
  std::string name;  ///< "D.range", "end_grain"
  std::string say;
  Outcome outcome = Outcome::engineer;
  int clause = -1;
  program::Value watched = program::kNoValue;  ///< the number that a range or limit is about, the yes or no of a flag
  const Input* input = nullptr;
};

/// A rule with a check, and all that its answer hangs on.
struct CheckPoint {
  const Rule* rule = nullptr;
  program::Value demand = program::kNoValue, capacity = program::kNoValue, ratio = program::kNoValue;
  std::vector<std::uint32_t> sites;
  std::vector<std::uint32_t> sources;
  std::vector<const Rule*> rules;  ///< itself and all it reads from, in order
  Evidence evidence = Evidence::read;
  std::string weakest;  ///< the clause with that evidence
  bool draft = false;   ///< rests on a draft rule
};

class Plan {
 public:
  Plan(const RuleSet& set, const PlanRequest& request);

  [[nodiscard]] const RuleSet& set() const { return set_; }
  [[nodiscard]] const Words& words() const { return words_; }
  [[nodiscard]] const std::vector<const Rule*>& rules() const { return order_; }
  [[nodiscard]] const std::vector<Source>& sources() const { return sources_; }
  [[nodiscard]] const std::vector<Site>& sites() const { return sites_; }
  [[nodiscard]] const std::vector<CheckPoint>& checks() const { return checks_; }
  [[nodiscard]] const CheckPoint* check_of(const Rule& rule) const;
  /// The value of a name of a rule of this plan; kNoValue when the rule is not in it.
  [[nodiscard]] program::Value value(const Rule& rule, std::string_view name) const;
  /// Which rule of the plan defines a key, and under which name; null when a case must give it.
  [[nodiscard]] std::pair<const Rule*, std::string> definition(std::string_view key) const;
  [[nodiscard]] int source_of(const Key& key) const { return source_index_[key.number]; }  ///< -1: none
  [[nodiscard]] const program::Program& program() const { return program_; }
  /// For many cases: only what checks need. For one: every value.
  [[nodiscard]] const exec::Compiled& batch() const { return *batch_; }
  [[nodiscard]] const exec::Compiled& replay() const;

 private:
  friend class Planner;
  const RuleSet& set_;
  Words words_;
  std::vector<const Rule*> order_;
  std::vector<Source> sources_;
  std::vector<int> source_index_;  ///< by number of the key
  std::vector<Site> sites_;
  std::vector<CheckPoint> checks_;
  std::map<std::string, std::pair<const Rule*, std::string>, std::less<>> definitions_;
  std::map<std::pair<const Rule*, std::string>, program::Value> values_;
  program::Program program_;
  std::unique_ptr<exec::Compiled> batch_;
  mutable std::once_flag replay_once_;
  mutable std::unique_ptr<exec::Compiled> replay_;
};

/// Plans by request, shared between threads.
class PlanCache {
 public:
  explicit PlanCache(const RuleSet& set) : set_(set) {}
  std::shared_ptr<const Plan> get(const PlanRequest& request);

 private:
  struct Made {
    std::once_flag once;
    std::shared_ptr<const Plan> plan;
  };
  const RuleSet& set_;
  std::mutex mutex_;
  std::map<std::string, std::shared_ptr<Made>> plans_;
};

}  // namespace jambcheck::rules
