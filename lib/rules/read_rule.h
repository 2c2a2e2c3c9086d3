#pragma once
// Reading one rule/1 document into a Rule: keys, names and units; formulas are parsed, not yet checked.
#include <memory>

#include "rules/rule.h"
#include "yaml/node.h"

namespace jambcheck::rules {

/// What a rule file says about an input's words before the keys are known.
struct WordSource {
  std::vector<std::string> list;  ///< one_of: [a, b]
  std::vector<text::Place> places;  ///< of the words, or of the table axis alone
  std::string table_axis;         ///< one_of: table wood.specific_gravity.species
};

/// A rule with what can be settled only beside the other files.
struct RuleDraft {
  std::unique_ptr<Rule> rule;
  std::vector<WordSource> input_words;  ///< per input
  std::string solver;
  text::Place solver_place;
  std::vector<std::vector<std::pair<std::string, std::string>>> printed_axes;  ///< per printed: axis -> name
  bool whole = true;        ///< read without a problem
  bool units_known = true;  ///< every unit was understood; if not, dimensions are not compared
};

RuleDraft read_rule(const yaml::Node& doc, text::Diagnostics& diagnostics);

/// Reads a formula scalar; reports and returns false when it is none.
bool read_formula(const yaml::Node& node, Formula& out, text::Diagnostics& diagnostics);

units::Unit read_unit(const yaml::Node& node, text::Diagnostics& diagnostics);

}  // namespace jambcheck::rules
