#pragma once
// A rule as it stands in its file, checked: what it needs, what it works out, what it decides, and from which clause.
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "expr/check.h"
#include "expr/tree.h"
#include "program/native.h"
#include "table/table.h"
#include "units/quantity.h"

namespace jambcheck::rules {

using table::Clause;
using table::Evidence;

/// What follows when a line of `applies`, a range or a flag speaks.
enum class Outcome { not_applicable, note, engineer, refused };  // note: something to do, said beside the state

struct Formula {
  expr::Tree tree;
  expr::Typed typed;
  text::Place place;
  [[nodiscard]] const expr::Type& type() const { return typed.of[tree.root()]; }
};

struct Range {
  double lo = 0, hi = 0;  ///< canonical
  Outcome outside = Outcome::refused;
  text::Place place;
};

/// A value a rule reads from a case key.
struct Key;

struct Input {
  std::string name;
  std::string key;
  const Key* info = nullptr;  ///< that key, once the set is linked
  std::string say;
  bool is_word = false;
  const std::vector<std::string>* words = nullptr;  ///< the words the rule knows
  units::Unit unit;
  std::optional<Range> range;
  bool optional = false;                ///< may be missing; has no value then
  std::optional<units::Quantity> assumed;  ///< `default:`, always told to the user
  std::string assumed_word;
  bool must_be_given = false;  ///< `default: ask`: what other rules would take for it is no answer here
  int clause = -1;
  text::Place place;
  text::Place key_place;  ///< of `from`
};

struct Constant {
  std::string name;
  std::string say;
  std::string text;  ///< as written, 2/37
  double value = 0;  ///< canonical
  units::Unit unit;
  int clause = -1;
  text::Place place;
};

struct TableUse {
  std::string name;
  std::string id;
  const table::Table* table = nullptr;
  text::Place place;
};

/// One named line of the working.
struct Step {
  std::string name;
  std::string say;
  Formula formula;
  units::Unit unit;
  int clause = -1;
  text::Place place;
  bool used = false;
};

struct Applies {
  Formula when;
  Outcome otherwise = Outcome::not_applicable;
  std::string say;
  std::vector<std::string> word_keys;  ///< case keys that a not-applicable line decides by
  text::Place place;
};

struct Output {
  std::string step;
  std::string key;
  text::Place place;       ///< of the key
  text::Place step_place;  ///< of the name
};

/// strength: a share of a strength. measure: a count or the like, that must be met but uses up no strength. gate: the
/// flags alone decide, the ratio says nothing.
enum class CheckKind { strength, measure, gate };

struct Check {
  std::string demand, capacity;
  CheckKind kind = CheckKind::strength;
  text::Place place;
};

struct Flag {
  std::string id;
  std::string say;
  Formula when;
  Outcome outcome = Outcome::engineer;
  int clause = -1;
  text::Place place;
};

struct Also {
  std::string rule;
  int clause = -1;
  text::Place place;
};

/// Two of the rule's names that should agree: what the user gave and what is worked out. Told, never decided by.
struct Compare {
  std::string given, against;
  std::string say;
  text::Place place;
};

/// A printed table that stands beside a step.
struct Printed {
  std::string table_id;
  const table::Table* table = nullptr;
  const table::Column* column = nullptr;
  std::string step;
  std::vector<std::string> axis_names;  ///< names of the rule, in the order of the table's axes
  std::optional<Formula> when;
  text::Place place;
};

/// One result of a solver written in C++.
struct NativeResult {
  std::string name;
  std::string say;
  units::Unit unit;
  int clause = -1;
  text::Place place;
};

struct Rule {
  std::string id;
  std::string title;
  std::string code;
  std::string status;
  std::string method;  ///< ASD, LRFD, any
  std::string note;
  std::vector<std::string> editions;  ///< documents of one family that the rule belongs to; empty: all
  std::vector<Clause> clauses;
  std::vector<Applies> applies;
  std::vector<Input> inputs;
  std::vector<Constant> constants;
  std::vector<TableUse> tables;
  std::vector<Step> steps;
  const program::NativeSolver* solver = nullptr;
  std::vector<NativeResult> results;
  std::vector<Output> outputs;
  std::optional<Check> check;
  std::vector<Flag> flags;
  std::vector<Also> also;
  std::vector<Printed> printed;
  std::vector<Compare> compare;
  text::Place place;
  std::string path;  ///< file name
  int index = -1;    ///< position in the rule set's order: a rule stands after all that it reads from

  [[nodiscard]] const Input* input(std::string_view name) const;
  [[nodiscard]] const Step* step(std::string_view name) const;
  [[nodiscard]] const Constant* constant(std::string_view name) const;
  [[nodiscard]] const TableUse* table_use(std::string_view name) const;
  [[nodiscard]] const NativeResult* result(std::string_view name) const;
  /// Unit in which a name of this rule is shown; the pure unit for words.
  [[nodiscard]] units::Unit unit_of(std::string_view name) const;
  [[nodiscard]] std::string clause_text(int clause) const;
};

}  // namespace jambcheck::rules
