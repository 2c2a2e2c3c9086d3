#pragma once
// The board (buck) between hardware and jamb: thick enough to hold a fastener, it is a link of its own; thinner, a shim.
#include <limits>

#include "opening/model.h"

namespace jambcheck::verdict {

struct Board {
  enum class Kind { none, shim, board, other };
  Kind kind = Kind::none;
  double thickness = std::numeric_limits<double>::quiet_NaN();  ///< in, dressed; NaN: not known
  double width = std::numeric_limits<double>::quiet_NaN();
  /// A board of unknown thickness is taken for one, so that its thickness is asked for.
  [[nodiscard]] bool carries() const { return kind == Kind::board; }
};

/// What the project says of the board on one side. The least thickness of a board that counts, and real sizes by nominal
/// ones, stand in tables (jamb.buck, wood.dressed_sizes).
Board read_board(const opening::Opening& opening, const rules::RuleSet& set, opening::Side side);

}  // namespace jambcheck::verdict
