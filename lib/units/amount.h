#pragma once
// Inside of units: the numbers people write before a unit, and the signs of spreadsheets and drawings around them.
#include <cstddef>
#include <string_view>

#include "units/unit.h"

namespace jambcheck::units {

/// What stands at a place of the text. Look-alikes from spreadsheets count as the sign they stand for.
enum class Sign { end, digit, letter, point, comma, plus, dash, slash, foot_mark, inch_mark, blank, fraction, other };

/// A text read from left to right, sign by sign.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}

  [[nodiscard]] Sign sign() const;
  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] std::string_view text() const { return text_; }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
  /// The rest without the blanks at its end, for parse_unit.
  [[nodiscard]] std::string_view unit_text() const;
  [[nodiscard]] std::string_view from(std::size_t start) const { return text_.substr(start, at_ - start); }
  void back_to(std::size_t at) { at_ = at; }

  void skip();  ///< over the sign here
  bool take(Sign sign);
  bool skip_blanks();                ///< whether there was any
  std::string_view take_digits();
  std::string_view take_letters();
  /// The value of the single-character fraction here, 0.5 for ½.
  [[nodiscard]] double fraction() const;

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

/// An unsigned number: 24.6, 1e-3, 3/16, 1 1/2, 1-1/2, 4½.
struct Amount {
  double value = 0;
  bool whole = false;  ///< written with digits only
  bool mixed = false;  ///< a whole number and a fraction
  std::size_t start = 0, end = 0;
};

/// Problems: U005 size, U013 division by zero, U015 decimal comma, U016 nothing readable,
/// U017 improper fraction after a whole number.
Expected<Amount> read_amount(Scanner& scanner);

/// A message about the bytes `start` to `end` of the scanned text.
text::Problem problem_at(const Scanner& scanner, text::MessageId id, std::size_t start, std::size_t end,
                         text::Args more = {});
/// U016: the text is not understood from here on.
text::Problem not_understood(const Scanner& scanner);

}  // namespace jambcheck::units
