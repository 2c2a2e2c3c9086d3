#pragma once
// The workings of checks as formulas on paper. What was set once is not set again: later readers are led to it.
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "document/document.h"
#include "papers/live.h"
#include "rules/evaluation.h"
#include "rules/trace.h"
#include "verdict/check.h"

namespace jambcheck::papers {

/// Which checks are worked out on paper: those that decide and those close to them, by the branches that were taken; or
/// every check, with all that its rules hold.
enum class Extent { deciding, all };

class Workings {
 public:
  Workings(int digits, Extent extent) : digits_(digits), extent_(extent) {}

  /// All that the check hangs on, then the check itself; `also`: another address with the same numbers; `revised`: letter
  /// of the revision that changed it; `alone`: without what its inputs come from. Gates, which flags alone decide, have no arithmetic: nothing is added for them.
  void add(const verdict::CheckResult& check, const std::string& also, const std::string& revised, bool alone, document::Document& out);
  /// For the leaf of a type: the loads that were set so far are led to, everything else is set once more.
  [[nodiscard]] Workings of_leaf(const std::string& letter) const;
  /// Only the rules of loads, for the section on loads.
  void add_loads(const verdict::CheckResult& check, document::Document& out);

 private:
  struct Run {
    std::shared_ptr<const rules::Plan> plan;
    std::shared_ptr<const rules::Case> values;
    std::unique_ptr<rules::Evaluation> evaluation;
    std::map<const rules::Rule*, std::string> anchors;  ///< where its rules stand
  };
  /// A line with the branches that were taken, and what chose them.
  struct Line {
    rules::TraceLine trace;
    std::optional<LiveTree> live;
    std::string by;  ///< "state = closed"
  };
  struct First {
    std::string anchor;
    std::set<std::string> lines;  ///< that stand there
  };
  Run& run_of(const verdict::CheckResult& check);
  std::vector<Line> lines_of(Run& run, const rules::Rule& rule, bool own, const std::set<std::string>* needed) const;
  void add_upstream(Run& run, const rules::Rule& rule, const std::set<std::string>* needed, document::Document& out);
  void add_own(Run& run, const verdict::CheckResult& check, const std::string& also, const std::string& revised, const std::set<std::string>* needed, document::Document& out);
  void add_lines(Run& run, const std::vector<Line>& lines, bool symbols, document::Document& out) const;
  void add_given(Run& run, const std::vector<Line>& lines, document::Document& out) const;

  int digits_;
  Extent extent_;
  std::string leaf_;      ///< letter of its type; empty in the section on loads
  std::size_t made_ = 0;  ///< anchors so far
  std::vector<std::unique_ptr<Run>> runs_;
  std::map<std::string, std::string> set_;  ///< numbers of a rule -> anchor
  std::map<std::string, First> first_;      ///< rule -> what stands of it
  std::map<std::string, std::string> shown_;  ///< rule of a check -> where its symbols stand on this leaf
};

/// The check whose loads are shown for a guide or bracket: of those that use up strength the one with the greatest
/// ratio; null when none has one.
const verdict::CheckResult* worst_strength(const verdict::ConnectionResult& connection, const std::string& link = "");

/// "c-" and the address: where the working of a check stands.
std::string working_anchor(const std::string& address);

}  // namespace jambcheck::papers
