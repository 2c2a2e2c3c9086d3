#pragma once
// Tests as data, test/1: printed tables, worked examples and named cases, run through the same engine as a project.
#include <map>
#include <string>
#include <vector>

#include "rules/judge.h"

namespace jambcheck::rules {

struct SelfTestFile {
  std::string path;
  std::string rule;
  std::string source;    ///< "nds-2018 table 12.2A"
  std::string evidence;  ///< seen
  bool published = false;  ///< not our own arithmetic and no trade fact
  std::size_t values = 0, outcomes = 0, misses = 0;
  double worst = 0;  ///< largest deviation, as a share of the allowed one where there is one, else relative
  std::string worst_at;
};

struct Miss {
  std::string where;  ///< file:line:column
  std::string text;
};

/// How often the tests went through a rule with an expectation that hangs on it.
struct RuleCoverage {
  std::size_t published = 0, own = 0;
};

struct SelfTestReport {
  std::vector<SelfTestFile> files;
  std::vector<Miss> misses;
  std::map<const Rule*, RuleCoverage> coverage;
  [[nodiscard]] std::size_t values() const;
};

/// Runs every test/1 file below the given files and folders. Files that can't be read are in `diagnostics`.
SelfTestReport run_selftest(const RuleSet& set, const std::vector<std::string>& paths, text::SourceSet& sources,
                            text::Diagnostics& diagnostics);

}  // namespace jambcheck::rules
