#include "cli/project.h"

namespace jambcheck::cli {

std::optional<opening::Project> load_project(Context& context, const rules::RuleSet& set, const std::string& file, Exit& problem, bool notes) {
  const auto* source = context.read(file);
  if (!source) {
    problem = Exit::file;
    return std::nullopt;
  }
  text::Diagnostics diagnostics;
  auto project = opening::read_project(*source, set, diagnostics);
  context.report(diagnostics, notes || context.options().verbose);
  problem = diagnostics.has_errors() ? Exit::input : Exit::holds;
  return project;
}

std::vector<std::string> marks_of(const opening::Project& project) {
  std::vector<std::string> marks;
  for (const auto& o : project.openings) marks.push_back(o.mark);
  return marks;
}

}  // namespace jambcheck::cli
