// `jambcheck selftest`: reproduces the published check values and says how well.
#include <map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "rules/selftest.h"
#include "text/number.h"

namespace jambcheck::cli {
namespace {

struct SourceSum {
  std::size_t values = 0, outcomes = 0, misses = 0;
  double worst = 0;
};

std::string as_text(const rules::SelfTestReport& report) {
  std::map<std::string, SourceSum> by_source;
  std::size_t published = 0, outcomes = 0;
  for (const auto& f : report.files) {
    SourceSum& s = by_source[f.source + " (seen: " + f.evidence + ")"];
    s.values += f.values;
    s.outcomes += f.outcomes;
    s.misses += f.misses;
    s.worst = std::max(s.worst, f.worst);
    outcomes += f.outcomes;
    if (f.published) published += f.values;
  }
  std::string out = fmt::format("{:>7} {:>9} {:>7}  {:>10}  source\n", "values", "outcomes", "misses", "worst");
  for (const auto& [source, s] : by_source)
    out += fmt::format("{:>7} {:>9} {:>7}  {:>9}%  {}\n", s.values, s.outcomes, s.misses, text::rounded(100 * s.worst, 3), source);
  for (const auto& m : report.misses) out += fmt::format("{}: {}\n", m.where, m.text);
  out += fmt::format("{} values ({} of them published) and {} outcomes in {} files, {} missed.\n", report.values(), published, outcomes,
                     report.files.size(), report.misses.size());
  out += "worst: the largest difference between what is worked out and what the source prints, before rounding as printed.\n";
  return out;
}

std::string as_json(const rules::SelfTestReport& report) {
  nlohmann::ordered_json files = nlohmann::ordered_json::array(), misses = nlohmann::ordered_json::array();
  for (const auto& f : report.files)
    files.push_back({{"file", f.path}, {"rule", f.rule}, {"source", f.source}, {"seen", f.evidence}, {"published", f.published},
                     {"values", f.values}, {"outcomes", f.outcomes}, {"misses", f.misses}, {"worst", f.worst}, {"worst_at", f.worst_at}});
  for (const auto& m : report.misses) misses.push_back({{"where", m.where}, {"text", m.text}});
  return nlohmann::ordered_json{{"format", "selftest/1"}, {"values", report.values()}, {"files", files}, {"misses", misses}}.dump(2) + "\n";
}

std::string_view word(const rules::RuleCoverage& c) { return c.published != 0 ? "published" : c.own != 0 ? "own" : "none"; }

/// Every clause of every rule with the best test that goes through the rule.
std::string coverage_text(const rules::RuleSet& set, const rules::SelfTestReport& report) {
  std::string out;
  std::map<std::string, std::size_t> clauses, capacities;
  for (const auto& rule : set.rules()) {
    const auto it = report.coverage.find(rule.get());
    const rules::RuleCoverage c = it == report.coverage.end() ? rules::RuleCoverage{} : it->second;
    if (rule->check) ++capacities[std::string(word(c))];
    for (const auto& clause : rule->clauses) {
      ++clauses[std::string(word(c))];
      out += fmt::format("{:<9} {:>5} {:>5}  {:<40} {} (seen: {})\n", word(c), c.published, c.own, rule->id + (rule->code.empty() ? "" : " " + rule->code), table::to_string(clause), table::word(clause.seen));
    }
  }
  out += fmt::format("clauses: {} tested by published values, {} by our own arithmetic, {} by none\n", clauses["published"], clauses["own"], clauses["none"]);
  out += fmt::format("rules that decide: {} tested by published values, {} by our own arithmetic, {} by none\n", capacities["published"], capacities["own"], capacities["none"]);
  return out;
}

}  // namespace

Exit run_selftest(Context& context, const std::vector<std::string>& paths, bool coverage) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  text::Diagnostics diagnostics;
  const auto report = rules::run_selftest(*set, paths.empty() ? std::vector<std::string>{context.selftest_folder()} : paths,
                                          context.sources(), diagnostics);
  context.report(diagnostics);
  const Exit written = context.write(coverage ? coverage_text(*set, report) : context.options().json ? as_json(report) : as_text(report));
  if (written != Exit::holds) return written;
  if (!report.misses.empty()) return Exit::broken;
  return diagnostics.has_errors() || report.files.empty() ? Exit::input : Exit::holds;
}

}  // namespace jambcheck::cli
