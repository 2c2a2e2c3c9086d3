#pragma once
// A condition of a rule in plain words: what its names stand for instead of the names.
#include <string>

#include "rules/rule.h"

namespace jambcheck::rules {

/// "nominal diameter is less than 0.25 in". `no`: the opposite of the formula.
std::string in_words(const Rule& rule, const Formula& formula, bool no = false);

}  // namespace jambcheck::rules
