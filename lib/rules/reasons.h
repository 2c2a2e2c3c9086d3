#pragma once
// Inside of rules: why a check is as it is, in words.
#include "rules/judge.h"

namespace jambcheck::rules {

/// A flag or a line of `applies` that could not be decided, for want of a value.
bool undecided_flag(const Site& site, std::uint8_t record);

/// What a site recorded; `watched` is the number it is about, NaN for none.
Reason site_reason(const Site& site, std::uint8_t record, double watched);
/// The question that a missing value leads to.
Reason missing_reason(const Plan& plan, const Source& source);
/// No value, and nothing that explains it.
Reason fault(const Rule& rule);

}  // namespace jambcheck::rules
