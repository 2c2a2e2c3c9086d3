#pragma once
// Numbers with units, and lengths as they stand on a tape.
#include <string>
#include <string_view>

#include "units/unit.h"

namespace jambcheck::units {

/// A number in canonical units and the unit it was written in.
struct Quantity {
  double value = 0;  ///< canonical
  Unit shown;
};

/// Whether a number may stand without a unit.
enum class Bare { refuse, pure_number };

/// "24.6 psf", "3/16 in", "2.25 m", "90 deg", "0.42" (pure number), "3 %", and every length of parse_length.
/// A number without a unit is a pure number or U010 ("8 what?"); a mixed number without a unit is always U010.
/// The text may use a blank or none between number and unit, the exact quotient 3/16, and a mixed number "1-1/2 in".
/// A leading minus is read before a number with a plain unit (a coordinate of -3 in), not before feet-inch forms: U014.
/// Problems: those of parse_unit and parse_length, their places counted in the whole text.
Expected<Quantity> parse_quantity(std::string_view text, Bare bare = Bare::pure_number);

/// Lengths: 7'-4 5/8", 7' 4-5/8", 7ft 4.625in, 88 5/8", 1 1/2 in, 88.625in, 2251.075mm, 2.25 m; curly quotes
/// and Unicode fractions too.
/// Behind the number: ' ft feet foot, " in inch inches, or any unit of length of the list.
/// Refused with their own message: bare numbers U010, 7.3'4" U011, 8'14" U012, 1/0 U013, negative lengths U014, decimal
/// commas U015, 3 9/8" U017; U016 anything else that is no length, U020 a unit of something else, U005 a huge number.
Expected<Quantity> parse_length(std::string_view text);

/// Feet-inch-fraction to the nearest 1/16 in: 7'-4 5/8", 7'-0 5/8", 7'-0"; less than a foot without feet, so 0'-0 5/16"
/// prints as 5/16". A value that is no sixteenth within 1e-6 in is printed with a leading "~", a negative one with "-".
std::string tape(double inches);
/// Inches only: 88 5/8"
std::string tape_inches(double inches);

/// `value` (canonical) shown in `unit`: "378.4 lbf/in"; pure numbers without unit.
std::string show(double value, const Unit& unit, int digits = 4);

/// The canonical value. U020 when the dimensions differ, U021 for a speed where a pressure is wanted; `name` is what
/// the quantity is for and stands in the message.
Expected<double> convert(const Quantity& quantity, const Dimension& wanted, std::string_view name);

}  // namespace jambcheck::units
