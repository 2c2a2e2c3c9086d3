#include "opening/date.h"

#include <algorithm>
#include <chrono>

#include "text/number.h"

namespace jambcheck::opening {
namespace {

constexpr std::string_view kForm = "dddd-dd-dd";

bool has_form(std::string_view text) {
  return text.size() == kForm.size() && std::equal(text.begin(), text.end(), kForm.begin(), [](char c, char form) {
           return form == 'd' ? c >= '0' && c <= '9' : c == form;
         });
}

int number(std::string_view digits) {
  int value = 0;
  for (const char c : digits) value = value * 10 + (c - '0');
  return value;
}

}  // namespace

units::Expected<Date> parse_date(std::string_view text) {
  const std::string_view plain = text::trim(text);
  if (has_form(plain)) {
    const Date out{number(plain.substr(0, 4)), number(plain.substr(5, 2)), number(plain.substr(8, 2))};
    const std::chrono::year_month_day day(std::chrono::year(out.year), std::chrono::month(static_cast<unsigned>(out.month)),
                                          std::chrono::day(static_cast<unsigned>(out.day)));
    if (day.ok() && out.year > 0) return out;
  }
  return tl::unexpected(text::Problem{text::MessageId::A008, {"", std::string(plain)}, 0, 0});
}

}  // namespace jambcheck::opening
