#pragma once
// Several values of one field: how many answers they make together, and facts with one of them picked.
#include <cstddef>
#include <vector>

#include "opening/model.h"

namespace jambcheck::opening {

/// More combinations of values than this are refused when the file is read (K047).
constexpr std::size_t kMostAnswers = 2000;

/// How many combinations the options of all choices make; kMostAnswers + 1 when there are more.
std::size_t answers(const std::vector<Choice>& a, const std::vector<Choice>& b);

/// `facts` as if the file had said this one option.
void pick(const Choice& choice, std::size_t option, Facts& facts);

}  // namespace jambcheck::opening
