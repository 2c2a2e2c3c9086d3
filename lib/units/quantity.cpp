#include "units/quantity.h"

#include <cmath>

#include "text/number.h"
#include "units/amount.h"
#include "units/shift.h"

namespace jambcheck::units {
namespace {

using text::MessageId;

/// Whether the text behind the number is one of the forms that only lengths have: 4 5/8", 7ft 4in, 8 feet.
bool has_length_form(Scanner scanner) {
  if (scanner.sign() == Sign::foot_mark || scanner.sign() == Sign::inch_mark) return true;
  const std::string_view word = scanner.take_letters();
  if (word == "feet" || word == "foot" || word == "inch" || word == "inches") return true;
  if (word != "ft") return false;
  scanner.skip_blanks();
  if (scanner.take(Sign::dash)) scanner.skip_blanks();
  return scanner.sign() == Sign::digit || scanner.sign() == Sign::fraction || scanner.sign() == Sign::point;
}

Expected<Quantity> without_unit(const Scanner& scanner, const Amount& amount, double value, Bare bare) {
  // "1 1/2" is how lengths are written; as a pure number it is more likely a forgotten unit.
  if (bare == Bare::refuse || amount.mixed)
    return tl::unexpected(
        problem_at(scanner, MessageId::U010, amount.start, amount.end, {"a unit such as in, lbf or psf"}));
  return Quantity{value, {}};
}

}  // namespace

Expected<Quantity> parse_quantity(std::string_view text, Bare bare) {
  Scanner scanner(text);
  scanner.skip_blanks();
  const std::size_t start = scanner.at();
  const bool negative = scanner.take(Sign::dash);
  if (!negative) scanner.take(Sign::plus);
  const auto amount = read_amount(scanner);
  if (!amount) return tl::unexpected(amount.error());
  const double number = negative ? -amount->value : amount->value;
  const bool gap = scanner.skip_blanks();
  if (scanner.sign() == Sign::end) return without_unit(scanner, *amount, number, bare);
  if (has_length_form(scanner)) {
    if (negative) return tl::unexpected(problem_at(scanner, MessageId::U014, start, amount->end));
    return parse_length(text);
  }
  const Sign next = scanner.sign();
  const bool goes_on = next == Sign::digit || next == Sign::point || next == Sign::comma || next == Sign::dash ||
                       (!gap && next == Sign::slash);
  if (goes_on) return tl::unexpected(not_understood(scanner));

  const auto unit = parse_unit(scanner.unit_text());
  if (!unit) return tl::unexpected(shifted(unit.error(), scanner.at()));
  const double value = unit->to_canonical(number);
  if (!std::isfinite(value)) return tl::unexpected(problem_at(scanner, MessageId::U005, amount->start, amount->end));
  return Quantity{value, *unit};
}

std::string show(double value, const Unit& unit, int digits) {
  const std::string number = text::rounded(unit.from_canonical(value), digits);
  return unit.name == "1" || std::isnan(value) ? number : number + " " + unit.name;
}

Expected<double> convert(const Quantity& quantity, const Dimension& wanted, std::string_view name) {
  if (quantity.shown.dimension == wanted) return quantity.value;
  Dimension speed, pressure;
  speed.of[kLength] = Exponent(1);
  speed.of[kTime] = Exponent(-1);
  pressure.of[kForce] = Exponent(1);
  pressure.of[kLength] = Exponent(-2);
  const bool speed_for_pressure = quantity.shown.dimension == speed && wanted == pressure;
  return tl::unexpected(text::Problem{speed_for_pressure ? MessageId::U021 : MessageId::U020,
                                      {std::string(name), show(quantity.value, quantity.shown),
                                       describe(quantity.shown.dimension), describe(wanted)}});
}

}  // namespace jambcheck::units
