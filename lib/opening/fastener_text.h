#pragma once
// Fasteners in the notation of the trade: kind diameter x length.
#include <optional>
#include <string>
#include <string_view>

#include "units/quantity.h"

namespace jambcheck::opening {

struct Span {
  std::uint32_t offset = 0, length = 0;  ///< bytes of the text
};

struct FastenerText {
  std::string kind;                                 ///< canonical: lag_screw
  std::optional<int> number;                        ///< of a screw: 12 for #12
  std::optional<units::Quantity> diameter, length;  ///< empty: written as unknown, or only the number is known
  Span kind_at, diameter_at, length_at;
};

/// "lag 3/8 x 3", "lag 3/8\" x 3\"", "lag screw 10 mm x 80 mm", "wood screw #12 x 3", "bolt 1/2 x unknown". Numbers
/// without a unit are inches here (common practice, no source) as long as nothing in the text is metric. Problems: K012
/// not understood, K034 not to be believed as inches, and those of parse_length. {0} of a K message is left empty for
/// the field.
units::Expected<FastenerText> parse_fastener(std::string_view text);

}  // namespace jambcheck::opening
