// `jambcheck ask`: one opening without a file, by questions on a terminal or by flags.
#include <filesystem>
#include <iostream>

#include <fmt/format.h>
#include <unistd.h>

#include "cli/commands.h"
#include "dialog/interview.h"
#include "dialog/project_text.h"
#include "papers/check_report.h"
#include "schedule/mapping.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

using opening::Written;
using text::MessageId;

/// field=value as values with places in the flag itself.
bool read_set(Context& context, const std::vector<std::string>& flags, std::vector<Written>& out) {
  text::Diagnostics diagnostics;
  for (const auto& flag : flags) {
    const auto* source = context.sources().add("--set", flag);
    const auto size = static_cast<std::uint32_t>(flag.size());
    const auto equal = flag.find('=');
    if (equal == std::string::npos || equal == 0) {
      diagnostics.add(MessageId::S015, {source, 1, 1, size}, {flag});
      continue;
    }
    const std::string path(text::trim(flag.substr(0, equal)));
    if (path == "like" || opening::owner_of(path) == opening::Owner::nobody)
      diagnostics.add(MessageId::S017, {source, 1, 1, static_cast<std::uint32_t>(equal)}, {path, text::suggestion(path, schedule::column_names())});
    else
      out.push_back({path, flag.substr(equal + 1), {source, 1, static_cast<std::uint32_t>(equal + 2), size - static_cast<std::uint32_t>(equal) - 1}});
  }
  context.report(diagnostics);
  return !diagnostics.has_errors();
}

/// Reads what the flags say, and tells their problems.
bool is_readable(Context& context, const rules::RuleSet& set, std::vector<Written> values) {
  const bool marked = std::any_of(values.begin(), values.end(), [](const Written& v) { return v.path == "mark"; });
  if (!marked) values.insert(values.begin(), {"mark", "D-1", {}});
  text::Diagnostics diagnostics;
  const auto read = opening::read_written(values, "the opening", {}, set, diagnostics);
  context.report(diagnostics, context.options().verbose);
  return !read.opening.broken;
}

bool may_save(Context& context, const std::string& file) {
  std::error_code error;
  if (file.empty() || !std::filesystem::exists(file, error)) return true;
  text::Diagnostics diagnostics;
  diagnostics.add(MessageId::S014, {}, {file});
  context.report(diagnostics);
  return false;
}

Exit save(Context& context, const rules::RuleSet& set, const dialog::Interview& interview, const std::string& file) {
  const std::string problem = write_file(file, dialog::write_project({interview.values(), "Written by jambcheck ask.", false}, set));
  if (problem.empty()) {
    context.say("saved as " + file);
    return Exit::holds;
  }
  text::Diagnostics diagnostics;
  diagnostics.add(MessageId::L006, {context.sources().add(file, ""), 0, 0, 0}, {file, problem});
  context.report(diagnostics);
  return Exit::file;
}

}  // namespace

Exit run_ask(Context& context, const AskArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  std::vector<Written> values;
  if (!read_set(context, arguments.set, values) || !is_readable(context, *set, values)) return Exit::input;
  if (!may_save(context, arguments.save)) return Exit::file;
  dialog::Interview interview(*set, values);
  const bool terminal = isatty(STDIN_FILENO) != 0 && isatty(STDERR_FILENO) != 0;
  if (terminal && arguments.may_ask && !context.options().quiet) interview.run(std::cin, std::cerr);
  interview.finish();
  const papers::ReportOptions options{context.options().verbose, context.options().digits, arguments.save.empty() ? "FILE   (ask --save FILE writes it)" : arguments.save, {}};
  const Exit written = context.write(context.options().json ? papers::check_json(interview.project(), {interview.result()}, *set, options)
                                                             : papers::check_text(interview.project(), {interview.result()}, options));
  if (written != Exit::holds) return written;
  if (!arguments.save.empty()) {
    const Exit saved = save(context, *set, interview, arguments.save);
    if (saved != Exit::holds) return saved;
  }
  return interview.result().state == rules::State::short_ ? Exit::short_ : Exit::holds;
}

}  // namespace jambcheck::cli
