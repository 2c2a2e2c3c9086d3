// `jambcheck start`: a project file to begin with.
#include <filesystem>
#include <iostream>

#include <fmt/format.h>
#include <unistd.h>

#include "cli/commands.h"
#include "dialog/starter.h"

namespace jambcheck::cli {

Exit run_start(Context& context, const std::string& file, bool may_ask) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  std::error_code error;
  if (file != "-" && std::filesystem::exists(file, error)) {
    text::Diagnostics diagnostics;
    diagnostics.add(text::MessageId::S014, {}, {file});
    context.report(diagnostics);
    return Exit::file;
  }
  dialog::Starter starter(*set);
  const bool terminal = isatty(STDIN_FILENO) != 0 && isatty(STDERR_FILENO) != 0;
  if (terminal && may_ask && !context.options().quiet) starter.ask(std::cin, std::cerr);
  if (file == "-") return context.write(starter.text());
  const std::string problem = write_file(file, starter.text());
  if (!problem.empty()) {
    text::Diagnostics diagnostics;
    diagnostics.add(text::MessageId::L006, {context.sources().add(file, ""), 0, 0, 0}, {file, problem});
    context.report(diagnostics);
    return Exit::file;
  }
  context.say(fmt::format("{} is written: open it, put in what you know, and run  jambcheck check {}", file, file));
  return Exit::holds;
}

}  // namespace jambcheck::cli
