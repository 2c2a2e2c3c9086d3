// Lengths as they stand on a tape, a drawing or in a spreadsheet.
#include <cmath>

#include "units/amount.h"
#include "units/quantity.h"
#include "units/shift.h"

namespace jambcheck::units {
namespace {

using text::MessageId;
using text::Problem;

constexpr double kInchesPerFoot = 12;

tl::unexpected<Problem> refuse(Problem problem) { return tl::unexpected<Problem>(std::move(problem)); }

Unit length_unit(double factor, const char* name) {
  Unit unit;
  unit.factor = factor;
  unit.dimension.of[kLength] = Exponent(1);
  unit.name = name;
  return unit;
}

/// A mark or one of the words, with nothing behind it that would make it part of a product (ft-lbf, in^2).
bool take_mark_or_word(Scanner& scanner, Sign mark, std::initializer_list<std::string_view> words) {
  if (scanner.take(mark)) return true;
  Scanner ahead = scanner;
  const std::string_view word = ahead.take_letters();
  for (const auto known : words) {
    if (word != known) continue;
    scanner = ahead;
    return true;
  }
  return false;
}

bool take_foot(Scanner& scanner) { return take_mark_or_word(scanner, Sign::foot_mark, {"ft", "feet", "foot"}); }
bool take_inch(Scanner& scanner) { return take_mark_or_word(scanner, Sign::inch_mark, {"in", "inch", "inches"}); }

bool starts_amount(const Scanner& scanner) {
  const Sign sign = scanner.sign();
  return sign == Sign::digit || sign == Sign::fraction || sign == Sign::point;
}

/// Over blanks and one dash to the inches behind the feet; nothing is read when none follow.
bool skip_to_inches(Scanner& scanner) {
  Scanner ahead = scanner;
  ahead.skip_blanks();
  if (ahead.take(Sign::dash)) ahead.skip_blanks();
  if (!starts_amount(ahead)) return false;
  scanner = ahead;
  return true;
}

Expected<Quantity> finished(const Scanner& scanner, double inches, const Unit& shown) {
  if (!std::isfinite(inches)) return refuse(problem_at(scanner, MessageId::U005, 0, scanner.at()));
  return Quantity{inches, shown};
}

Problem without_unit(const Scanner& scanner, const Amount& amount) {
  return problem_at(scanner, MessageId::U010, amount.start, amount.end, {"in, ft, mm or another unit of length"});
}

/// The inches behind `feet`, up to the end of the text.
Expected<Quantity> feet_and_inches(Scanner& scanner, const Amount& feet) {
  if (!feet.whole) return refuse(problem_at(scanner, MessageId::U011, feet.start, feet.end));
  const auto inches = read_amount(scanner);
  if (!inches) return refuse(inches.error());
  scanner.skip_blanks();
  if (scanner.sign() == Sign::end) return refuse(without_unit(scanner, *inches));
  if (!take_inch(scanner)) return refuse(not_understood(scanner));
  if (inches->value >= kInchesPerFoot) return refuse(problem_at(scanner, MessageId::U012, inches->start, inches->end));
  scanner.skip_blanks();
  if (scanner.sign() != Sign::end) return refuse(not_understood(scanner));
  return finished(scanner, feet.value * kInchesPerFoot + inches->value, length_unit(1, "in"));
}

/// One amount in any other unit of length: 2251.075mm, 2.25 m.
Expected<Quantity> in_listed_unit(Scanner& scanner, const Amount& amount) {
  const auto unit = parse_unit(scanner.unit_text());
  if (!unit) return refuse(shifted(unit.error(), scanner.at()));
  const Dimension length = length_unit(1, "in").dimension;
  const Quantity quantity{unit->to_canonical(amount.value), *unit};
  const auto converted = convert(quantity, length, "the length");
  if (!converted) {
    const std::size_t where = amount.start;
    return refuse({converted.error().id, converted.error().args, static_cast<std::uint32_t>(where),
                   static_cast<std::uint32_t>(scanner.text().size() - where)});
  }
  return finished(scanner, *converted, *unit);
}

/// A leading minus sign: a length has none; anything else behind a dash is no length at all.
Problem signed_length(Scanner scanner) {
  const Scanner at_sign = scanner;
  scanner.take(Sign::dash);
  scanner.skip_blanks();
  if (!starts_amount(scanner)) return not_understood(at_sign);
  const auto amount = read_amount(scanner);
  if (!amount) return amount.error();
  return problem_at(scanner, MessageId::U014, at_sign.at(), amount->end);
}

}  // namespace

Expected<Quantity> parse_length(std::string_view text) {
  Scanner scanner(text);
  scanner.skip_blanks();
  if (scanner.sign() == Sign::dash) return refuse(signed_length(scanner));
  const auto amount = read_amount(scanner);
  if (!amount) return refuse(amount.error());
  scanner.skip_blanks();
  if (scanner.sign() == Sign::end) return refuse(without_unit(scanner, *amount));
  if (scanner.sign() != Sign::letter && scanner.sign() != Sign::foot_mark && scanner.sign() != Sign::inch_mark)
    return refuse(not_understood(scanner));

  Scanner ahead = scanner;
  const bool foot = take_foot(ahead);
  if (foot && skip_to_inches(ahead)) return feet_and_inches(ahead, *amount);
  const bool inch = !foot && take_inch(ahead);
  if (!foot && !inch) return in_listed_unit(scanner, *amount);
  const bool mark = scanner.sign() != Sign::letter;
  ahead.skip_blanks();
  if (ahead.sign() == Sign::end)
    return foot ? finished(ahead, amount->value * kInchesPerFoot, length_unit(kInchesPerFoot, "ft"))
                : finished(ahead, amount->value, length_unit(1, "in"));
  // "8 ft-lbf" and "8 in^2" have a unit, but of something else; "8 in 5/8" just goes on.
  if (mark || starts_amount(ahead)) return refuse(not_understood(ahead));
  return in_listed_unit(scanner, *amount);
}

}  // namespace jambcheck::units
