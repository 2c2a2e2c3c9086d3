// `jambcheck check` and `jambcheck lint`.
#include <algorithm>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/project.h"
#include "opening/anchor_data.h"
#include "papers/check_report.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

using rules::State;

/// The openings asked for; reports marks that are not in the project.
bool select(Context& context, const opening::Project& project, const std::vector<std::string>& only, std::vector<const opening::Opening*>& out) {
  text::Diagnostics diagnostics;
  for (const auto& mark : only)
    if (std::none_of(project.openings.begin(), project.openings.end(), [&](const auto& o) { return o.mark == mark; }))
      diagnostics.add(text::MessageId::L003, {}, {mark, text::suggestion(mark, marks_of(project))});
  context.report(diagnostics);
  if (diagnostics.has_errors()) return false;
  for (const auto& o : project.openings) {
    const bool wanted = only.empty() || std::find(only.begin(), only.end(), o.mark) != only.end();
    if (wanted && !o.broken && !project.broken) out.push_back(&o);
  }
  return true;
}

Exit exit_for(const std::vector<verdict::OpeningResult>& results, const std::string& stop_on) {
  State worst = State::holds;
  for (const auto& r : results) worst = rules::worse(worst, r.state);
  const auto has = [&](State s) { return std::any_of(results.begin(), results.end(), [&](const auto& r) { return r.state == s; }); };
  if (stop_on == "never") return Exit::holds;
  if (has(State::short_)) return Exit::short_;
  if ((stop_on == "engineer" || stop_on == "unknown") && has(State::engineer)) return Exit::open;
  if (stop_on == "unknown" && has(State::not_shown)) return Exit::open;
  return Exit::holds;
}

}  // namespace

Exit run_check(Context& context, const CheckArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit problem{};
  const auto project = load_project(context, *set, arguments.file, problem);
  if (!project) return problem;
  std::vector<const opening::Opening*> wanted;
  if (!select(context, *project, arguments.only, wanted)) return Exit::usage;
  if (wanted.empty()) return Exit::input;
  verdict::Checker checker(*set);
  checker.try_answers(true);
  checker.list_by_others(context.options().verbose || context.options().json);
  checker.try_assumed(context.options().verbose);
  const auto results = checker.check_all(*project, wanted, context.options().jobs);
  papers::ReportOptions options{context.options().verbose, context.options().digits, arguments.file, {}};
  for (const auto& o : project->openings)
    if ((o.broken || project->broken) && (arguments.only.empty() || std::find(arguments.only.begin(), arguments.only.end(), o.mark) != arguments.only.end()))
      options.not_read.push_back(o.mark);
  const Exit written = context.write(context.options().json ? papers::check_json(*project, results, *set, options) : papers::check_text(*project, results, options));
  if (written != Exit::holds) return written;
  return problem == Exit::input ? Exit::input : exit_for(results, arguments.stop_on);
}

namespace {

/// A file of anchor data by itself.
Exit lint_anchor_data(Context& context, const rules::RuleSet& set, const text::SourceFile& source) {
  text::Diagnostics diagnostics;
  const auto data = opening::read_anchor_data(source, set, diagnostics);
  context.report(diagnostics);
  if (!data) return Exit::input;
  context.say(fmt::format("{}: {} rows of anchor data, nothing to mend", source.name, data->sizes.size()));
  return Exit::holds;
}

}  // namespace

Exit run_lint(Context& context, const std::vector<std::string>& files, const std::string& map, const std::string& base) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit worst = Exit::holds;
  for (const auto& file : files) {
    const ScheduleArguments schedule{file, map, base, {}, "never", true};
    if (is_schedule(schedule)) {
      worst = std::max(worst, run_schedule(context, schedule));
      continue;
    }
    const auto* source = context.read(file);
    if (source && opening::is_anchor_data(*source)) {
      worst = std::max(worst, lint_anchor_data(context, *set, *source));
      continue;
    }
    Exit problem = source ? Exit::holds : Exit::file;
    const auto project = source ? load_project(context, *set, *source, problem, true) : std::nullopt;
    if (problem != Exit::holds) worst = std::max(worst, problem);
    else context.say(fmt::format("{}: {} openings, nothing to mend", file, project->openings.size()));
  }
  return worst;
}

}  // namespace jambcheck::cli
