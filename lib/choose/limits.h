#pragma once
// How much an opening takes: the greatest wind, width and weight and the smallest edges at which it still holds, over
// one or two fields, by search on the real checks.
#include <string>
#include <string_view>
#include <vector>

#include "choose/finder.h"

namespace jambcheck::choose {

/// A field that a table of limits can run over, or whose limit can be searched.
struct Axis {
  std::string_view name;   ///< on the command line: "guide.spacing"
  std::string_view unit;
  double step;             ///< in that unit
  double from, to, pace;   ///< the values of a table, in that unit
  bool falls;              ///< less is worse
};
const Axis* find_axis(std::string_view name);
std::vector<std::string> axis_names();
/// What is searched when nothing else is asked for: wind, width, weight, edges, as far as the project gives them.
std::vector<std::string> usual_limits(const opening::Project& project, const opening::Opening& opening);

struct Limit {
  enum class Kind { none, at, beyond };  ///< holds nowhere; up to `value`; still at the last value tried
  Kind kind = Kind::none;
  double value = 0;   ///< canonical
  bool bounded = false;  ///< towards the harmless end it does not hold everywhere either
  double inner = 0;      ///< where bounded: the last step that way at which it holds, canonical
  std::string stops;  ///< title of the check that stops one step further
};

struct LimitRow {
  std::vector<double> at;     ///< canonical, one an axis
  std::vector<Limit> limits;  ///< one a searched field
};

struct LimitTable {
  std::vector<const Axis*> over, of;
  std::vector<LimitRow> rows;
  std::size_t evaluations = 0;
};

/// Whether the file gives what the axis moves.
bool has_axis(const opening::Project& project, const opening::Opening& opening, const Axis& axis);

/// The table. Nothing is taken to be monotone: from what the file gives (or the nearest step that holds, the harmless side
/// first) every step is tried both ways up to the first that does not hold. So all steps from `inner`, or the harmless
/// end, to `value` hold and the next does not; and "none" is said after every step was tried. Lists of values: every
/// combination must hold.
LimitTable limits(verdict::Checker& checker, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& opening,
                  const std::vector<const Axis*>& over, const std::vector<const Axis*>& of, int jobs);

/// Project and opening with the field at this value (canonical); for the proof of a limit.
void put_axis(opening::Project& project, opening::Opening& opening, const Axis& axis, double value);

}  // namespace jambcheck::choose
