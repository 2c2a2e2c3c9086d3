// `jambcheck rule ID`: a page about a rule; with --given, its working for one case; with --csv, for a whole file.
#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "csv/csv.h"
#include "expr/print.h"
#include "rules/evaluation.h"
#include "rules/given.h"
#include "rules/trace.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

using json = nlohmann::ordered_json;
using rules::Rule;
using rules::RuleSet;
using text::MessageId;

std::string outcome_word(rules::Outcome outcome) {
  return outcome == rules::Outcome::not_applicable ? "the rule does not apply" : outcome == rules::Outcome::engineer ? "ENGINEER" : outcome == rules::Outcome::note ? "something to do" : "refused";
}

// ---- the page
std::string input_line(const RuleSet& set, const rules::Input& i) {
  std::string kind = i.is_word ? (i.words->size() > 8 ? fmt::format("one of {} words", i.words->size()) : text::join(*i.words, " | ")) : i.unit.name;
  std::string out = fmt::format("  {:<10} {:<28} {}", i.name, i.key, kind);
  if (i.range)
    out += fmt::format(", {} to {}, outside: {}", text::rounded(i.unit.from_canonical(i.range->lo), 6), text::rounded(i.unit.from_canonical(i.range->hi), 6),
                       outcome_word(i.range->outside));
  if (i.optional) out += ", may be missing";
  if (i.assumed) out += fmt::format(", assumed {} when not given", units::show(i.assumed->value, i.unit));
  if (!i.assumed_word.empty()) out += fmt::format(", assumed {} when not given", i.assumed_word);
  std::string from;
  for (const auto& [producer, output] : set.key(i.key)->producers) from += (from.empty() ? "" : ", ") + producer->id;
  out += "\n";
  if (!i.say.empty()) out += fmt::format("  {:<10} {}\n", "", i.say);
  if (!from.empty()) out += fmt::format("  {:<10} worked out by {}\n", "", from);
  return out;
}

std::string with_unit(const std::string& number, const units::Unit& unit) { return unit.name == "1" ? number : number + " " + unit.name; }

std::string page(const RuleSet& set, const Rule& rule) {
  std::string out = fmt::format("{}{}\n\nSummary\n  {}\n  method {}, {}\n", rule.id, rule.code.empty() ? "" : "   (" + rule.code + ")", rule.title, rule.method, rule.status);
  if (!rule.note.empty()) out += "  " + rule.note + "\n";
  out += "\nApplies\n";
  for (const auto& a : rule.applies)
    out += fmt::format("  {}   else {}{}\n", expr::print(a.when.tree), outcome_word(a.otherwise), a.say.empty() ? "" : ": " + a.say);
  if (rule.applies.empty()) out += "  always\n";
  out += "\nInputs\n";
  for (const auto& i : rule.inputs) out += input_line(set, i);
  if (!rule.constants.empty()) {
    out += "\nConstants\n";
    for (const auto& c : rule.constants) out += fmt::format("  {:<10} {}   {} [{}]\n", c.name, with_unit(c.text, c.unit), c.say, rule.clause_text(c.clause));
  }
  out += "\nSteps\n";
  if (rule.solver) out += fmt::format("  worked out by the solver {}\n", rule.solver->name());
  for (const auto& r : rule.results) out += fmt::format("  {:<10} in {}   {} [{}]\n", r.name, r.unit.name, r.say, rule.clause_text(r.clause));
  for (const auto& s : rule.steps)
    out += fmt::format("  {:<10} = {}\n  {:<10}   {}{} [{}]\n", s.name, expr::print(s.formula.tree), "", s.unit.name == "1" ? "" : "in " + s.unit.name + "   ", s.say, rule.clause_text(s.clause));
  if (rule.check) out += fmt::format("\nDecides\n  {} / {} must not be more than 1\n", rule.check->demand, rule.check->capacity);
  if (!rule.outputs.empty()) {
    out += "\nGives\n";
    for (const auto& o : rule.outputs) out += fmt::format("  {:<10} as {}\n", o.step, o.key);
  }
  if (!rule.flags.empty()) {
    out += "\nFlags\n";
    for (const auto& f : rule.flags) out += fmt::format("  {:<10} when {}: {} - {} [{}]\n", f.id, expr::print(f.when.tree), outcome_word(f.outcome), f.say, rule.clause_text(f.clause));
  }
  out += "\nSources\n";
  for (const auto& c : rule.clauses) out += fmt::format("  {:<6} {}  (seen: {}){}\n", c.local, table::to_string(c), table::word(c.seen), c.note.empty() ? "" : " - " + c.note);
  for (const auto& p : rule.printed) out += fmt::format("  printed table {} beside {}\n", p.table_id, p.step);
  return out;
}

