#pragma once
// Reading and printing of numbers: the only place, so that no locale and no octal ever matters.
#include <optional>
#include <string>
#include <string_view>

namespace jambcheck::text {

/// A plain decimal number: optional sign, digits, point, exponent. No hex, octal, inf or nan.
/// Empty when `text` as a whole is anything else.
std::optional<double> parse_number(std::string_view text);

/// A number or an exact quotient of two whole numbers such as 2/37 or 3/16.
std::optional<double> parse_number_or_quotient(std::string_view text);

/// The shortest text that reads back as the same double.
std::string shortest(double value);

/// `digits` significant digits, no trailing zeros, no exponent between 1e-4 and 1e9.
std::string rounded(double value, int digits = 4);

/// Leading and trailing blanks removed.
std::string_view trim(std::string_view text);

}  // namespace jambcheck::text
