// `jambcheck why-not`: what keeps a fastening out of an opening, and the smallest single change that lets it in.
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "choose/change.h"
#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/project.h"

namespace jambcheck::cli {
namespace {

using json = nlohmann::ordered_json;
using rules::State;

/// One part with the wished fastener in it.
struct Answer {
  std::string part, fastener;
  State state = State::holds;
  double ratio = 0;
  std::vector<std::string> reasons;
  std::vector<choose::Change> changes;
  bool listed = false;  ///< the file leaves values open: reasons are of the worst of them, no change is searched
};

std::string ratio_text(double ratio) { return std::isnan(ratio) ? "--" : fmt::format("{:.2f}", ratio); }

/// Each check that does not hold, in words.
void add_reasons(const verdict::ConnectionResult& result, std::vector<std::string>& out) {
  const auto add = [&](std::string text) {
    if (std::find(out.begin(), out.end(), text) == out.end()) out.push_back(std::move(text));
  };
  for (const auto& c : result.checks) {
    if (c.judgement.state == State::short_) add(fmt::format("SHORT {}: {}; {}", ratio_text(c.judgement.ratio), c.rule->title, c.load_case));
    for (const auto& r : c.judgement.reasons)
      if (r.leads_to == State::engineer || r.leads_to == State::not_shown) add(fmt::format("{}: {}", rules::word(r.leads_to), r.text));
  }
  for (const auto& r : result.reasons)
    if (r.leads_to != State::holds) add(fmt::format("{}: {}", rules::word(r.leads_to), r.text));
}

Answer answer_for(verdict::Checker& checker, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& o, const choose::Item& item, bool bracket) {
  Answer out;
  out.part = bracket ? "bracket" : "guide";
  out.fastener = item.text;
  out.ratio = std::numeric_limits<double>::quiet_NaN();
  const opening::Opening placed = choose::Place(o, bracket, choose::Sides::both).with(item);
  out.listed = !project.choices.empty() || !placed.choices.empty();
  choose::for_each_answer(project, placed, [&](const opening::Project& p, const opening::Opening& one) {
    for (const auto side : {opening::Side::left, opening::Side::right}) {
      const auto result = checker.check_part(p, one, side, bracket);
      if (result.state > out.state || (result.state == out.state && (std::isnan(out.ratio) || result.ratio > out.ratio))) out.ratio = result.ratio;
      out.state = rules::worse(out.state, result.state);
      add_reasons(result, out.reasons);
    }
  });
  if (!out.listed && out.state != State::holds) out.changes = choose::smallest_changes(checker, set, project, placed, bracket, choose::Sides::both);
  return out;
}

std::string text_of(const std::string& mark, const Answer& a) {
  std::string out = fmt::format("{} {}, {}: {} {}\n", mark, a.part, a.fastener, rules::word(a.state), ratio_text(a.ratio));
  if (a.state == State::holds) return out + "  it holds; nothing stands in the way\n";
  for (const auto& r : a.reasons) out += "  - " + r + "\n";
  for (const auto& c : a.changes) out += fmt::format("  {} {} -> {} holds ({})\n", c.field, c.now, c.to, ratio_text(c.ratio));
  if (a.listed) out += "  the file leaves values open; a single change is searched when they are settled\n";
  else if (a.changes.empty()) out += "  no single change of edge, end, spacing, size, length or number lets it in\n";
  return out;
}

json json_of(const Answer& a) {
  json changes = json::array();
  for (const auto& c : a.changes) changes.push_back({{"field", c.field}, {"now", c.now}, {"to", c.to}, {"ratio", c.ratio}});
  return {{"part", a.part}, {"fastener", a.fastener}, {"state", rules::word(a.state)}, {"ratio", std::isfinite(a.ratio) ? json(a.ratio) : json(nullptr)}, {"reasons", a.reasons}, {"changes", changes}};
}

}  // namespace

Exit run_why_not(Context& context, const WhyNotArguments& arguments) {
  const auto one = load_opening(context, arguments.file, arguments.mark);
  if (!one) return one.problem;
  const auto* set = one.set;
  const auto& project = one.project;
  const opening::Opening* opening = one.opening;
  text::Problem unread{};
  const auto items = choose::items_of(*project, *set, arguments.fastener, unread);
  if (items.empty()) {
    text::Diagnostics diagnostics;
    auto args = unread.args;
    if (!args.empty()) args[0] = "FASTENER";
    diagnostics.add(unread.id, {}, args);
    context.report(diagnostics);
    return Exit::usage;
  }
  verdict::Checker checker(*set);
  std::vector<Answer> answers;
  for (const bool bracket : {false, true})
    if (arguments.part == "both" || arguments.part == (bracket ? "bracket" : "guide"))
      for (const auto& item : items) answers.push_back(answer_for(checker, *set, *project, *opening, item, bracket));
  if (context.options().json) {
    json list = json::array();
    for (const auto& a : answers) list.push_back(json_of(a));
    return context.write(json{{"format", "why-not/1"}, {"mark", arguments.mark}, {"answers", list}}.dump(2) + "\n");
  }
  std::string out;
  for (const auto& a : answers) out += text_of(arguments.mark, a);
  return context.write(out + "Each change by itself, everything else as given, no smaller step holds; proven by a full check.\n");
}

}  // namespace jambcheck::cli
