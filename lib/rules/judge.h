#pragma once
// From numbers and recordings to a state with reasons. The ladder of states stands here and nowhere else.
#include <functional>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "rules/case.h"
#include "rules/plan.h"

namespace jambcheck::rules {

/// Better to worse. Only `holds` is a yes; everything unknown or not covered is one of the others.
enum class State { not_applicable, holds, not_shown, engineer, short_ };
std::string_view word(State state);  ///< "HOLDS"
inline State worse(State a, State b) { return a > b ? a : b; }

enum class ReasonKind { missing, range, limit, table, flag, applies, fault, uncovered, draft };
std::string_view word(ReasonKind kind);

struct Reason {
  ReasonKind kind = ReasonKind::fault;
  std::string code;  ///< "D.range", a flag's id, or the key that is missing
  std::string text;  ///< in the user's words, with the numbers
  State leads_to = State::engineer;
  std::string rule;
  std::string clause;
  int source = -1;  ///< of a missing value: the source of the plan
  friend bool operator==(const Reason&, const Reason&) = default;
};

/// Keys and words of a case for planning: what is unknown is not given.
PlanRequest request_for(const RuleSet& set, const Case& values, std::vector<const Rule*> targets);

/// One number a source of the plan; NaN where the case says nothing and nothing is assumed, and a NaN of its own where
/// the user wrote `unknown`: such a value can't be left out as one that was never there.
std::vector<double> columns_of(const Plan& plan, const Case& values);
double column_of(const Given& given);
/// An optional value that the user called unknown, and that can be asked for.
bool is_open(const Source& source, double column);
/// A bound that decided, something to do: said, but without weight for the state.
bool only_tells(const Site& site);

struct Judgement {
  State state = State::engineer;
  double demand = 0, capacity = 0, ratio = 0;  ///< NaN where there is none
  std::vector<Reason> reasons;
};

/// Judges one check for case `lane` of the block in `scratch`; `columns[s]` is the case's value of source s.
Judgement judge(const Plan& plan, const exec::Compiled& compiled, const CheckPoint& check, const exec::Scratch& scratch,
                std::size_t lane, std::span<const double> columns);

/// The cheap part of judge(): the state alone, no texts.
State state_of(const Plan& plan, const exec::Compiled& compiled, const CheckPoint& check, const exec::Scratch& scratch,
               std::size_t lane, std::span<const double> columns, double& ratio);
/// What a case that is kept elsewhere says to the state of one check.
struct Told {
  double ratio = 0;
  std::span<const std::uint32_t> sites;    ///< those that may have recorded something; all others of the check are silent
  std::span<const std::uint8_t> records;   ///< theirs
  bool open = false;                       ///< a source of the check is_open()
};
/// state_of() for it. `lacks` says whether a value that must be there is missing; where the arithmetic gave no number and
/// nothing explains it (its argument), an optional value that can be asked for counts too. See lacks_value().
State state_of(const Plan& plan, const CheckPoint& check, const Told& told, const std::function<bool(bool no_number)>& lacks);
/// Whether source s, whose value is missing, is one that lacks.
bool lacks_value(const Source& source, bool no_number);
/// The state by a ratio alone, when nothing was recorded and nothing is open.
State state_by_ratio(const CheckPoint& check, double ratio);

/// One case worked out with every value kept.
class Evaluation {
 public:
  Evaluation(std::shared_ptr<const Plan> plan, const Case& values);
  [[nodiscard]] const Plan& plan() const { return *plan_; }
  [[nodiscard]] double value(program::Value v) const { return scratch_.read(plan_->replay().slot(v), 0); }
  [[nodiscard]] double value(const Rule& rule, std::string_view name) const { return value(plan_->value(rule, name)); }
  /// As rules::judge, asking only for what matters: a missing value whose lack alone leaves no answer.
  [[nodiscard]] Judgement judge(const CheckPoint& check) const;
  /// The state of a rule without a check: holds when all its outputs have a value and nothing speaks against it.
  [[nodiscard]] Judgement judge_rule(const Rule& rule) const;
  [[nodiscard]] bool recorded(std::uint32_t site) const { return scratch_.site(site)[0] != 0; }
  [[nodiscard]] const std::vector<double>& columns() const { return columns_; }

 private:
  /// Whether there is no answer in this lane.
  using NoAnswer = std::function<bool(const exec::Scratch&, std::size_t lane)>;
  /// The same case tried with plausible values for what is missing and must be there: with all of them, and for each
  /// missing source with all but that one (or with that one too, where it is optional). All of them in one go, for every
  /// check asks the same.
  struct Trials {
    std::vector<exec::Scratch> blocks;
    std::vector<std::size_t> lane_of;  ///< a source's trial; 0: with all that must be there
    [[nodiscard]] bool tell(const NoAnswer& no_answer, std::size_t lane) const { return no_answer(blocks[lane / exec::kBlock], lane % exec::kBlock); }
  };
  /// The missing values whose lack alone leaves no answer; all that must be there when none does.
  /// `wanted`: the values for want of which there is no answer.
  [[nodiscard]] std::vector<Reason> reasons_to_ask(std::span<const std::uint32_t> sources, std::span<const program::Value> wanted, const NoAnswer& no_answer) const;
  /// Of optional values that are missing: those that the lack of a wanted value comes from, or all where none explains it.
  [[nodiscard]] std::vector<std::uint32_t> on_the_way(const std::vector<std::uint32_t>& optional, std::span<const program::Value> wanted) const;
  /// Of optional values that are missing: those without which there is no answer even with all the others.
  [[nodiscard]] std::vector<std::uint32_t> needed_of(std::vector<std::uint32_t> optional, const NoAnswer& no_answer) const;
  [[nodiscard]] const Trials& trials() const;
  /// The value of source s, or a plausible one when it is missing and must be there or is one of `also`.
  [[nodiscard]] double filled(std::size_t s, std::span<const std::uint32_t> also) const;
  /// Whether there is no answer with those of `also` filled in beside all that must be there.
  [[nodiscard]] bool no_answer_with(std::span<const std::uint32_t> also, const NoAnswer& no_answer) const;
  std::shared_ptr<const Plan> plan_;
  std::vector<double> columns_;
  exec::Scratch scratch_;
  mutable std::unique_ptr<Trials> trials_;  ///< made on first need: an evaluation belongs to one thread
};

}  // namespace jambcheck::rules
