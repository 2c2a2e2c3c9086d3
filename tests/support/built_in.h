#pragma once
// The rules of the source tree, and random cases of a plan.
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "rules/plan.h"
#include "rules/selftest.h"

namespace jambcheck::test {

/// rules/ and tables/ of the source tree, loaded once.
const rules::RuleSet& built_in();

struct Loaded {
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  std::unique_ptr<const rules::RuleSet> set;  ///< null when something is wrong
};
/// rules/ and tables/ with the files of further folders added.
std::unique_ptr<Loaded> load_with(const std::string& rules_folder);

/// Ids of the rules whose id begins so.
std::vector<const rules::Rule*> rules_below(const std::string& prefix);

/// Random values of every source of a plan, source by source, `cases` each: in and a little out of the ranges, on
/// their bounds, and now and then missing.
std::vector<std::vector<double>> random_columns(const rules::Plan& plan, std::size_t cases, std::mt19937_64& random);

/// The kinds of lag-screw cases: method and way of the capacity.
std::vector<rules::Words> lag_screw_words();

/// A plan in which every input of `rule` is given.
std::shared_ptr<const rules::Plan> plan_alone(const rules::Rule& rule, const rules::Words& words);

}  // namespace jambcheck::test
