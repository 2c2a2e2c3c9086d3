#pragma once
// One formula against the names that it may use.
#include <map>
#include <string>

#include "expr/check.h"
#include "rules/loading.h"

namespace jambcheck::rules {

/// The names that a formula of a rule may use, with what they are; a rule's steps are added as they are read.
struct RuleNames {
  std::map<std::string, expr::Type, std::less<>> types;
  std::map<std::string, expr::TableType, std::less<>> tables;
};
/// Constants, inputs, results and tables of a rule.
RuleNames names_in(const Rule& rule);

class FormulaCheck {
 public:
  explicit FormulaCheck(Loading& in) : in_(in) {}
  /// Checks one formula against the names known so far; dotted names are word keys where `keys_too`.
  bool check(Formula& formula, RuleNames& names, bool keys_too);
  bool want_yes_no(const Formula& formula);

  bool units_known = true;  ///< of the rule being checked; if not, dimensions are not compared

 private:
  Loading& in_;
};

}  // namespace jambcheck::rules
