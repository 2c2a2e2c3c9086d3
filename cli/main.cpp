// The command line: names, flags and help. What a command does stands in its own file.
#include <CLI/CLI.hpp>

#include <algorithm>
#include <functional>

#include <fmt/format.h>

#include "cli/commands.h"
#include "text/suggest.h"

namespace {

using namespace jambcheck::cli;
namespace text = jambcheck::text;

constexpr const char* kExamples =
    "Examples:\n"
    "  jambcheck check cases/boat_lockers/project.yaml\n"
    "  jambcheck explain C-104 cases/boat_lockers/project.yaml\n"
    "  jambcheck rule wood.lag_screw.withdrawal --given fastener.diameter='1/2 in' --given member.specific_gravity=0.50\n"
    "\nExit codes: 0 all hold, 1 something is short, 2 command line, 3 input, 4 open (with --stop-on), 5 file, 6 broken.\n"
    "A calculation aid, not an approval: local codes and the licensed professional on the job decide.";

void add_common(CLI::App& command, Options& options) {
  command.add_option("--rules", options.rules, "folder of rules to add to the built-in ones, or to replace those of the same id")->type_name("DIR")->allow_extra_args(false);
  command.add_option("--tables", options.tables, "folder of tables, likewise")->type_name("DIR")->allow_extra_args(false);
  command.add_option("-o,--out", options.out, "write to FILE instead of the screen; - is the screen")->type_name("FILE");
  command.add_flag("--json", options.json, "JSON instead of text");
  command.add_flag("-q,--quiet", options.quiet, "no talk on standard error beyond problems");
  command.add_flag("-v,--verbose", options.verbose, "more");
  command.add_option("--digits", options.digits, "significant digits of printed numbers")->check(CLI::Range(2, 17));
  command.add_option("--jobs", options.jobs, "how many threads; 0: as many as the machine has")->check(CLI::Range(0, 256));
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"jambcheck: does this fastening, in this jamb, carry what this coiling door puts on it?"};
  app.name("jambcheck");
  app.footer(kExamples);
  app.set_version_flag("--version", "jambcheck " JAMBCHECK_VERSION);
  app.require_subcommand(1);
  Options options;
  std::function<Exit(Context&)> action;

  const auto command = [&](const char* name, const char* what) {
    CLI::App* c = app.add_subcommand(name, what);
    add_common(*c, options);
    return c;
  };

  CheckArguments check;
  auto* c = command("check", "check every opening of a project; one line each, worst reason first");
  c->add_option("FILE", check.file, "project file (YAML), - for standard input")->required();
  c->add_option("--only", check.only, "marks to check, separated by commas")->delimiter(',')->type_name("MARK,...");
  c->add_option("--stop-on", check.stop_on, "what makes the exit code non-zero: never, short, engineer, unknown")
      ->check(CLI::IsMember({"never", "short", "engineer", "unknown"}));
  c->callback([&] { action = [&](Context& context) { return run_check(context, check); }; });

  std::vector<std::string> lint_files;
  c = command("lint", "read project files only: spelling, units, ranges, what is missing");
  c->add_option("FILE", lint_files, "project files")->required();
  c->callback([&] { action = [&](Context& context) { return run_lint(context, lint_files); }; });

  std::string address, explain_file;
  c = command("explain", "one check in plain words, symbols, numbers, clause");
  c->add_option("ADDRESS", address, "an opening, connection or check: C-104, C-104/LG, C-104/LG/L1/W1")->required();
  c->add_option("FILE", explain_file, "project file")->required();
  c->callback([&] { action = [&](Context& context) { return run_explain(context, address, explain_file); }; });

  std::string margins_mark, margins_file;
  c = command("margins", "how far edge, depth, spacing, strength and wind may slip before an opening stops holding");
  c->add_option("MARK", margins_mark, "an opening that holds")->required();
  c->add_option("FILE", margins_file, "project file")->required();
  c->callback([&] { action = [&](Context& context) { return run_margins(context, margins_mark, margins_file); }; });

  RuleArguments rule;
  c = command("rule", "a page about a rule; with --given its working for one case, with --csv for a file of cases");
  c->add_option("ID", rule.id, "as listed by `jambcheck rules`")->required();
  c->add_option("--given", rule.given, "a value of the case, with its unit; may be repeated")->type_name("KEY=VALUE")->allow_extra_args(false);
  c->add_option("--csv", rule.csv, "cases, one a row; columns named by the rule's inputs or by keys, cells with units")->type_name("FILE");
  c->callback([&] { action = [&](Context& context) { return run_rule(context, rule); }; });

  bool dot = false;
  bool whole = false, flags = false;
  c = command("rules", "list the rules, or look at them as a whole");
  auto* of_graph = c->add_flag("--dot", dot, "the graph of the rules, for a graph drawing program that reads dot");
  auto* of_cases = c->add_flag("--complete", whole, "whether every kind of case gets its checks, a question or a refusal; exit 6 when one does not");
  auto* of_flags = c->add_flag("--flags", flags, "everything that sends a case to an engineer, rule by rule");
  of_cases->excludes(of_graph);
  of_flags->excludes(of_graph)->excludes(of_cases);
  c->callback([&] { action = [&](Context& context) { return whole ? run_complete(context) : flags ? run_flags(context) : run_rules(context, dot); }; });

  std::string table;
  c = command("tables", "list the tables, or print one");
  c->add_option("ID", table, "a table");
  c->callback([&] { action = [&](Context& context) { return run_tables(context, table); }; });

  std::string length;
  c = command("length", "how a length is understood, in tape, inch, foot and mm");
  c->add_option("TEXT", length, "such as \"7'-4 5/8\\\"\"")->required();
  c->callback([&] { action = [&](Context& context) { return run_length(context, length); }; });

  std::vector<std::string> tests;
  c = command("selftest", "reproduce the published check values; exit 6 when one is missed");
  c->add_option("FILE", tests, "test files or folders; the built-in ones when none is given");
  bool coverage = false;
  c->add_flag("--coverage", coverage, "clause by clause: tested by published values, by our own arithmetic, or not");
  c->callback([&] { action = [&](Context& context) { return run_selftest(context, tests, coverage); }; });

  std::string topic;
  c = command("help", "more about a message, by its id, or this list");
  c->add_option("TOPIC", topic, "a message such as Y003");
  c->callback([&] { action = [&](Context& context) { return topic.empty() ? (fmt::print("{}", app.help()), Exit::holds) : run_help(context, topic); }; });

  std::vector<std::string> known;
  for (const auto* subcommand : app.get_subcommands({})) known.push_back(subcommand->get_name());
  if (argc > 1 && argv[1][0] != '-' && std::find(known.begin(), known.end(), argv[1]) == known.end()) {
    text::Diagnostics diagnostics;
    diagnostics.add(text::MessageId::L009, {}, {argv[1], text::suggestion(argv[1], known)});
    Context(options).report(diagnostics);
    return static_cast<int>(Exit::usage);
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& problem) {
    return app.exit(problem) == 0 ? 0 : static_cast<int>(Exit::usage);
  }
  try {
    Context context(options);
    const Exit exit = action(context);
    return static_cast<int>(exit == Exit::input && context.unreadable() ? Exit::file : exit);
  } catch (const std::exception& problem) {
    fmt::print(stderr, "error: something in the program itself went wrong: {}\n  do:  please report it, with the file that led here\n", problem.what());
    return static_cast<int>(Exit::broken);
  }
}
