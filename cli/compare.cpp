// `jambcheck compare`: what changed between two projects or two results, and what came of it.
#include "compare/compare.h"

#include "cli/commands.h"
#include "cli/project.h"
#include "text/number.h"

namespace jambcheck::cli {
namespace {

std::optional<compare::Side> side_of_project(Context& context, const rules::RuleSet& set, const text::SourceFile& source, Exit& problem) {
  const auto project = load_project(context, set, source, problem);
  if (!project) return std::nullopt;
  std::vector<const opening::Opening*> wanted;
  for (const auto& o : project->openings)
    if (!o.broken && !project->broken) wanted.push_back(&o);
  verdict::Checker checker(set);
  return compare::side_of(*project, checker.check_all(*project, wanted, context.options().jobs));
}

std::optional<compare::Side> side_of(Context& context, const rules::RuleSet& set, const std::string& file, Exit& problem) {
  const auto* source = context.read(file);
  if (!source) {
    problem = Exit::file;
    return std::nullopt;
  }
  const std::string_view start = text::trim(source->text);
  if (start.empty() || start.front() != '{') return side_of_project(context, set, *source, problem);
  std::string why;
  auto side = compare::side_of_json(source->text, why);
  if (side) return side;
  text::Diagnostics diagnostics;
  diagnostics.add(text::MessageId::S016, {source, 0, 0, 0}, {file, why});
  context.report(diagnostics);
  problem = Exit::input;
  return std::nullopt;
}

}  // namespace

Exit run_compare(Context& context, const CompareArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit old_problem = Exit::holds, new_problem = Exit::holds;
  const auto before = side_of(context, *set, arguments.old_file, old_problem);
  const auto after = side_of(context, *set, arguments.new_file, new_problem);
  if (!before || !after) return std::max(old_problem, new_problem);
  const auto result = compare::compare(*before, *after, arguments.threshold);
  const Exit written = context.write(context.options().json ? compare::to_json(result, arguments.old_file, arguments.new_file, arguments.threshold)
                                                             : compare::to_text(result, arguments.old_file, arguments.new_file));
  if (written != Exit::holds) return written;
  const Exit problem = std::max(old_problem, new_problem);
  return problem != Exit::holds ? problem : result.worse ? Exit::short_ : Exit::holds;
}

}  // namespace jambcheck::cli
