#pragma once
// The result of `check` as text for a screen and as JSON (result/1).
#include <string>
#include <vector>

#include "rules/rule_set.h"
#include "verdict/check.h"

namespace jambcheck::papers {

struct ReportOptions {
  bool verbose = false;
  int digits = 4;
  std::string file;  ///< as the user named it
  std::vector<std::string> not_read;  ///< marks of openings that have errors and were not checked
};

/// Four words of four letters at most, apart without colour: [ok] [NO] [!] [?].
std::string_view mark_of(rules::State state);

std::string check_text(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const ReportOptions& options);
std::string check_json(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const rules::RuleSet& set,
                       const ReportOptions& options);

/// One check with its whole working, from plain words down to clauses.
std::string explain_text(const verdict::OpeningResult& opening, const verdict::ConnectionResult& connection, const verdict::CheckResult& check,
                         const ReportOptions& options);

}  // namespace jambcheck::papers
