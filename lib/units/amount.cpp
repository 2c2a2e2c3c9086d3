#include "units/amount.h"

#include <algorithm>
#include <array>

#include "text/number.h"

namespace jambcheck::units {
namespace {

using text::MessageId;

struct SignText {
  std::string_view text;
  Sign sign;
  double value = 0;
};

constexpr std::array kSigns = {
    SignText{".", Sign::point},         SignText{",", Sign::comma},         SignText{"+", Sign::plus},
    SignText{"-", Sign::dash},          SignText{"\u2010", Sign::dash},     SignText{"\u2011", Sign::dash},
    SignText{"\u2012", Sign::dash},     SignText{"\u2013", Sign::dash},     SignText{"\u2212", Sign::dash},
    SignText{"/", Sign::slash},         SignText{"\u2044", Sign::slash},    SignText{"'", Sign::foot_mark},
    SignText{"\u2018", Sign::foot_mark}, SignText{"\u2019", Sign::foot_mark}, SignText{"\u2032", Sign::foot_mark},
    SignText{"\"", Sign::inch_mark},    SignText{"\u201C", Sign::inch_mark}, SignText{"\u201D", Sign::inch_mark},
    SignText{"\u2033", Sign::inch_mark}, SignText{" ", Sign::blank},         SignText{"\t", Sign::blank},
    SignText{"\u00A0", Sign::blank},    SignText{"\u2009", Sign::blank},    SignText{"\u202F", Sign::blank},
    SignText{"\u00BD", Sign::fraction, 1.0 / 2}, SignText{"\u00BC", Sign::fraction, 1.0 / 4},
    SignText{"\u00BE", Sign::fraction, 3.0 / 4}, SignText{"\u215B", Sign::fraction, 1.0 / 8},
    SignText{"\u215C", Sign::fraction, 3.0 / 8}, SignText{"\u215D", Sign::fraction, 5.0 / 8},
    SignText{"\u215E", Sign::fraction, 7.0 / 8},
};

const SignText* sign_here(std::string_view rest) {
  for (const auto& sign : kSigns)
    if (rest.front() == sign.text.front() && rest.substr(0, sign.text.size()) == sign.text) return &sign;
  return nullptr;
}

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

Expected<double> number(const Scanner& scanner, std::size_t start) {
  const auto value = text::parse_number(scanner.from(start));
  if (!value) return tl::unexpected(problem_at(scanner, MessageId::U005, start, scanner.at()));
  return *value;
}

/// e5, E-3 after a number; the letters of a unit stay where they are.
void skip_exponent(Scanner& scanner) {
  const std::string_view rest = scanner.rest();
  if (rest.empty() || (rest[0] != 'e' && rest[0] != 'E')) return;
  const std::size_t digits = rest.size() > 1 && (rest[1] == '-' || rest[1] == '+') ? 2 : 1;
  if (rest.size() <= digits || !is_digit(rest[digits])) return;
  scanner.back_to(scanner.at() + digits);
  scanner.take_digits();
}

/// Whether a slash and a digit stand here, as in the second half of 3/16.
bool divides(Scanner scanner) { return scanner.take(Sign::slash) && scanner.sign() == Sign::digit; }

/// "/16" after the digits that began at `start`.
Expected<double> quotient(Scanner& scanner, std::size_t start) {
  const auto top = number(scanner, start);
  if (!top) return top;
  scanner.take(Sign::slash);
  const std::size_t second = scanner.at();
  scanner.take_digits();
  const auto bottom = number(scanner, second);
  if (!bottom) return bottom;
  if (*bottom == 0) return tl::unexpected(problem_at(scanner, MessageId::U013, start, scanner.at()));
  return *top / *bottom;
}

/// The fraction that may follow a whole number: "½", " 5/8", "-5/8". 0 and nothing read when there is none.
Expected<double> fraction_after_whole(Scanner& scanner) {
  const std::size_t before = scanner.at();
  if (!scanner.skip_blanks()) scanner.take(Sign::dash);
  const std::size_t start = scanner.at();
  if (scanner.sign() == Sign::fraction) {
    const double value = scanner.fraction();
    scanner.skip();
    return value;
  }
  if (start != before && !scanner.take_digits().empty() && divides(scanner)) {
    const auto value = quotient(scanner, start);
    if (value && *value >= 1) return tl::unexpected(problem_at(scanner, MessageId::U017, start, scanner.at()));
    return value;
  }
  scanner.back_to(before);
  return 0.0;
}

/// 24.6, .5, 1e-3; a whole number when only digits are found.
Expected<Amount> decimal(Scanner& scanner) {
  Amount out;
  out.start = scanner.at();
  const bool before_point = !scanner.take_digits().empty();
  const std::size_t end_of_whole = scanner.at();
  const bool after_point = scanner.take(Sign::point) && !scanner.take_digits().empty();
  if (!before_point && !after_point) {
    scanner.back_to(out.start);
    return tl::unexpected(not_understood(scanner));
  }
  skip_exponent(scanner);
  out.whole = scanner.at() == end_of_whole;
  Scanner ahead = scanner;
  if (ahead.take(Sign::comma) && !ahead.take_digits().empty())
    return tl::unexpected(problem_at(ahead, MessageId::U015, out.start, ahead.at()));
  const auto value = number(scanner, out.start);
  if (!value) return tl::unexpected(value.error());
  out.value = *value;
  return out;
}

}  // namespace

Sign Scanner::sign() const {
  if (at_ == text_.size()) return Sign::end;
  if (is_digit(text_[at_])) return Sign::digit;
  if (is_letter(text_[at_])) return Sign::letter;
  const SignText* sign = sign_here(rest());
  return sign != nullptr ? sign->sign : Sign::other;
}

void Scanner::skip() {
  if (at_ == text_.size()) return;
  const SignText* sign = sign_here(rest());
  at_ += sign != nullptr ? sign->text.size() : 1;
}

bool Scanner::take(Sign wanted) {
  if (sign() != wanted || wanted == Sign::end) return false;
  skip();
  return true;
}

bool Scanner::skip_blanks() {
  const std::size_t before = at_;
  while (take(Sign::blank)) continue;
  return at_ != before;
}

std::string_view Scanner::unit_text() const {
  Scanner ahead = *this;
  std::size_t end = at_;
  while (ahead.at_ != text_.size()) {
    if (ahead.skip_blanks()) continue;
    ahead.skip();
    end = ahead.at_;
  }
  return text_.substr(at_, end - at_);
}

std::string_view Scanner::take_digits() {
  const std::size_t start = at_;
  while (at_ < text_.size() && is_digit(text_[at_])) ++at_;
  return from(start);
}

std::string_view Scanner::take_letters() {
  const std::size_t start = at_;
  while (at_ < text_.size() && is_letter(text_[at_])) ++at_;
  return from(start);
}

double Scanner::fraction() const {
  const SignText* sign = at_ == text_.size() ? nullptr : sign_here(rest());
  return sign != nullptr ? sign->value : 0;
}

Expected<Amount> read_amount(Scanner& scanner) {
  Amount out;
  out.start = scanner.at();
  if (scanner.sign() == Sign::fraction) {
    out.value = scanner.fraction();
    scanner.skip();
    out.end = scanner.at();
    return out;
  }
  auto first = decimal(scanner);
  if (!first) return first;
  out = *first;
  if (out.whole && divides(scanner)) {
    const auto value = quotient(scanner, out.start);
    if (!value) return tl::unexpected(value.error());
    out.value = *value;
    out.whole = false;
  } else if (out.whole) {
    const std::size_t before = scanner.at();
    const auto fraction = fraction_after_whole(scanner);
    if (!fraction) return tl::unexpected(fraction.error());
    out.mixed = scanner.at() != before;
    out.whole = !out.mixed;
    out.value += *fraction;
  }
  out.end = scanner.at();
  return out;
}

text::Problem problem_at(const Scanner& scanner, MessageId id, std::size_t start, std::size_t end, text::Args more) {
  text::Args args = {std::string(scanner.text().substr(start, end - start))};
  args.insert(args.end(), more.begin(), more.end());
  return {id, args, static_cast<std::uint32_t>(start), static_cast<std::uint32_t>(end - start)};
}

text::Problem not_understood(const Scanner& scanner) {
  const std::size_t end = scanner.text().size();
  const std::string here = scanner.at() == end ? "something is missing at the end"
                                               : "it is not understood from '" + std::string(scanner.rest()) + "' on";
  return {MessageId::U016,
          {std::string(text::trim(scanner.text())), here},
          static_cast<std::uint32_t>(scanner.at()),
          static_cast<std::uint32_t>(end - scanner.at())};
}

}  // namespace jambcheck::units
