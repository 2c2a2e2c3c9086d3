#pragma once
// Reading a project for a command.
#include <optional>
#include <string>
#include <vector>

#include "cli/context.h"
#include "opening/model.h"

namespace jambcheck::cli {

/// Reads and reports; `problem` is Exit::input when anything is wrong. Empty only when the file can't be read at all:
/// openings that are good stay usable beside broken ones.
/// Notes are printed with `notes` or -v.
std::optional<opening::Project> load_project(Context& context, const rules::RuleSet& set, const std::string& file, Exit& problem, bool notes = false);

/// The same for a file that was read already.
std::optional<opening::Project> load_project(Context& context, const rules::RuleSet& set, const text::SourceFile& source, Exit& problem, bool notes = false);

/// A project and one opening of it, ready to be worked on.
struct OneOpening {
  const rules::RuleSet* set = nullptr;
  std::optional<opening::Project> project;
  const opening::Opening* opening = nullptr;  ///< in `project`
  Exit problem = Exit::holds;                 ///< why there is none; what to say has been said
  explicit operator bool() const { return opening != nullptr; }
};

/// Rules, project and the opening with this mark; without value when any of them is missing or has errors.
OneOpening load_opening(Context& context, const std::string& file, const std::string& mark);

/// The opening with this mark; null and told, with a suggestion, when there is none.
const opening::Opening* find_opening(Context& context, const opening::Project& project, const std::string& mark);

std::vector<std::string> marks_of(const opening::Project& project);

}  // namespace jambcheck::cli
