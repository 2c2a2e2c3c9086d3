// The commands that draw papers are in a second program beside this one: the libraries for PDF and workbooks take
// longer to load than a whole check. This one reads the command line, and hands it on.
#include <unistd.h>

#include <filesystem>

#include "cli/commands.h"

namespace jambcheck::cli {
namespace {

/// Goes on as the other program; returns only when that is not there.
Exit hand_on(Context& context) {
  std::error_code error;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", error).parent_path() / "jambcheck-papers";
  execv(program.c_str(), context.options().command_line);
  text::Diagnostics diagnostics;
  diagnostics.add(text::MessageId::L005, {}, {program.string(), "it draws the papers, and belongs beside this program"});
  context.report(diagnostics);
  return Exit::file;
}

}  // namespace

Exit run_card(Context& context, const CardArguments&) { return hand_on(context); }
Exit run_terms(Context& context) { return hand_on(context); }
Exit run_schedule_paper(Context& context, const PaperArguments&) { return hand_on(context); }
Exit run_takeoff(Context& context, const PaperArguments&) { return hand_on(context); }
Exit run_package(Context& context, const PaperArguments&) { return hand_on(context); }
Exit run_replay(Context& context, const std::string&) { return hand_on(context); }

}  // namespace jambcheck::cli
