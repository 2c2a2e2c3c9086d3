#pragma once
// The rules built into this program, and whether the files beside it still say the same.
#include <string>

#include "program/native.h"
#include "rules/rule_set.h"

namespace jambcheck::bundle {

enum class Beside { none, same, different };

struct BuiltIn {
  const rules::RuleSet* set = nullptr;  ///< null: this program was built without, or the files beside it differ
  Beside beside = Beside::none;
  std::string first;  ///< of the files that differ, added or gone
};

/// Ties the built-in rules to `solvers` and holds them against rules/ and tables/ below `root`. Files that are there
/// have the word: when one differs in content, there is no built-in set. Size and time of change are looked at first,
/// the content only where these differ.
BuiltIn built_in(const program::NativeRegistry& solvers, const std::string& root);

}  // namespace jambcheck::bundle
