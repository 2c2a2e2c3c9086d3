#include "units/unit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "text/number.h"
#include "units/unit_list.h"

namespace jambcheck::units {
namespace {

using text::MessageId;
using text::Problem;

constexpr std::string_view kExamples = "write units as lbf/in^2, psi^(1/2)*in^(1/2), 1/degF or ft-lbf";

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_blank(char c) { return c == ' ' || c == '\t'; }
constexpr bool is_sign(char c) { return c == '*' || c == '/' || c == '^' || c == '(' || c == ')'; }

/// One reading of a unit text from left to right.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  Expected<Unit> read() {
    skip_blanks();
    if (at_end()) return fail("there is none", kExamples, at_, 0);
    if (peek() == '1') {
      ++at_;
      unit_.name = "1";
      skip_blanks();
      if (at_end()) return unit_;
      if (!take('/')) return fail("after the 1 only / and a unit may follow", kExamples, at_, 1);
      unit_.name += '/';
      if (const auto problem = factor(true)) return tl::unexpected(*problem);
    } else {
      unit_.name.clear();
      if (const auto problem = factor(false)) return tl::unexpected(*problem);
    }
    return rest();
  }

 private:
  using Failure = std::optional<Problem>;

  Expected<Unit> rest() {
    for (skip_blanks(); !at_end(); skip_blanks()) {
      const char sign = peek();
      if (sign != '*' && sign != '/')
        return fail("between two units stands * or /", kExamples, at_, std::min<std::size_t>(1, text_.size() - at_));
      ++at_;
      unit_.name += sign;
      if (const auto problem = factor(sign == '/')) return tl::unexpected(*problem);
      unit_.offset = 0;
    }
    if (offset_allowed_) unit_.offset = only_->offset;
    unit_.factor = static_cast<double>(factor_.value());
    if (factor_.exact() && factor_.bottom != 1) {
      unit_.top = static_cast<double>(factor_.top);
      unit_.bottom = static_cast<double>(factor_.bottom);
    }
    // An extreme product must not become 0 or unlimited without a word.
    const bool countable = std::isfinite(unit_.factor) && unit_.factor >= std::numeric_limits<double>::min();
    if (!countable || !unit_.dimension.fits())
      return fail("its exponents are too large", "write the unit with smaller exponents", 0, text_.size());
    return unit_;
  }

  /// name ["^" exponent], taken into the product.
  Failure factor(bool below) {
    skip_blanks();
    const std::size_t start = at_;
    while (!at_end() && !is_blank(peek()) && !is_sign(peek())) ++at_;
    const std::string_view name = text_.substr(start, at_ - start);
    if (name.empty()) return problem("here a unit is missing", kExamples, at_, at_end() ? 0 : 1);
    const Spelling* spelling = find_spelling(name);
    if (spelling == nullptr || spelling->unit == nullptr) return unknown(spelling, name, start);
    const ListedUnit& listed = *spelling->unit;
    if (listed.name == "1") return problem("the 1 may stand at the front only", kExamples, start, 1);

    Exponent e(1);
    skip_blanks();
    if (take('^')) {
      // lbf-in^2 is read by some as lbf*in^2 and by others as (lbf*in)^2.
      if (name.find('-') != std::string_view::npos)
        return problem("a power of '" + std::string(name) + "' can be read in two ways", "write it with *, as lbf*in^2",
                       start, name.size());
      if (auto bad = exponent(e)) return bad;
    }
    offset_allowed_ = only_ == nullptr && !below && e == Exponent(1);
    only_ = &listed;
    unit_.name += std::string(listed.name) + as_power(e);
    const Exponent signed_e = below ? Exponent(0) - e : e;
    factor_ = factor_ * power(listed.factor, signed_e);
    unit_.dimension = unit_.dimension * listed.dimension.power(signed_e);
    return {};
  }

