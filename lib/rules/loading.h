#pragma once
// What the parts of loading share, and their order. Each part goes on after a problem: one mistake never hides the next.
#include <memory>
#include <string>
#include <vector>

#include "rules/read_rule.h"
#include "rules/rule_set.h"
#include "yaml/readers.h"

namespace jambcheck::rules {

struct Loading {
  Loading(const program::NativeRegistry& registry, text::SourceSet& files, text::Diagnostics& messages)
      : solvers(registry), sources(files), diagnostics(messages), set(std::make_unique<RuleSet>()), parts(set->parts_) {}

  const program::NativeRegistry& solvers;
  text::SourceSet& sources;
  text::Diagnostics& diagnostics;
  std::unique_ptr<RuleSet> set;
  RuleSetParts& parts;            ///< of `set`
  std::vector<RuleDraft> drafts;  ///< the rules, until they are sorted
  std::vector<yaml::Node> key_files, required_files, combination_files, case_files;
};

void read_files(Loading& in, const Folders& folders);
void read_keys(Loading& in);
void link_rules(Loading& in);
void check_rules(Loading& in);
void link_keys(Loading& in);
void read_cases(Loading& in);
void check_graph(Loading& in);

/// Reports clauses whose document is not listed.
void check_documents(Loading& in, const std::vector<Clause>& clauses);
/// The word axis that "wood.specific_gravity.species" names; reported and null when there is none.
const table::Axis* word_axis(Loading& in, const yaml::Node& at, const std::string& path);
/// Inputs, steps, constants and results of a rule.
std::vector<std::string> names_of(const Rule& rule);

}  // namespace jambcheck::rules
