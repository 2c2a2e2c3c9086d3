#include "papers/working.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/card.h"
#include "papers/fastening.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

using document::Formula;
using document::Math;
using document::Paragraph;
using document::Style;
using rules::NodeKind;
using rules::TraceLine;

std::string clause_of(const TraceLine& l) {
  std::string out = l.clause;
  if (!l.evidence.empty()) out += (out.empty() ? "" : "; ") + std::string("seen: ") + l.evidence;
  for (const auto& note : l.notes) out += (out.empty() ? "" : "\n") + note;
  return out;
}

Formula formula_of(const TraceLine& l) {
  Formula f;
  f.symbol = {document::math_name(l.name), l.name};
  if (l.tree) {
    // A name without a figure of its own is a word: grain == end.
    f.forms.push_back({document::math_of(*l.tree, [&](const expr::Node& node) { return l.figures.at(node.text) == node.text ? document::math_words(spaced(node.text)) : document::math_name(node.text); }), l.formula});
    if (l.numbers != l.formula && l.numbers != l.result)
      f.forms.push_back({document::math_of(*l.tree, [&](const expr::Node& node) { return document::math_words(l.figures.at(node.text)); }), l.numbers});
  } else if (l.kind == NodeKind::check) {
    const auto cut = l.formula.find(" / "), numbers_cut = l.numbers.find(" / ");
    f.forms.push_back({document::math_fraction(document::math_name(l.formula.substr(0, cut)), document::math_name(l.formula.substr(cut + 3))), l.formula});
    f.forms.push_back({document::math_fraction(document::math_words(l.numbers.substr(0, numbers_cut)), document::math_words(l.numbers.substr(numbers_cut + 3))), l.numbers});
  }
  f.forms.push_back({document::math_words(l.result), l.result});
  f.say = l.say;
  f.clause = clause_of(l);
  return f;
}

/// What stands for the numbers of a rule: alike here, alike everywhere.
std::string numbers_of(const rules::Rule& rule, const std::vector<TraceLine>& lines) {
  std::string out = rule.id;
  for (const auto& l : lines) out += "|" + l.name + "=" + l.result + "<" + l.from + (l.kind == NodeKind::solver || l.kind == NodeKind::reason ? clause_of(l) + l.say : "");
  return out;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string out;
  for (const auto& l : lines) out += (out.empty() ? "" : "\n") + l;
  return out;
}

}  // namespace

std::string working_anchor(const std::string& address) { return "c-" + address; }

Workings::Run& Workings::run_of(const verdict::CheckResult& check) {
  for (auto& r : runs_)
    if (r->plan == check.plan && r->values == check.values) return *r;
  constexpr std::size_t kKept = 16;  // checks of one connection follow each other; older cases are not asked for again
  if (runs_.size() >= kKept) runs_.erase(runs_.begin());
  runs_.push_back(std::make_unique<Run>());
  auto& run = *runs_.back();
  run.plan = check.plan;
  run.values = check.values;
  run.evaluation = std::make_unique<rules::Evaluation>(check.plan, *check.values);
  return run;
}

