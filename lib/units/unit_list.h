#pragma once
// Inside of units: the closed list (unit_list.def) and the search in it.
#include <string>
#include <string_view>

#include "units/dimension.h"
#include "units/ratio.h"

namespace jambcheck::units {

/// A unit of the list: canonical value = factor * value + offset.
struct ListedUnit {
  std::string_view name;
  Ratio factor;
  double offset = 0;
  Dimension dimension;
  std::string_view quantity;
  std::string_view meaning;
};

/// A spelling that is read (`unit`), or known and refused (`unit` null, `instead` says what to write).
struct Spelling {
  std::string_view text;
  const ListedUnit* unit = nullptr;
  std::string_view instead;
};

/// The spelling `text`, or null. Capital and small letters count.
const Spelling* find_spelling(std::string_view text);

/// The spelling that is read and differs from `text` in capital and small letters only, or empty.
std::string_view same_but_for_case(std::string_view text);

/// Ready for the end of a message: "did you mean lbf?" or the whole list.
std::string unit_suggestion(std::string_view text);

}  // namespace jambcheck::units
