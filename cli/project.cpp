#include "cli/project.h"

#include "opening/anchor_files.h"
#include "text/suggest.h"

namespace jambcheck::cli {

std::optional<opening::Project> load_project(Context& context, const rules::RuleSet& set, const std::string& file, Exit& problem, bool notes) {
  const auto* source = context.read(file);
  if (!source) {
    problem = Exit::file;
    return std::nullopt;
  }
  return load_project(context, set, *source, problem, notes);
}

std::optional<opening::Project> load_project(Context& context, const rules::RuleSet& set, const text::SourceFile& source, Exit& problem, bool notes) {
  text::Diagnostics diagnostics;
  auto project = opening::read_project(source, set, diagnostics);
  opening::read_anchor_files(project, context.sources(), set, diagnostics);
  context.report(diagnostics, notes || context.options().verbose);
  problem = diagnostics.has_errors() ? Exit::input : Exit::holds;
  return project;
}

const opening::Opening* find_opening(Context& context, const opening::Project& project, const std::string& mark) {
  for (const auto& o : project.openings)
    if (o.mark == mark) return &o;
  text::Diagnostics diagnostics;
  diagnostics.add(text::MessageId::L003, {}, {mark, text::suggestion(mark, marks_of(project))});
  context.report(diagnostics);
  return nullptr;
}

std::vector<std::string> marks_of(const opening::Project& project) {
  std::vector<std::string> marks;
  for (const auto& o : project.openings) marks.push_back(o.mark);
  return marks;
}

}  // namespace jambcheck::cli
