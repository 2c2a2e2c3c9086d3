#pragma once
// Formulas as they are set on paper: fractions, roots, powers, subscripts.
#include <functional>
#include <string>
#include <vector>

#include "expr/tree.h"

namespace jambcheck::document {

struct Math {
  enum class Kind { name, number, words, sign, row, fraction, root, power, subscript, brackets };
  Kind kind = Kind::row;
  std::string text;         ///< of a name, number, words or sign
  std::vector<Math> parts;  ///< of the others: numerator, denominator; base, exponent; base, subscript
};

Math math_name(const std::string& name);    ///< F_yb as F with a subscript, phi as its letter
Math math_words(const std::string& words);  ///< a result with its unit
Math math_fraction(Math above, Math below);

/// What stands for a name: its symbol, or its number.
using MathOf = std::function<Math(const expr::Node&)>;

Math math_of(const expr::Tree& tree, const MathOf& name);
Math math_of(const expr::Tree& tree);

}  // namespace jambcheck::document
