#pragma once
// One function a command; each in its own file.
#include <string>
#include <vector>

#include "cli/context.h"

namespace jambcheck::cli {

struct RuleArguments {
  std::string id;
  std::vector<std::string> given;  ///< key=value
  std::string csv;
};
Exit run_rule(Context& context, const RuleArguments& arguments);
Exit run_rules(Context& context, bool dot);
/// Whether every combination of words ends in checks, a question or a refusal; Exit::broken when one does not.
Exit run_complete(Context& context);
Exit run_flags(Context& context);
Exit run_tables(Context& context, const std::string& id);
Exit run_holes(Context& context, const std::string& mark, const std::string& file, bool csv);
Exit run_length(Context& context, const std::string& text);
/// `coverage`: clause by clause, whether published values, our own arithmetic or nothing tests it.
Exit run_selftest(Context& context, const std::vector<std::string>& paths, bool coverage);

struct CheckArguments {
  std::string file;
  std::vector<std::string> only;
  std::string stop_on = "short";
};
Exit run_check(Context& context, const CheckArguments& arguments);
/// A schedule (CSV) instead of a project file: one opening a row.
struct ScheduleArguments {
  std::string file;
  std::string map, base;  ///< mapping file, project with what all rows share; may be empty
  std::vector<std::string> only;
  std::string stop_on = "short";
  bool lint = false;  ///< read only
};
bool is_schedule(const ScheduleArguments& arguments);
Exit run_schedule(Context& context, const ScheduleArguments& arguments);
/// `map` and `base` are for schedules among the files.
Exit run_lint(Context& context, const std::vector<std::string>& files, const std::string& map, const std::string& base);
Exit run_explain(Context& context, const std::string& address, const std::string& file);
/// How far edge, depth, spacing, strength and wind may slip before the opening stops holding.
Exit run_margins(Context& context, const std::string& mark, const std::string& file);
/// Writes a project file to begin with; asks a few things on a terminal. "-": to standard output.
Exit run_start(Context& context, const std::string& file, bool may_ask);

struct AskArguments {
  std::vector<std::string> set;  ///< field=value
  std::string save;
  bool may_ask = true;
};
/// One opening without a file, by questions or flags.
Exit run_ask(Context& context, const AskArguments& arguments);

struct CompareArguments {
  std::string old_file, new_file;
  double threshold = 0.005;  ///< ratios that moved less are the same
};
/// Exit::short_ when something got worse.
Exit run_compare(Context& context, const CompareArguments& arguments);

struct ChooseArguments {
  std::string file;
  std::vector<std::string> only;
  std::string part = "both";  ///< guide, bracket or both
  std::string side = "both";
  std::string by = "holes";
  std::vector<std::string> kinds, sizes, lengths, spacings;  ///< only these are tried; empty: all
  bool priced = false;                                       ///< only what the price list has
  bool all = false;
  bool group = false;
};
/// Every fastening of the catalogue that suits each opening: which hold, and why the others do not.
Exit run_choose(Context& context, const ChooseArguments& arguments);

struct WhyNotArguments {
  std::string mark, fastener, file;
  std::string part = "both";
};
Exit run_why_not(Context& context, const WhyNotArguments& arguments);

struct LimitsArguments {
  std::string mark, file;
  std::vector<std::string> over, of;
  bool csv = false;
};
/// How much wind, width and weight an opening takes, over one or two fields.
Exit run_limits(Context& context, const LimitsArguments& arguments);
Exit run_help(Context& context, const std::string& topic);

struct CardArguments {
  std::string mark, file;
  std::string side = "both", language = "en", paper = "letter";
  std::string terms;  ///< file with a firm's own words
};
/// The card for the one who sets the fasteners; instructions only when the opening holds.
Exit run_card(Context& context, const CardArguments& arguments);
/// The words of the card, to be changed and given back.
Exit run_terms(Context& context);

struct PaperArguments {
  std::string file;
  std::string paper = "letter";
  std::string letters;              ///< file that keeps the letters of types between runs
  std::string round_by = "project";  ///< where numbers to buy are rounded up: project or phase
  std::string rows = "item";         ///< of a take-off as CSV: item, opening, phase, alternate
  bool alternates = false;           ///< what else would hold in the same holes
  std::string map, base;             ///< of a schedule: mapping file, project with what all rows share
  std::string workings = "deciding";  ///< checks that a package works out: deciding or all
  std::string against;                ///< an older package or project; empty: none
  bool refused = false;               ///< a package tells why other fastenings do not hold
};
Exit run_schedule_paper(Context& context, const PaperArguments& arguments);
Exit run_takeoff(Context& context, const PaperArguments& arguments);
Exit run_package(Context& context, const PaperArguments& arguments);
/// Runs what travels inside of a package again; Exit::short_ when anything differs.
Exit run_replay(Context& context, const std::string& file);

}  // namespace jambcheck::cli
