#pragma once
// Units: a closed list of spellings and their products. Nothing is guessed: `lb`, `mph` as a pressure, free
// prefixes and units side by side without a sign are refused. The list itself is unit_list.def.
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "text/diagnostic.h"
#include "units/dimension.h"

namespace jambcheck::units {

template <class T>
using Expected = tl::expected<T, text::Problem>;

/// A unit: canonical value = factor * value + offset. Canonical units are in, lbf, s, degF, rad.
/// Convert with to_canonical() rather than with the factor: only so 6.35 mm are 0.25 in to the last bit.
/// `offset` is not 0 only for degC standing alone.
struct Unit {
  double factor = 1;
  double offset = 0;
  Dimension dimension;
  std::string name = "1";
  double top = 0, bottom = 0;  ///< the factor as an exact quotient (5/127 for mm) where it is one and no whole number

  [[nodiscard]] double to_canonical(double value) const {
    return (bottom != 0 ? value * top / bottom : value * factor) + offset;
  }
  [[nodiscard]] double from_canonical(double value) const {
    return bottom != 0 ? (value - offset) * bottom / top : (value - offset) / factor;
  }
  friend bool operator==(const Unit& a, const Unit& b) {
    return a.factor == b.factor && a.offset == b.offset && a.dimension == b.dimension;
  }
};

/// unit := "1" | ["1" "/"] factor (("*" | "/") factor)* ; factor := name ["^" exponent]
/// exponent := ["-"] digits ["." digits] | "(" ["-"] digits ["/" digits] ")" ; blanks may stand around the signs;
/// * and / are taken from left to right. e.g. "lbf/in^(7/4)", "psi^(1/2)*in^(1/2)", "ft-lbf", "1/degF". The name of the
/// result is written in one way: "in^1.5" becomes "in^(3/2)", "ft-lb" becomes "ft-lbf". A power of a hyphenated name
/// is refused: lbf-in^2 can be read in two ways.
/// Problems: U001 unknown, U002 known but refused (lb, g, k ...), U003 not in this grammar, U004 capital and small
/// letters.
Expected<Unit> parse_unit(std::string_view text);

/// One row of the closed list, for `jambcheck units` and the tests.
struct UnitRow {
  std::string_view name;      ///< the spelling that is printed
  std::string_view meaning;   ///< "pound force"
  double factor;              ///< to canonical
  double offset;
  std::string_view quantity;  ///< "force", "pressure", ...
  Dimension dimension;
};
const std::vector<UnitRow>& unit_list();

/// A dimension in the words of the list: "pressure (length^(-2) force)", "length"; as to_string() when it has no name.
std::string describe(const Dimension& dimension);

}  // namespace jambcheck::units
