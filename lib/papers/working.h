#pragma once
// The workings of checks as formulas on paper. What was set once is not set again: later readers are led to it.
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "document/document.h"
#include "rules/trace.h"
#include "verdict/check.h"

namespace jambcheck::papers {

class Workings {
 public:
  explicit Workings(int digits) : digits_(digits) {}

  /// All that the check hangs on, then the check itself. Gates, which flags alone decide, have no arithmetic: nothing is
  /// added for them.
  void add(const verdict::CheckResult& check, document::Document& out);
  /// From here on the symbols of each check are set once more.
  void new_leaf() { shown_.clear(); }
  /// Only the rules of loads, for the section on loads.
  void add_loads(const verdict::CheckResult& check, document::Document& out);

 private:
  struct Run {
    std::shared_ptr<const rules::Plan> plan;
    std::shared_ptr<const rules::Case> values;
    std::unique_ptr<rules::Evaluation> evaluation;
    std::map<const rules::Rule*, std::string> anchors;  ///< where its rules stand
  };
  Run& run_of(const verdict::CheckResult& check);
  void add_rule(Run& run, const rules::Rule& rule, const verdict::CheckResult* own, document::Document& out);

  int digits_;
  std::vector<std::unique_ptr<Run>> runs_;
  void add_given(Run& run, const std::vector<rules::TraceLine>& lines, document::Document& out) const;
  /// What differs from the first time a rule was set, in one paragraph.
  void add_again(const rules::Rule& rule, const std::vector<rules::TraceLine>& lines, const std::string& anchor, document::Document& out) const;

  struct First {
    std::string anchor;
    std::map<std::string, std::string> results;  ///< name -> result
  };
  std::map<std::string, std::string> set_;  ///< numbers of a rule -> anchor
  std::map<std::string, First> first_;      ///< rule -> where its formulas stand
  std::map<std::string, std::string> shown_;  ///< rule of a check -> where its symbols stand on this leaf
};

/// "c-" and the address: where the working of a check stands.
std::string working_anchor(const std::string& address);

}  // namespace jambcheck::papers
