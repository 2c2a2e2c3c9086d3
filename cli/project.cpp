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

OneOpening load_opening(Context& context, const std::string& file, const std::string& mark) {
  OneOpening one;
  const auto without = [&](Exit problem) {
    one.problem = problem;
    return std::move(one);
  };
  one.set = context.rule_set();
  if (!one.set) return without(Exit::broken);
  Exit problem{};
  one.project = load_project(context, *one.set, file, problem);
  if (!one.project) return without(problem);
  const opening::Opening* found = find_opening(context, *one.project, mark);
  if (!found) return without(Exit::usage);
  if (found->broken || one.project->broken) return without(Exit::input);
  // The address is that of the vector's storage, which goes along when the project is moved.
  one.opening = found;
  return one;
}

std::vector<std::string> marks_of(const opening::Project& project) {
  std::vector<std::string> marks;
  for (const auto& o : project.openings) marks.push_back(o.mark);
  return marks;
}

}  // namespace jambcheck::cli
