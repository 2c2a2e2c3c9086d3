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

std::vector<std::string> marks_of(const opening::Project& project);

}  // namespace jambcheck::cli
