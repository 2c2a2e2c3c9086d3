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
/// Whether the user called this value unknown.
bool is_unknown(double column);
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

}  // namespace jambcheck::rules
