// `jambcheck explain`: an opening, a connection or one check, down to the clauses.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/project.h"
#include "papers/check_report.h"
#include "rules/trace.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

using verdict::CheckResult;
using verdict::ConnectionResult;
using verdict::OpeningResult;

struct Found {
  const ConnectionResult* connection = nullptr;
  const CheckResult* check = nullptr;
};

/// The check that `address` names; an opening or a connection stands for what decides in it.
Found find(const OpeningResult& opening, const std::string& address) {
  std::string wanted = address == opening.mark ? opening.governs : address;
  for (const auto& c : opening.connections)
    if (wanted == opening.mark + "/" + c.id && wanted != c.governs && !c.governs.empty()) wanted = c.governs;
  for (const auto& c : opening.connections) {
    for (const auto& check : c.checks)
      if (check.address == wanted) return {&c, &check};
    if (wanted == opening.mark + "/" + c.id) return {&c, nullptr};
  }
  return {};
}

std::vector<std::string> addresses(const OpeningResult& opening) {
  std::vector<std::string> out = {opening.mark};
  for (const auto& c : opening.connections) {
    out.push_back(opening.mark + "/" + c.id);
    for (const auto& check : c.checks) out.push_back(check.address);
  }
  return out;
}

std::string without_check(const OpeningResult& opening, const ConnectionResult& connection) {
  std::string out = fmt::format("{}/{}   {}\n  {}, {}\n", opening.mark, connection.id, rules::word(connection.state), connection.name, connection.fastener);
  for (const auto& r : connection.reasons) out += "  - " + r.text + "\n";
  return out;
}

/// The other checks of the opening, so that the reader sees where this one stands.
std::string beside(const OpeningResult& opening, const CheckResult* shown) {
  std::string out = "\n  The checks of " + opening.mark + ":\n";
  for (const auto& c : opening.connections)
    for (const auto& check : c.checks)
      out += fmt::format("  {} {:<4} {:<22} {:>6}  {}\n", &check == shown ? ">" : " ", papers::mark_of(check.judgement.state), check.address,
                         std::isnan(check.judgement.ratio) ? "--" : fmt::format("{:.2f}", check.judgement.ratio), check.rule->title);
  return out;
}

}  // namespace

Exit run_explain(Context& context, const std::string& address, const std::string& file) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit problem{};
  const auto project = load_project(context, *set, file, problem);
  if (!project) return problem;
  // A mark may hold slashes: the longest mark that begins the address is meant.
  const opening::Opening* opening = nullptr;
  for (const auto& o : project->openings) {
    const bool begins = address == o.mark || address.rfind(o.mark + "/", 0) == 0;
    if (begins && (!opening || o.mark.size() > opening->mark.size())) opening = &o;
  }
  text::Diagnostics diagnostics;
  if (!opening) {
    const std::string mark = address.substr(0, address.find('/'));
    diagnostics.add(text::MessageId::L003, {}, {mark, text::suggestion(mark, marks_of(*project))});
    context.report(diagnostics);
    return Exit::usage;
  }
  if (opening->broken || project->broken) return Exit::input;
  verdict::Checker checker(*set);
  checker.try_answers(true);
  checker.list_by_others(true);
  const auto result = checker.check(*project, *opening);
  const Found found = find(result, address);
  if (!found.connection) {
    diagnostics.add(text::MessageId::L004, {}, {address, text::suggestion(address, addresses(result))});
    context.report(diagnostics);
    return Exit::usage;
  }
  const papers::ReportOptions options{context.options().verbose, context.options().digits, file, {}};
  std::string out = found.check ? papers::explain_text(result, *found.connection, *found.check, options) : without_check(result, *found.connection);
  out += beside(result, found.check);
  return context.write(out);
}

}  // namespace jambcheck::cli
