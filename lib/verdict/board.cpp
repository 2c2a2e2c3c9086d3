#include "verdict/board.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "text/number.h"
#include "rules/cell.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

double least_thickness(const rules::RuleSet& set) {
  const std::array first = {1.0};
  return rules::cell(set, "jamb.buck", "t", first);
}

double dressed(const rules::RuleSet& set, double nominal) {
  const std::array at = {nominal};
  return rules::cell(set, "wood.dressed_sizes", "dimension", at);
}

void read_size(const Fact& size, const rules::RuleSet& set, Board& board) {
  if (size.unknown) return;
  if (size.kind == Fact::Kind::number) {
    board.thickness = size.value;
    return;
  }
  const auto times = size.word.find('x');
  if (times == std::string::npos) return;
  const auto a = text::parse_number_or_quotient(size.word.substr(0, times)), b = text::parse_number_or_quotient(size.word.substr(times + 1));
  if (!a || !b) return;
  board.thickness = dressed(set, std::min(*a, *b));
  board.width = dressed(set, std::max(*a, *b));
}

}  // namespace

Board read_board(const opening::Opening& opening, const rules::RuleSet& set, opening::Side side) {
  Board board;
  const Fact* kind = opening::fact(opening, "buck.kind", side);
  if (kind && !kind->unknown && kind->word == "none") return board;
  const Fact *size = opening::fact(opening, "buck.size", side), *thickness = opening::fact(opening, "buck.thickness", side);
  const Fact* width = opening::fact(opening, "buck.width", side);
  if (!kind && !size && !thickness) return board;
  if (kind && !kind->unknown && kind->word != "wood") {
    board.kind = Board::Kind::other;
    return board;
  }
  if (size) read_size(*size, set, board);
  if (thickness) board.thickness = thickness->unknown ? kNone : thickness->value;
  if (width) board.width = width->unknown ? kNone : width->value;
  board.kind = board.thickness < least_thickness(set) ? Board::Kind::shim : Board::Kind::board;
  return board;
}

}  // namespace jambcheck::verdict
