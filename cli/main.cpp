// The command line: names, flags and help. What a command does stands in its own file.
#include <CLI/CLI.hpp>
#ifdef __GLIBC__
#include <malloc.h>
#endif

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

/// A check takes and gives back blocks of some hundred kilobytes all the time: kept in the heap they need not be asked
/// for, cleared and mapped anew each time.
void keep_freed_memory() {
#ifdef __GLIBC__
  constexpr int kMegabyte = 1 << 20;
  mallopt(M_MMAP_THRESHOLD, 32 * kMegabyte);
  mallopt(M_TRIM_THRESHOLD, 64 * kMegabyte);
  mallopt(M_TOP_PAD, kMegabyte);
#endif
}

}  // namespace

int main(int argc, char** argv) {
  keep_freed_memory();
  CLI::App app{"jambcheck: does this fastening, in this jamb, carry what this coiling door puts on it?"};
  app.name("jambcheck");
  app.footer(kExamples);
  app.set_version_flag("--version", "jambcheck " JAMBCHECK_VERSION);
  app.require_subcommand(1);
  Options options;
  options.command_line = argv;
  std::function<Exit(Context&)> action;

  const auto command = [&](const char* name, const char* what) {
    CLI::App* c = app.add_subcommand(name, what);
    // Of the others only the name is looked at: options cost more time than reading the project.
    if (argc > 1 && std::find(argv + 1, argv + argc, std::string_view(name)) != argv + argc) add_common(*c, options);
    return c;
  };

  CheckArguments check;
  auto* c = command("check", "check every opening of a project; one line each, worst reason first");
  c->add_option("FILE", check.file, "project file (YAML) or schedule (.csv), - for standard input")->required();
  c->add_option("--only", check.only, "marks to check, separated by commas")->delimiter(',')->type_name("MARK,...");
  c->add_option("--stop-on", check.stop_on, "what makes the exit code non-zero: never, short, engineer, unknown")
      ->check(CLI::IsMember({"never", "short", "engineer", "unknown"}));
  const auto schedule_options = [](CLI::App* to, std::string& map, std::string& base) {
    to->add_option("--map", map, "mapping file of a schedule: which of its columns stands for which field")->type_name("FILE");
    to->add_option("--base", base, "project file with what all rows of a schedule share")->type_name("FILE");
  };
  std::string check_map, check_base;
  schedule_options(c, check_map, check_base);
  c->callback([&] {
    action = [&](Context& context) {
      const ScheduleArguments schedule{check.file, check_map, check_base, check.only, check.stop_on, false};
      return is_schedule(schedule) ? run_schedule(context, schedule) : run_check(context, check);
    };
  });

  std::vector<std::string> lint_files;
  std::string lint_map, lint_base;
  c = command("lint", "read project files only: spelling, units, ranges, what is missing");
  c->add_option("FILE", lint_files, "project files or schedules (.csv)")->required();
  schedule_options(c, lint_map, lint_base);
  c->callback([&] { action = [&](Context& context) { return run_lint(context, lint_files, lint_map, lint_base); }; });

  std::string start_file = "project.yaml";
  bool no_input = false;
  const auto never_ask = [&](CLI::App* to) { to->add_flag("--no-input", no_input, "never ask, not even on a terminal"); };
  c = command("start", "write a commented project file to begin with; asks a few things on a terminal");
  c->add_option("FILE", start_file, "the new file, project.yaml when none is named; - for standard output")->type_name("");
  never_ask(c);
  c->callback([&] { action = [&](Context& context) { return run_start(context, start_file, !no_input); }; });

  AskArguments ask;
  c = command("ask", "one opening without a file: by questions on a terminal, or by --set");
  c->add_option("--set", ask.set, "a field of a project file and its value; may be repeated")->type_name("FIELD=VALUE")->allow_extra_args(false);
  c->add_option("--save", ask.save, "write what was said to a new project file")->type_name("FILE");
  never_ask(c);
  c->callback([&] {
    ask.may_ask = !no_input;
    action = [&](Context& context) { return run_ask(context, ask); };
  });

  CompareArguments compared;
  c = command("compare", "what changed between two projects or two results; exit 1 when something got worse");
  c->add_option("OLD", compared.old_file, "project file, or what check --json wrote")->required();
  c->add_option("NEW", compared.new_file, "likewise")->required();
  c->add_option("--threshold", compared.threshold, "ratios that moved by no more are the same")->check(CLI::Range(0.0, 10.0));
  c->callback([&] { action = [&](Context& context) { return run_compare(context, compared); }; });

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

  std::string holes_mark, holes_file;
  bool holes_csv = false;
  c = command("holes", "where every hole of an opening falls, which bit, how long the fasteners");
  c->add_option("MARK", holes_mark, "an opening")->required();
  c->add_option("FILE", holes_file, "project file")->required();
  c->add_flag("--csv", holes_csv, "one row a hole, in inches");
  c->callback([&] { action = [&](Context& context) { return run_holes(context, holes_mark, holes_file, holes_csv); }; });

  const auto paper_option = [&](CLI::App* to, std::string& paper) {
    to->add_option("--paper", paper, "size of the sheets")->check(CLI::IsMember({"letter", "a4"}));
  };
  CardArguments card;
  c = command("card", "the card for the one who sets the fasteners: elevation, section, drills, ticks; -o card.html, .pdf or .txt");
  c->add_option("MARK", card.mark, "an opening")->required();
  c->add_option("FILE", card.file, "project file")->required();
  c->add_option("--side", card.side, "jambs on the card")->check(CLI::IsMember({"left", "right", "both"}));
  c->add_option("--language", card.language, "English, Spanish, or both, a side of the sheet each")->check(CLI::IsMember({"en", "es", "both"}));
  c->add_option("--terms", card.terms, "a firm's own words: CSV as `jambcheck terms` prints it")->type_name("FILE");
  paper_option(c, card.paper);
  c->callback([&] { action = [&](Context& context) { return run_card(context, card); }; });

  c = command("terms", "the words of the card as CSV, to be changed and given back by card --terms");
  c->callback([&] { action = [&](Context& context) { return run_terms(context); }; });

  PaperArguments paper;
  const auto paper_command = [&](const char* name, const char* what) {
    CLI::App* p = command(name, what);
    p->add_option("FILE", paper.file, "project file, or a schedule (.csv) for schedule and takeoff")->required();
    p->add_option("--letters", paper.letters, "file that keeps the letters of types from run to run; it is made when it is not there")->type_name("FILE");
    paper_option(p, paper.paper);
    return p;
  };
  c = paper_command("schedule", "openings, types of fastening and what is missing; -o schedule.html, .pdf, .csv, .xlsx, .json or .txt");
  schedule_options(c, paper.map, paper.base);
  c->callback([&] { action = [&](Context& context) { return run_schedule_paper(context, paper); }; });
  c = paper_command("takeoff", "what to buy, bag and send; -o takeoff.html, .pdf, .csv, .xlsx, .json or .txt");
  schedule_options(c, paper.map, paper.base);
  c->add_option("--round", paper.round_by, "round up once for each item of the project, or of a phase")->check(CLI::IsMember({"project", "phase"}));
  c->add_option("--by", paper.rows, "rows of a CSV: one an item, an opening and item, a phase and item, or an alternate")->check(CLI::IsMember({"item", "opening", "phase", "alternate"}));
  c->add_flag("--alternates", paper.alternates, "for each type the next three fasteners that would hold in the same holes; takes a while");
  c->callback([&] { action = [&](Context& context) { return run_takeoff(context, paper); }; });
  c = paper_command("package", "all for the one who reviews: answers, basis, loads, checks, workings; -o package.html, .pdf or .txt");
  c->add_option("--workings", paper.workings, "checks to work out: those that decide, or all")->check(CLI::IsMember({"deciding", "all"}));
  c->add_option("--against", paper.against, "an older package (.html, .pdf) or project: what changed is marked and listed")->type_name("OLD");
  c->add_flag("--refused", paper.refused, "tells at each type why other fastenings do not hold there; takes longer");
  c->callback([&] { action = [&](Context& context) { return run_package(context, paper); }; });

  std::string package_file;
  c = command("replay", "run again what travels inside of a package, and say what differs");
  c->add_option("PACKAGE", package_file, "a package as .html or .pdf")->required();
  c->callback([&] { action = [&](Context& context) { return run_replay(context, package_file); }; });

  ChooseArguments choose;
  c = command("choose", "every fastening that could be tried at an opening: which hold, and why the others do not");
  c->add_option("FILE", choose.file, "project file")->required();
  c->add_option("--only", choose.only, "marks, separated by commas")->delimiter(',')->type_name("MARK,...");
  c->add_option("--for", choose.part, "what is fastened")->check(CLI::IsMember({"guide", "bracket", "both"}));
  c->add_option("--side", choose.side, "one side, or both alike")->check(CLI::IsMember({"left", "right", "both"}));
  c->add_option("--by", choose.by, "what comes first: fewest holes, smallest size, largest margin, least cost")->check(CLI::IsMember({"holes", "size", "margin", "cost"}));
  const auto only_these = [&](const char* name, std::vector<std::string>& list, const char* what, const char* type) { c->add_option(name, list, what)->delimiter(',')->type_name(type)->allow_extra_args(false); };
  only_these("--kinds", choose.kinds, "try only these kinds of fasteners: lag, bolt, screw anchor", "KIND,...");
  only_these("--sizes", choose.sizes, "try only these diameters: 3/8, 1/4..1/2, #12, 10 mm", "SIZE,...");
  only_these("--lengths", choose.lengths, "try only fasteners this long: 4, 3..5", "SIZE,...");
  only_these("--spacings", choose.spacings, "try only these spacings of a guide: 24, 12..18", "SIZE,...");
  c->add_flag("--priced", choose.priced, "try only fasteners that the project's price list has");
  c->add_flag("--all", choose.all, "list every one, also those refused");
  c->add_flag("--group", choose.group, "the fewest different fastenings that serve all openings");
  c->callback([&] { action = [&](Context& context) { return run_choose(context, choose); }; });

  WhyNotArguments why_not;
  c = command("why-not", "why a wished fastener does not hold at an opening, and the smallest change that lets it in");
  c->add_option("MARK", why_not.mark, "an opening")->required();
  c->add_option("FASTENER", why_not.fastener, "as a project file writes it: \"lag 3/8 x 4\"")->required();
  c->add_option("FILE", why_not.file, "project file")->required();
  c->add_option("--for", why_not.part, "what is fastened")->check(CLI::IsMember({"guide", "bracket", "both"}));
  c->callback([&] { action = [&](Context& context) { return run_why_not(context, why_not); }; });

  LimitsArguments limits;
  c = command("limits", "how much wind, width and weight an opening takes, over one or two fields");
  c->add_option("MARK", limits.mark, "an opening")->required();
  c->add_option("FILE", limits.file, "project file")->required();
  c->add_option("--over", limits.over, "one or two fields that the table runs over, as guide.spacing")->required()->delimiter(',')->expected(1, 2)->type_name("FIELD[,FIELD]");
  c->add_option("--of", limits.of, "fields whose limit is wanted; wind, width, weight and edges when none is named")->delimiter(',')->type_name("FIELD,...");
  c->add_flag("--csv", limits.csv, "comma-separated rows");
  c->callback([&] { action = [&](Context& context) { return run_limits(context, limits); }; });

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
