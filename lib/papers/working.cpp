#include "papers/working.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "expr/print.h"
#include "papers/card.h"
#include "papers/fastening.h"
#include "text/number.h"
#include "units/quantity.h"
#include "verdict/demand.h"

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

std::string figure(const TraceLine& l, const expr::Node& node) {
  const auto it = l.figures.find(node.text);
  return it == l.figures.end() ? node.text : it->second;
}

Formula formula_of(const TraceLine& l, const expr::Tree* tree) {
  Formula f;
  f.symbol = {document::math_name(l.name), l.name};
  if (tree) {
    // A name without a figure of its own is a word: grain == end.
    const auto symbol = [&](const expr::Node& node) {
      return figure(l, node) == node.text ? document::math_words(spaced(node.text)) : document::math_name(node.text);
    };
    const std::string formula = expr::print(*tree);
    const std::string numbers = expr::print(*tree, [&](const expr::Node& node) { return figure(l, node); });
    if (formula != l.result) f.forms.push_back({document::math_of(*tree, symbol), formula});
    if (numbers != formula && numbers != l.result)
      f.forms.push_back({document::math_of(*tree, [&](const expr::Node& node) { return document::math_words(figure(l, node)); }), numbers});
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

/// A line as it would be read: alike here, alike everywhere.
std::string as_read(const TraceLine& l) {
  const bool told = l.kind == NodeKind::solver || l.kind == NodeKind::reason;
  return l.name + "=" + l.formula + "=" + l.numbers + "=" + l.result + "<" + l.from + (told ? clause_of(l) + l.say : "");
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

std::vector<Workings::Line> Workings::lines_of(Run& run, const rules::Rule& rule, bool own, const std::set<std::string>* needed) const {
  std::vector<Line> out;
  for (auto& l : rules::trace_rule(*run.evaluation, rule, {digits_})) {
    if (l.kind == NodeKind::rule || (!own && (l.kind == NodeKind::check || l.kind == NodeKind::reason))) continue;
    const bool named = l.kind != NodeKind::check && l.kind != NodeKind::reason && l.kind != NodeKind::solver;
    if (needed && named && needed->count(l.name) == 0) continue;
    if (needed && l.kind == NodeKind::solver && std::none_of(rule.results.begin(), rule.results.end(), [&](const auto& r) { return needed->count(r.name) != 0; })) continue;
    Line line;
    if (needed && l.tree) {
      line.live = live_tree(*run.evaluation, rule, *l.tree);
      for (const auto& name : line.live->by) line.by += (line.by.empty() ? "" : ", ") + name + " = " + (l.figures.count(name) != 0 ? l.figures.at(name) : "?");
      l.formula = expr::print(line.live->tree);
      l.numbers = expr::print(line.live->tree, [&](const expr::Node& node) { return figure(l, node); });
    }
    line.trace = std::move(l);
    out.push_back(std::move(line));
  }
  return out;
}

void Workings::add_upstream(Run& run, const rules::Rule& rule, const std::set<std::string>* needed, document::Document& out) {
  if (run.anchors.count(&rule) != 0) return;
  auto lines = lines_of(run, rule, false, needed);
  if (lines.empty()) return;
  std::string numbers = rule.id;
  for (const auto& l : lines) numbers += "|" + as_read(l.trace);
  if (const auto known = set_.find(numbers); known != set_.end()) {
    run.anchors[&rule] = known->second;
    return;
  }
  const std::string anchor = fmt::format("r-{}{}", leaf_, made_++);
  set_[numbers] = anchor;
  run.anchors[&rule] = anchor;
  First& first = first_[rule.id];
  const bool again = !first.lines.empty();
  if (!again) first.anchor = anchor;
  out.add(document::Heading{3, rule.title + (again ? ", another load case" : "") + "   (" + rule.id + ")", anchor});
  if (again) {
    out.add(Paragraph{"Where nothing else is said, as the first time: " + rule.id, Style::small, first.anchor});
    lines.erase(std::remove_if(lines.begin(), lines.end(), [&](const Line& l) { return first.lines.count(as_read(l.trace)) != 0; }), lines.end());
  }
  for (const auto& l : lines) first.lines.insert(as_read(l.trace));
  add_given(run, lines, out);
  add_lines(run, lines, true, out);
}

void Workings::add_own(Run& run, const verdict::CheckResult& check, const std::string& also, const std::string& revised, const std::set<std::string>* needed, document::Document& out) {
  const rules::Rule& rule = *check.rule;
  const auto lines = lines_of(run, rule, true, needed);
  std::string numbers = "check " + rule.id;
  for (const auto& l : lines) numbers += "|" + as_read(l.trace);
  const auto known = set_.find(numbers);
  const std::string anchor = working_anchor(check.address);
  const auto& j = check.judgement;
  out.add(document::Heading{3, check.address + (also.empty() ? "" : " and " + also) + "   " + rule.title, anchor, revised});
  out.add(document::StateLine{sign_of(j.state), std::string(rules::word(j.state)), check.load_case,
                              rule.check->kind == rules::CheckKind::gate ? document::kNoRatio : j.ratio});
  if (known != set_.end()) {
    run.anchors[&rule] = known->second;
    out.add(Paragraph{"The same numbers as " + known->second.substr(2), Style::plain, known->second});
    return;
  }
  set_[numbers] = anchor;
  run.anchors[&rule] = anchor;
  // Left and right, guide and bracket: the symbols once, then the numbers.
  const bool again = extent_ == Extent::all && shown_.count(rule.id) != 0;
  if (again) out.add(Paragraph{"Symbols and words as at " + shown_[rule.id].substr(2), Style::small, shown_[rule.id]});
  else add_given(run, lines, out);
  if (!again) shown_[rule.id] = anchor;
  add_lines(run, lines, !again, out);
}

void Workings::add_lines(Run& run, const std::vector<Line>& lines, bool symbols, document::Document& out) const {
  (void)run;
  for (const auto& line : lines) {
    const TraceLine& l = line.trace;
    switch (l.kind) {
      case NodeKind::constant:
      case NodeKind::step:
      case NodeKind::check: {
        Formula f = formula_of(l, line.live ? &line.live->tree : l.tree);
        if (!line.by.empty()) f.say += " [" + line.by + "]";
        if (!symbols && f.forms.size() > 1) {
          f.forms.erase(f.forms.begin());
          f.say.clear();
        }
        out.add(std::move(f));
        break;
      }
      case NodeKind::printed: {
        Formula f = formula_of(l, nullptr);
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

void Workings::add_given(Run& run, const std::vector<Line>& lines, document::Document& out) const {
  if (extent_ == Extent::deciding) {
    std::string all;
    for (const auto& line : lines) {
      const TraceLine& l = line.trace;
      if (l.kind != NodeKind::given && l.kind != NodeKind::assumed) continue;
      all += fmt::format("{}{} = {} ({}; {}{})", all.empty() ? "" : ";  ", l.name, l.result, l.say, l.kind == NodeKind::assumed ? "assumed, not given: " : "", l.from);
    }
    if (!all.empty()) out.add(Paragraph{"With " + all + ".", Style::small});
    return;
  }
  document::Table given;
  given.head = {"", "value", "what it is", "from"};
  given.shares = {0.6, 0.9, 3.4, 1.9};
  for (const auto& line : lines) {
    const TraceLine& l = line.trace;
    if (l.kind != NodeKind::given && l.kind != NodeKind::assumed) continue;
    std::string link;
    for (const auto& [r, anchor] : run.anchors)
      if (r->id == l.from) link = anchor;
    given.rows.push_back({{l.name}, {l.result}, {l.say}, {(l.kind == NodeKind::assumed ? "assumed: not given: " : "") + l.from, document::Sign::none, document::kNoRatio, link}});
  }
  if (!given.rows.empty()) out.add(given);
}

Workings Workings::of_leaf(const std::string& letter) const {
  const auto loads = [](const auto& entry) { return entry.first.rfind("loads.", 0) == 0; };
  Workings out(digits_, extent_);
  out.leaf_ = letter;
  std::copy_if(set_.begin(), set_.end(), std::inserter(out.set_, out.set_.end()), loads);
  std::copy_if(first_.begin(), first_.end(), std::inserter(out.first_, out.first_.end()), loads);
  return out;
}

namespace {
const std::set<std::string>* names_for(const Needed& needed, const rules::Rule* rule) {
  const auto it = needed.find(rule);
  return it == needed.end() ? nullptr : &it->second;
}
}  // namespace

void Workings::add(const verdict::CheckResult& check, const std::string& also, const std::string& revised, bool alone, document::Document& out) {
  if (check.rule->check->kind == rules::CheckKind::gate && check.judgement.reasons.empty()) return;
  Run& run = run_of(check);
  const auto* point = check.plan->check_of(*check.rule);
  const Needed needed = extent_ == Extent::all ? Needed{} : needed_by(*run.evaluation, *point);
  for (const rules::Rule* rule : point->rules)
    if (!alone && rule != check.rule && (extent_ == Extent::all || names_for(needed, rule))) add_upstream(run, *rule, names_for(needed, rule), out);
  add_own(run, check, also, revised, names_for(needed, check.rule), out);
}

void Workings::add_loads(const verdict::CheckResult& check, document::Document& out) {
  Run& run = run_of(check);
  const auto* point = check.plan->check_of(*check.rule);
  const Needed needed = extent_ == Extent::all ? Needed{} : needed_by(*run.evaluation, *point);
  for (const rules::Rule* rule : point->rules)
    if (rule != check.rule && rule->id.rfind("loads.", 0) == 0 && (extent_ == Extent::all || names_for(needed, rule)))
      add_upstream(run, *rule, names_for(needed, rule), out);
}

const verdict::CheckResult* worst_strength(const verdict::ConnectionResult& connection, const std::string& link) {
  const verdict::CheckResult* out = nullptr;
  for (const auto& k : connection.checks) {
    if (!link.empty() && k.address.find("/" + link + "/") == std::string::npos) continue;
    if (verdict::is_no_strength(*k.rule) || std::isnan(k.judgement.ratio)) continue;
    if (!out || k.judgement.ratio > out->judgement.ratio) out = &k;
  }
  return out;
}

}  // namespace jambcheck::papers
