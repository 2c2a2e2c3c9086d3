#pragma once
// More steel is not always more strength: thin plate and lower bending strength can make the next size up the weaker one.
#include <optional>

#include "verdict/check.h"

namespace jambcheck::verdict {

/// A smaller fastener of the same kind and length that would use less of its strength.
struct Smaller {
  double diameter = 0;  ///< in
  double ratio = 0;     ///< of the same check in the same load case
};

/// The next sizes down are tried in the very case of `check`, nearest first. Nothing for checks without a ratio, for kinds
/// whose sizes stand in no table, and for a fastener whose root or head the user has measured.
std::optional<Smaller> smaller_is_stronger(const rules::RuleSet& set, const CheckResult& check);

}  // namespace jambcheck::verdict