// ---- one case
bool read_given(Context& context, const RuleSet& set, const std::vector<std::string>& given, rules::Case& values) {
  text::Diagnostics diagnostics;
  for (const auto& item : given) {
    const auto eq = item.find('=');
    const auto* source = context.sources().add("--given", item);
    const auto at = [&](std::size_t from, std::size_t size) {
      return text::Place{source, 1, static_cast<std::uint32_t>(from + 1), static_cast<std::uint32_t>(size)};
    };
    if (eq == std::string::npos) {
      diagnostics.add(MessageId::L001, at(0, item.size()), {item});
      continue;
    }
    const std::string key(text::trim(item.substr(0, eq)));
    const auto parsed = rules::parse_given(set, key, item.substr(eq + 1));
    if (parsed) values.set(*set.key(key), *parsed);
    else if (parsed.error().id == MessageId::K101) diagnostics.add(parsed.error(), at(0, eq));
    else diagnostics.add(parsed.error(), at(eq + 1, item.size() - eq - 1));
  }
  context.report(diagnostics);
  return !diagnostics.has_errors();
}

json number(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }

json line_json(const rules::TraceLine& l) {
  json j = {{"kind", rules::word(l.kind)}, {"rule", l.rule ? l.rule->id : ""}, {"name", l.name}, {"say", l.say}};
  if (!l.formula.empty()) j["formula"] = l.formula;
  if (!l.numbers.empty()) j["numbers"] = l.numbers;
  if (!l.result.empty()) j["result"] = l.result;
  if (!l.is_word && !std::isnan(l.value)) {
    j["value"] = number(l.unit.from_canonical(l.value));
    j["unit"] = l.unit.name;
  }
  if (!l.clause.empty()) j["clause"] = l.clause;
  if (!l.evidence.empty()) j["seen"] = l.evidence;
  if (!l.from.empty()) j["from"] = l.from;
  if (!l.notes.empty()) j["notes"] = l.notes;
  return j;
}

/// The working of the rule and of all it reads from, the rule itself last.
std::vector<rules::TraceLine> whole_trace(const rules::Evaluation& evaluation, const Rule& rule, int digits) {
  if (const auto* check = evaluation.plan().check_of(rule)) return rules::trace_check(evaluation, *check, {digits});
  std::vector<rules::TraceLine> out;
  for (const Rule* r : evaluation.plan().rules()) {
    const auto lines = rules::trace_rule(evaluation, *r, {digits});
    out.insert(out.end(), lines.begin(), lines.end());
  }
  return out;
}

std::string not_applicable_line(const RuleSet& set, const Rule& rule, const rules::Words& words) {
  std::string why;
  return rules::applies(rule, set, words, nullptr, &why) == rules::Truth::no ? why : std::string();
}

Exit evaluate(Context& context, const RuleSet& set, const Rule& rule, const std::vector<std::string>& given) {
  rules::Case values;
  if (!read_given(context, set, given, values)) return Exit::input;
  const auto request = rules::request_for(set, values, {&rule});
  const std::string why_not = not_applicable_line(set, rule, request.words);
  const rules::Evaluation evaluation(std::make_shared<const rules::Plan>(set, request), values);
  const rules::Judgement j = evaluation.judge_rule(rule);
  const auto lines = whole_trace(evaluation, rule, context.options().digits);
  const rules::State state = why_not.empty() ? j.state : rules::State::not_applicable;
  Exit written{};
  if (context.options().json) {
    json out = {{"format", "trace/1"}, {"rule", rule.id}, {"state", rules::word(state)}, {"ratio", number(j.ratio)}};
    json reasons = json::array(), trace = json::array();
    for (const auto& r : j.reasons)
      reasons.push_back({{"kind", rules::word(r.kind)}, {"code", r.code}, {"text", r.text}, {"leads_to", rules::word(r.leads_to)}, {"rule", r.rule}, {"clause", r.clause}});
    for (const auto& l : lines) trace.push_back(line_json(l));
    out["reasons"] = reasons;
    out["trace"] = trace;
    written = context.write(out.dump(2) + "\n");
  } else {
    std::string out = rules::to_text(lines);
    out += "\n  " + std::string(rules::word(state));
    if (rule.check && !std::isnan(j.ratio)) out += fmt::format(" {}", text::rounded(j.ratio, 4));
    if (!why_not.empty()) out += "   " + why_not;
    out += "\n";
    // What is missing does not matter to a case that the rule is not for.
    for (const auto& r : why_not.empty() ? j.reasons : std::vector<rules::Reason>()) out += fmt::format("  - {}{}\n", r.text, r.clause.empty() ? "" : "   [" + r.clause + "]");
    written = context.write(out);
  }
  if (written != Exit::holds) return written;
  return state == rules::State::short_ ? Exit::short_ : Exit::holds;
}

// ---- a file of cases
/// The columns that a rule writes behind the user's own.
std::vector<std::pair<std::string, units::Unit>> result_columns(const Rule& rule) {
  std::vector<std::pair<std::string, units::Unit>> out;
  for (const auto& r : rule.results) out.emplace_back(r.name, r.unit);
  for (const auto& s : rule.steps)
    if (s.formula.type().kind != expr::Type::Kind::word) out.emplace_back(s.name, s.unit);
  return out;
}

