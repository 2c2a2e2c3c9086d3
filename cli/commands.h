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
Exit run_length(Context& context, const std::string& text);
/// `coverage`: clause by clause, whether published values, our own arithmetic or nothing tests it.
Exit run_selftest(Context& context, const std::vector<std::string>& paths, bool coverage);

struct CheckArguments {
  std::string file;
  std::vector<std::string> only;
  std::string stop_on = "short";
};
Exit run_check(Context& context, const CheckArguments& arguments);
Exit run_lint(Context& context, const std::vector<std::string>& files);
Exit run_explain(Context& context, const std::string& address, const std::string& file);
/// How far edge, depth, spacing, strength and wind may slip before the opening stops holding.
Exit run_margins(Context& context, const std::string& mark, const std::string& file);
Exit run_help(Context& context, const std::string& topic);

}  // namespace jambcheck::cli
