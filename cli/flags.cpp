// `jambcheck rules --flags`: everything that sends a case to an engineer or refuses it, rule by rule.
#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "rules/in_words.h"

namespace jambcheck::cli {
namespace {

using rules::Outcome;
using rules::Rule;

struct FlagLine {
  std::string rule, id, condition, outcome, say, source, seen;
};

const char* word(Outcome outcome) { return outcome == Outcome::refused ? "refused" : outcome == Outcome::note ? "note" : "engineer"; }

/// Where it comes from: our own judgement, a fact of the trade, or a document and how it was seen.
void set_source(FlagLine& line, const Rule& rule, int clause) {
  if (clause < 0 || static_cast<std::size_t>(clause) >= rule.clauses.size()) return;
  const auto& c = rule.clauses[static_cast<std::size_t>(clause)];
  line.source = table::to_string(c);
  line.seen = c.doc == "own" ? "judgement" : std::string(table::word(c.seen));
}

std::vector<FlagLine> lines_of(const Rule& rule) {
  std::vector<FlagLine> out;
  for (const auto& flag : rule.flags) {
    out.push_back({rule.id, flag.id, rules::in_words(rule, flag.when), word(flag.outcome), flag.say, "", ""});
    set_source(out.back(), rule, flag.clause);
  }
  for (const auto& line : rule.applies) {
    if (line.otherwise == Outcome::not_applicable) continue;
    out.push_back({rule.id, "applies", rules::in_words(rule, line.when, true), word(line.otherwise), line.say, "", ""});
    set_source(out.back(), rule, 0);  // a condition of the rule itself stands on its first clause
  }
  return out;
}

std::vector<FlagLine> all_lines(const rules::RuleSet& set) {
  std::vector<FlagLine> out;
  for (const auto& rule : set.rules()) {
    const auto lines = lines_of(*rule);
    out.insert(out.end(), lines.begin(), lines.end());
  }
  std::stable_sort(out.begin(), out.end(), [](const FlagLine& a, const FlagLine& b) { return a.rule < b.rule; });
  return out;
}

std::string told(const FlagLine& line) {
  std::string out = fmt::format("  {} -> {}\n    when    {}\n", line.id, line.outcome, line.condition);
  if (!line.say.empty()) out += fmt::format("    says    {}\n", line.say);
  return out + (line.source.empty() ? "    source  none named\n" : fmt::format("    source  {} (seen: {})\n", line.source, line.seen));
}

std::string count_line(const std::vector<FlagLine>& lines) {
  std::set<std::string> rules;
  for (const auto& line : lines) rules.insert(line.rule);
  const auto count = [&](std::string FlagLine::*field, std::string_view word) {
    return std::count_if(lines.begin(), lines.end(), [&](const FlagLine& line) { return line.*field == word; });
  };
  return fmt::format("{} flags in {} rules: {} engineer, {} refused, {} note; {} rest on our own judgement\n", lines.size(), rules.size(),
                     count(&FlagLine::outcome, "engineer"), count(&FlagLine::outcome, "refused"), count(&FlagLine::outcome, "note"),
                     count(&FlagLine::seen, "judgement"));
}

std::string text(const std::vector<FlagLine>& lines) {
  std::string out, rule;
  for (const auto& line : lines) {
    if (line.rule != rule) out += line.rule + "\n";
    rule = line.rule;
    out += told(line);
  }
  return out + count_line(lines);
}

std::string json(const std::vector<FlagLine>& lines) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const auto& l : lines)
    out.push_back({{"rule", l.rule}, {"id", l.id}, {"when", l.condition}, {"outcome", l.outcome}, {"say", l.say}, {"source", l.source}, {"seen", l.seen}});
  return nlohmann::ordered_json{{"format", "flags/1"}, {"count", lines.size()}, {"flags", out}}.dump(2) + "\n";
}

}  // namespace

Exit run_flags(Context& context) {
  const auto* set = context.rule_set();
  if (!set) return Exit::input;
  const auto lines = all_lines(*set);
  return context.write(context.options().json ? json(lines) : text(lines));
}

}  // namespace jambcheck::cli