std::vector<std::string> result_cells(const Rule& rule, const rules::Evaluation& evaluation, const std::vector<std::pair<std::string, units::Unit>>& columns) {
  std::vector<std::string> cells;
  for (const auto& [name, unit] : columns) {
    const double v = evaluation.value(rule, name);
    cells.push_back(std::isnan(v) ? "" : fmt::format("{:.12g}{}", unit.from_canonical(v), unit.name == "1" ? "" : " " + unit.name));
  }
  const rules::Judgement j = evaluation.judge_rule(rule);
  cells.push_back(rule.check && !std::isnan(j.ratio) ? fmt::format("{:.12g}", j.ratio) : "");
  cells.emplace_back(rules::word(j.state));
  std::string why;
  for (const auto& r : j.reasons) why += (why.empty() ? "" : "; ") + r.text;
  cells.push_back(why);
  return cells;
}

Exit evaluate_csv(Context& context, const RuleSet& set, const Rule& rule, const RuleArguments& arguments) {
  const auto* source = context.read(arguments.csv);
  if (!source) return Exit::file;
  std::string problem;
  const auto rows = csv::parse(source->text, problem);
  text::Diagnostics diagnostics;
  if (!problem.empty() || rows.empty()) {
    diagnostics.add(MessageId::L007, {source, 0, 0, 0}, {problem.empty() ? "it is empty" : problem});
    context.report(diagnostics);
    return Exit::input;
  }
  rules::Case common;
  if (!read_given(context, set, arguments.given, common)) return Exit::input;
  const auto& head = rows.front().cells;
  std::vector<std::string> keys;
  for (const auto& cell : head) {
    const std::string name(text::trim(cell));
    const rules::Input* input = rule.input(name);
    keys.push_back(input ? input->key : set.key(name) ? name : std::string());
    if (!keys.back().empty() && std::count(keys.begin(), keys.end(), keys.back()) > 1)
      diagnostics.add(MessageId::L010, {source, 0, 0, 0}, {keys.back(), name});
  }
  if (diagnostics.has_errors()) {
    context.report(diagnostics);
    return Exit::input;
  }
  const auto columns = result_columns(rule);
  std::vector<std::string> out_head = head;
  for (const auto& [name, unit] : columns) out_head.push_back("result " + name);
  out_head.insert(out_head.end(), {"ratio", "state", "reasons"});
  std::string out = csv::write_row(out_head);
  rules::PlanCache plans(set);
  std::size_t bad = 0;
  for (std::size_t r = 1; r < rows.size(); ++r) {
    if (std::all_of(rows[r].cells.begin(), rows[r].cells.end(), [](const std::string& cell) { return text::trim(cell).empty(); })) continue;
    rules::Case values = common;
    std::string trouble;
    const auto bad_cell = [&](const std::string& column, const std::string& sentence) {
      diagnostics.add(MessageId::L008, {source, 0, 0, 0}, {std::to_string(rows[r].line), column, sentence});
      trouble += (trouble.empty() ? "" : "; ") + column + ": " + sentence;
    };
    if (rows[r].cells.size() > head.size())
      bad_cell(std::to_string(head.size() + 1), fmt::format("the row has {} cells, the head {}; quote a cell that has a comma in it", rows[r].cells.size(), head.size()));
    for (std::size_t c = 0; c < rows[r].cells.size() && c < keys.size(); ++c) {
      if (keys[c].empty() || text::trim(rows[r].cells[c]).empty()) continue;
      const auto parsed = rules::parse_given(set, keys[c], rows[r].cells[c]);
      if (parsed) {
        values.set(*set.key(keys[c]), *parsed);
        continue;
      }
      bad_cell(head[c], text::make(parsed.error().id, {}, parsed.error().args).sentence);
    }
    std::vector<std::string> cells = rows[r].cells;
    cells.resize(head.size());
    if (trouble.empty()) {
      const rules::Evaluation evaluation(plans.get(rules::request_for(set, values, {&rule})), values);
      const auto results = result_cells(rule, evaluation, columns);
      cells.insert(cells.end(), results.begin(), results.end());
    } else {
      ++bad;
      cells.resize(head.size() + columns.size() + 1);
      cells.insert(cells.end(), {"not read", trouble});
    }
    out += csv::write_row(cells);
  }
  context.report(diagnostics);
  const Exit written = context.write(out);
  if (written != Exit::holds) return written;
  return bad != 0 ? Exit::input : Exit::holds;
}

}  // namespace

Exit run_rule(Context& context, const RuleArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::input;
  const Rule* rule = set->rule(arguments.id);
  if (!rule) {
    std::vector<std::string> known;
    for (const auto& r : set->rules()) known.push_back(r->id);
    text::Diagnostics diagnostics;
    diagnostics.add(MessageId::G005, {}, {arguments.id, text::suggestion(arguments.id, known)});
    context.report(diagnostics);
    return Exit::usage;
  }
  if (!arguments.csv.empty()) return evaluate_csv(context, *set, *rule, arguments);
  if (!arguments.given.empty()) return evaluate(context, *set, *rule, arguments.given);
  return context.write(page(*set, *rule));
}

}  // namespace jambcheck::cli
