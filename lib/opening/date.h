#pragma once
// Days of the calendar, as 2027-06-30. Nothing here asks a clock what day it is.
#include <string_view>
#include <tuple>

#include "units/unit.h"

namespace jambcheck::opening {

struct Date {
  int year = 0, month = 0, day = 0;
};

inline bool operator<(const Date& a, const Date& b) {
  return std::tie(a.year, a.month, a.day) < std::tie(b.year, b.month, b.day);
}

/// Year, month and day in this order: "2027-06-30". Problem: A008 for anything else, also for days that no month has.
/// Its {0} is left empty for the field.
units::Expected<Date> parse_date(std::string_view text);

}  // namespace jambcheck::opening
