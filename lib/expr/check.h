#pragma once
// Types of formulas: dimensions, words and yes/no, checked at load with the place of the token that is wrong.
#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "expr/tree.h"
#include "units/dimension.h"

namespace jambcheck::expr {

/// What a name or a formula is: a number with a dimension, a word of a closed list, or yes/no.
struct Type {
  enum class Kind { number, word, yes_no } kind = Kind::number;
  units::Dimension dimension;
  const std::vector<std::string>* words = nullptr;  ///< of a word
  bool any_dimension = false;                       ///< the literal 0

  static Type number(const units::Dimension& d) { return {Kind::number, d, nullptr, false}; }
  static Type pure() { return {}; }
  static Type word(const std::vector<std::string>* words) { return {Kind::word, {}, words, false}; }
  static Type yes_no() { return {Kind::yes_no, {}, nullptr, false}; }
};
std::string to_string(const Type& type);

/// A table as a formula sees it: the types of its axes and of the value that lookup gives.
struct TableType {
  std::vector<Type> axes;
  std::vector<std::string> axis_names;
  Type value;
};

/// What stands behind the names of a formula. Return null for a name that does not exist.
struct Scope {
  std::function<const Type*(std::string_view)> type_of;
  std::function<const TableType*(std::string_view)> table;
  std::function<std::vector<std::string>()> known_names;  ///< for suggestions
};

/// Types of all nodes of a tree. A name that is a word of the other side of == has the type of that side.
struct Typed {
  std::vector<Type> of;
  /// Nodes that are literal words (right side of `grain == end`).
  std::vector<bool> literal_word;
};

/// Checks the whole formula; all problems are reported with their span. Problems: E010 unknown name, E011 no such word,
/// E012 kinds do not fit, U020 dimensions differ, U022 exponent, E013 table arguments.
Typed check(const Tree& tree, const Scope& scope, std::vector<text::Problem>& problems);

}  // namespace jambcheck::expr