void Workings::add_rule(Run& run, const rules::Rule& rule, const verdict::CheckResult* own, document::Document& out) {
  if (!own && run.anchors.count(&rule) != 0) return;
  auto lines = rules::trace_rule(*run.evaluation, rule, {digits_});
  if (!own)
    lines.erase(std::remove_if(lines.begin(), lines.end(), [](const TraceLine& l) { return l.kind == NodeKind::check || l.kind == NodeKind::reason; }), lines.end());
  const std::string numbers = (own ? "check " : "") + numbers_of(rule, lines);
  const auto known = set_.find(numbers);
  const std::string anchor = own ? working_anchor(own->address) : fmt::format("r-{}", set_.size());
  if (own) {
    const auto& j = own->judgement;
    out.add(document::Heading{3, own->address + "   " + own->rule->title, anchor});
    out.add(document::StateLine{sign_of(j.state), std::string(rules::word(j.state)), own->load_case, own->rule->check->kind == rules::CheckKind::gate ? document::kNoRatio : j.ratio});
  }
  if (known != set_.end()) {
    run.anchors[&rule] = known->second;
    if (own) out.add(Paragraph{"The same numbers as " + known->second.substr(2), Style::plain, known->second});
    return;
  }
  set_[numbers] = anchor;
  run.anchors[&rule] = anchor;
  if (!own) {
    if (first_.count(rule.id) != 0) return add_again(rule, lines, anchor, out);
    First& first = first_[rule.id];
    first.anchor = anchor;
    for (const auto& l : lines) first.results[l.name] = l.result;
    out.add(document::Heading{3, rule.title + "   (" + rule.id + ")", anchor});
  }
  // Left and right, guide and bracket: the symbols once, then the numbers.
  const bool again = own && shown_.count(rule.id) != 0;
  if (again) out.add(Paragraph{"Symbols and words as at " + shown_[rule.id].substr(2), Style::small, shown_[rule.id]});
  else add_given(run, lines, out);
  if (own && !again) shown_[rule.id] = anchor;
  for (const auto& l : lines) {
    switch (l.kind) {
      case NodeKind::constant:
      case NodeKind::step:
      case NodeKind::check: {
        Formula f = formula_of(l);
        if (again && f.forms.size() > 1) {
          f.forms.erase(f.forms.begin());
          f.say.clear();
        }
        out.add(std::move(f));
        break;
      }
      case NodeKind::printed: {
        Formula f = formula_of(l);
        f.say = "the printed table says";
        out.add(f);
        break;
      }
      case NodeKind::solver:
        out.add(Paragraph{"worked out by the solver " + l.say, Style::plain});
        if (!l.notes.empty()) out.add(Paragraph{joined(l.notes), Style::code});
        break;
      case NodeKind::reason: out.add(Paragraph{l.result + ": " + l.say + (l.clause.empty() ? "" : "  [" + l.clause + "]"), Style::plain}); break;
      default: break;
    }
  }
}

void Workings::add_given(Run& run, const std::vector<TraceLine>& lines, document::Document& out) const {
  document::Table given;
  given.head = {"", "value", "what it is", "from"};
  given.shares = {0.8, 1, 2.5, 2};
  for (const auto& l : lines) {
    if (l.kind != NodeKind::given && l.kind != NodeKind::assumed) continue;
    std::string link;
    for (const auto& [r, anchor] : run.anchors)
      if (r->id == l.from) link = anchor;
    given.rows.push_back({{l.name}, {l.result}, {l.say}, {(l.kind == NodeKind::assumed ? "assumed: not given: " : "") + l.from, document::Sign::none, document::kNoRatio, link}});
  }
  if (!given.rows.empty()) out.add(given);
}

void Workings::add_again(const rules::Rule& rule, const std::vector<TraceLine>& lines, const std::string& anchor, document::Document& out) const {
  const First& first = first_.at(rule.id);
  out.add(document::Heading{3, rule.title + ", another load case", anchor});
  std::string differs;
  for (const auto& l : lines) {
    const auto it = first.results.find(l.name);
    if (l.name.empty() || l.kind == NodeKind::rule || (it != first.results.end() && it->second == l.result)) continue;
    differs += (differs.empty() ? "" : ";  ") + l.name + " = " + l.result;
  }
  out.add(Paragraph{"Formulas, clauses and all other numbers as on the first time: " + rule.id, Style::small, first.anchor});
  if (!differs.empty()) out.add(Paragraph{differs, Style::plain});
  for (const auto& l : lines)
    if (l.kind == NodeKind::solver && !l.notes.empty()) out.add(Paragraph{joined(l.notes), Style::code});
}

void Workings::add(const verdict::CheckResult& check, document::Document& out) {
  if (check.rule->check->kind == rules::CheckKind::gate && check.judgement.reasons.empty()) return;
  Run& run = run_of(check);
  for (const rules::Rule* rule : check.plan->check_of(*check.rule)->rules)
    if (rule != check.rule) add_rule(run, *rule, nullptr, out);
  add_rule(run, *check.rule, &check, out);
}

void Workings::add_loads(const verdict::CheckResult& check, document::Document& out) {
  Run& run = run_of(check);
  for (const rules::Rule* rule : check.plan->check_of(*check.rule)->rules)
    if (rule != check.rule && rule->id.rfind("loads.", 0) == 0) add_rule(run, *rule, nullptr, out);
}

}  // namespace jambcheck::papers
