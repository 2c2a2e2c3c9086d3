#pragma once
// A formula of a rule in the words of other programs, from the same tree that the engine runs.
#include <optional>
#include <string>

#include "expr/print.h"

namespace jambcheck::bench {

/// numpy: over whole columns. calc: one cell of a sheet, as OpenFormula writes it.
enum class Dialect { numpy, calc };

/// Empty when something in the formula has no like there (tables, words, refusals).
std::optional<std::string> translate(const expr::Tree& tree, const expr::NameText& name_text, Dialect dialect);

}  // namespace jambcheck::bench