  Failure exponent(Exponent& out) {
    skip_blanks();
    const std::size_t start = at_;
    const bool bracket = take('(');
    if (bracket) skip_blanks();
    const std::optional<double> top = decimal();
    std::optional<double> bottom = 1;
    bool quotient = false;
    if (bracket) {
      skip_blanks();
      quotient = take('/');
      if (quotient) {
        skip_blanks();
        bottom = at_end() || !is_digit(peek()) ? std::nullopt : decimal();
        skip_blanks();
      }
    }
    const bool closed = !bracket || take(')');
    constexpr double kLargest = 1000;
    const bool counted = top && bottom && std::fabs(*top) <= kLargest && *bottom <= kLargest;
    if (!closed || !counted) return bad_exponent(start);
    if (quotient) {
      if (*top != std::trunc(*top) || *bottom != std::trunc(*bottom) || *bottom == 0) return bad_exponent(start);
      out = Exponent(static_cast<int>(*top), static_cast<int>(*bottom));
      return {};
    }
    if (!Exponent::from_double(*top, out)) return bad_exponent(start);
    return {};
  }

  /// ["-"] digits ["." digits]
  std::optional<double> decimal() {
    const std::size_t start = at_;
    take('-');
    const std::size_t digits = at_;
    skip_digits();
    if (at_ == digits) return std::nullopt;
    if (!at_end() && peek() == '.') {
      ++at_;
      const std::size_t decimals = at_;
      skip_digits();
      if (at_ == decimals) return std::nullopt;
    }
    return text::parse_number(text_.substr(start, at_ - start));
  }

  Failure unknown(const Spelling* refused, std::string_view name, std::size_t start) const {
    const auto length = static_cast<std::uint32_t>(name.size());
    const auto where = static_cast<std::uint32_t>(start);
    if (refused == nullptr && name.size() > 1) refused = find_spelling(lowered(name));
    const std::string_view other_case = same_but_for_case(name);
    if (!other_case.empty())
      return Problem{MessageId::U004, {std::string(name), std::string(other_case)}, where, length};
    if (refused != nullptr && refused->unit == nullptr)
      return Problem{MessageId::U002, {std::string(name), std::string(refused->instead)}, where, length};
    if (is_digit(name.front()))
      return problem("here is a number instead of a unit",
                     "write powers with ^ and a fraction of them in brackets, as in^(1/2)", start, name.size());
    const std::size_t letters = name.find_first_of("0123456789");
    if (letters != std::string_view::npos && letters != 0 && find_spelling(name.substr(0, letters)) != nullptr)
      return problem("'" + std::string(name) + "' has a digit in it", "write powers with ^, as in^2", start,
                     name.size());
    return Problem{MessageId::U001, {std::string(name), unit_suggestion(name)}, where, length};
  }

  static std::string lowered(std::string_view name) {
    std::string out(name);
    for (char& c : out)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
  }

  Failure bad_exponent(std::size_t start) const {
    return problem("the exponent must be a number such as 2, 1.5, -1 or (7/4)", kExamples, start,
                   std::max(at_, std::min(start + 1, text_.size())) - start);
  }

  Failure problem(std::string_view what, std::string_view todo, std::size_t start, std::size_t length) const {
    return Problem{MessageId::U003,
                   {std::string(text::trim(text_)), std::string(what), std::string(todo)},
                   static_cast<std::uint32_t>(start),
                   static_cast<std::uint32_t>(length)};
  }
  Expected<Unit> fail(std::string_view what, std::string_view todo, std::size_t start, std::size_t length) const {
    return tl::unexpected(*problem(what, todo, start, length));
  }

  [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
  [[nodiscard]] char peek() const { return text_[at_]; }
  bool take(char c) {
    if (at_end() || peek() != c) return false;
    ++at_;
    return true;
  }
  void skip_blanks() {
    while (!at_end() && is_blank(peek())) ++at_;
  }
  void skip_digits() {
    while (!at_end() && is_digit(peek())) ++at_;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  Unit unit_;
  Ratio factor_;
  const ListedUnit* only_ = nullptr;  ///< the last unit read
  bool offset_allowed_ = false;       ///< the text is this one unit and nothing else
};

}  // namespace

Expected<Unit> parse_unit(std::string_view text) { return Reader(text).read(); }

}  // namespace jambcheck::units
