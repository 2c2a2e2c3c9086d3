#include "rules/trace.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "expr/print.h"
#include "text/number.h"

namespace jambcheck::rules {
namespace {

using expr::Type;

/// A unit whose numbers can be put into a formula as they are: one canonical unit is one.
bool coherent(const units::Unit& unit) { return unit.to_canonical(1) == 1 && unit.to_canonical(0) == 0; }

class Tracer {
 public:
  Tracer(const Evaluation& evaluation, const Rule& rule, const TraceOptions& options)
      : evaluation_(evaluation), plan_(evaluation.plan()), rule_(rule), options_(options) {}

  std::vector<TraceLine> run() {
    TraceLine head = line(NodeKind::rule, rule_.title, "");
    head.name = rule_.id;
    lines_.push_back(head);
    for (const auto& input : rule_.inputs) add_input(input);
    for (const auto& output : rule_.outputs)
      if (const Constant* c = rule_.constant(output.step)) add_constant(*c);
    if (rule_.solver) add_solver();
    for (const auto& step : rule_.steps) add_step(step);
    if (rule_.check) add_check();
    for (const auto& printed : rule_.printed) add_printed(printed);
    add_reasons();
    return std::move(lines_);
  }

 private:
  TraceLine line(NodeKind kind, const std::string& say, const std::string& name) const {
    TraceLine l;
    l.kind = kind;
    l.rule = &rule_;
    l.say = say;
    l.name = name;
    l.value = std::nan("");
    return l;
  }
  void cite(TraceLine& l, int clause) const {
    if (clause < 0) return;
    const Clause& c = rule_.clauses[static_cast<std::size_t>(clause)];
    l.clause = table::to_string(c);
    l.evidence = table::word(c.seen);
  }
  const std::string& symbol(double value) const { return plan_.set().symbols().word(static_cast<std::uint32_t>(value)); }
  void set_value(TraceLine& l, double value, const units::Unit& unit, bool is_word) const {
    l.value = value;
    l.unit = unit;
    l.is_word = is_word;
    if (std::isnan(value)) l.result = "no value";
    else l.result = is_word ? symbol(value) : units::show(value, unit, options_.digits);
  }

  void add_input(const Input& input) {
    const auto [producer, name] = plan_.definition(input.key);
    const double value = evaluation_.value(rule_, input.name);
    TraceLine l = line(NodeKind::given, input.say, input.name);
    double raw = value;
    if (producer) {
      l.from = producer->id;
      raw = evaluation_.value(*producer, name);
    } else {
      const auto s = static_cast<std::size_t>(plan_.source_of(*input.info));
      const Source& source = plan_.sources()[s];
      raw = evaluation_.columns()[s];
      if (std::isnan(raw) && input.optional) return;  // not there and not needed
      l.from = input.key;
      if (!source.given && !source.assumed_why.empty()) {
        l.kind = NodeKind::assumed;
        cite(l, input.clause);
      }
    }
    set_value(l, raw, input.unit, input.is_word);
    lines_.push_back(std::move(l));
  }

  /// A constant that the rule hands on; others stand in the formulas.
  void add_constant(const Constant& constant) {
    TraceLine l = line(NodeKind::constant, constant.say, constant.name);
    set_value(l, constant.value, constant.unit, false);
    cite(l, constant.clause);
    lines_.push_back(std::move(l));
  }

  void add_solver() {
    std::vector<double> in;
    for (const auto& port : rule_.solver->inputs()) in.push_back(evaluation_.value(rule_, std::string(port.name)));
    TraceLine l = line(NodeKind::solver, std::string(rule_.solver->name()), "");
    l.notes = rule_.solver->explain(in);
    lines_.push_back(std::move(l));
    for (const auto& result : rule_.results) {
      TraceLine r = line(NodeKind::step, result.say, result.name);
      set_value(r, evaluation_.value(rule_, result.name), result.unit, false);
      cite(r, result.clause);
      lines_.push_back(std::move(r));
    }
  }

  bool is_word_name(const std::string& name) const {
    if (const auto* i = rule_.input(name)) return i->is_word;
    if (const auto* s = rule_.step(name)) return s->formula.type().kind == Type::Kind::word;
    return false;
  }
  /// What stands for each name when the formula is shown with its numbers.
  std::map<std::string, std::string> figures(const Formula& formula, const units::Unit& result_unit) const {
    bool plain = coherent(result_unit);
    for (const auto& name : expr::names(formula.tree))
      if (plan_.value(rule_, name) != program::kNoValue && !is_word_name(name)) plain = plain && coherent(rule_.unit_of(name));
    std::map<std::string, std::string> out;
    for (const auto& name : expr::names(formula.tree)) out[name] = figure(name, plain);
    return out;
  }
  std::string figure(const std::string& name, bool plain) const {
    const program::Value v = plan_.value(rule_, name);
    if (v == program::kNoValue) return name;
    const double value = evaluation_.value(v);
    if (std::isnan(value)) return "?";
    if (is_word_name(name)) return symbol(value);
    const Constant* c = rule_.constant(name);
    const units::Unit unit = rule_.unit_of(name);
    if (c && plain) return c->text;
    return plain ? text::rounded(unit.from_canonical(value), options_.digits) : units::show(value, unit, options_.digits);
  }
  void add_step(const Step& step) {
    const bool is_word = step.formula.type().kind == Type::Kind::word;
    TraceLine l = line(NodeKind::step, step.say, step.name);
    l.formula = expr::print(step.formula.tree);
    l.tree = &step.formula.tree;
    l.figures = figures(step.formula, step.unit);
    l.numbers = expr::print(step.formula.tree, [&](const expr::Node& node) { return l.figures.at(node.text); });
    set_value(l, evaluation_.value(rule_, step.name), step.unit, is_word);
    cite(l, step.clause);
    add_cells(step.formula, l);
    lines_.push_back(std::move(l));
  }
  /// Which cells of a table a step read: only those whose arguments are plain names.
  void add_cells(const Formula& formula, TraceLine& l) const {
    for (const auto& node : formula.tree.nodes) {
      if (node.kind != expr::Kind::call || node.text != "lookup") continue;
      const std::string& name = formula.tree.at(node.args[0]).text;
      const TableUse* use = rule_.table_use(name.substr(0, name.find('.')));
      std::vector<double> args;
      for (std::size_t i = 1; i < node.args.size(); ++i) {
        const auto& arg = formula.tree.at(node.args[i]);
        const program::Value v = arg.kind == expr::Kind::name ? plan_.value(rule_, arg.text) : program::kNoValue;
        if (v == program::kNoValue || std::isnan(evaluation_.value(v))) break;
        args.push_back(evaluation_.value(v));
      }
      if (!use || args.size() != use->table->axes.size()) continue;
      std::string note = "table " + use->id + ": " + table::address(*use->table, args) + cell_source(*use->table, args);
      if (std::find(l.notes.begin(), l.notes.end(), note) == l.notes.end()) l.notes.push_back(std::move(note));
    }
  }
  static std::string cell_source(const table::Table& table, const std::vector<double>& args) {
    const table::Column& column = table.columns.front();
    const table::Found found = table::find(table, column, args);
    const int clause = found.refused ? -1 : table.clause_of(found.cell, column);
    if (clause < 0) return "";
    const Clause& c = table.clauses[static_cast<std::size_t>(clause)];
    return fmt::format(" [{}; seen: {}]", table::to_string(c), table::word(c.seen));
  }

  void add_check() {
    const CheckPoint& check = *plan_.check_of(rule_);
    TraceLine l = line(NodeKind::check, "demand over capacity", "ratio");
    const units::Unit unit = rule_.unit_of(rule_.check->demand);
    l.formula = rule_.check->demand + " / " + rule_.check->capacity;
    l.numbers = units::show(evaluation_.value(check.demand), unit, options_.digits) + " / " +
                units::show(evaluation_.value(check.capacity), unit, options_.digits);
    set_value(l, evaluation_.value(check.ratio), {}, false);
    lines_.push_back(std::move(l));
  }

  void add_printed(const Printed& printed) {
    std::vector<double> args;
    for (const auto& name : printed.axis_names) args.push_back(evaluation_.value(rule_, name));
    if (std::any_of(args.begin(), args.end(), [](double a) { return std::isnan(a); })) return;
    if (printed.when && !holds(*printed.when)) return;
    const table::Found found = table::find(*printed.table, *printed.column, args);
    if (found.refused) return;
    TraceLine l = line(NodeKind::printed, "the printed table says", printed.step);
    set_value(l, found.value, printed.column->unit, false);
    const int clause = printed.table->clause_of(found.cell, *printed.column);
    if (clause >= 0) {
      const Clause& c = printed.table->clauses[static_cast<std::size_t>(clause)];
      l.clause = table::to_string(c);
      l.evidence = table::word(c.seen);
    }
    l.notes.push_back("table " + printed.table_id + ": " + table::address(*printed.table, args));
    lines_.push_back(std::move(l));
  }
  /// A condition on values that are already worked out.
  bool holds(const Formula& formula) const {
    program::Program tiny;
    program::LowerScope scope;
    scope.value_of = [&](std::string_view name) { return tiny.constant(evaluation_.value(rule_, name)); };
    scope.word = [&](std::string_view w) { return tiny.constant(static_cast<double>(plan_.set().symbols().find(w))); };
    const program::Value v = program::lower(tiny, formula.tree, formula.typed, scope);
    const exec::Compiled compiled(tiny, std::span(&v, 1), exec::Keep::wanted);
    exec::Scratch scratch(compiled, 1);
    exec::run_block(compiled, {}, 0, 1, scratch);
    return scratch.read(compiled.slot(v), 0) == 1;
  }

  void add_reasons() {
    const Judgement judgement = evaluation_.judge_rule(rule_);
    for (const auto& reason : judgement.reasons) {
      if (reason.rule != rule_.id && !rule_.check) continue;
      TraceLine l = line(NodeKind::reason, reason.text, reason.code);
      l.clause = reason.clause;
      l.result = word(reason.leads_to);
      lines_.push_back(std::move(l));
    }
  }

  const Evaluation& evaluation_;
  const Plan& plan_;
  const Rule& rule_;
  const TraceOptions& options_;
  std::vector<TraceLine> lines_;
};

std::string tail(const TraceLine& l) {
  std::string out;
  if (!l.say.empty()) out += "   (" + l.say + ")";
  if (!l.clause.empty()) out += fmt::format("   [{}{}]", l.clause, l.evidence.empty() ? "" : "; seen: " + l.evidence);
  return out;
}

std::string line_text(const TraceLine& l) {
  std::string out;
  const std::string lead = fmt::format("    {:<10} ", l.name);
  const std::string under(lead.size(), ' ');
  switch (l.kind) {
    case NodeKind::rule: return fmt::format("\n  {}   ({})\n", l.say, l.name);
    case NodeKind::given: return fmt::format("{}= {:<14} {}   <- {}\n", lead, l.result, l.say, l.from);
    case NodeKind::assumed: return fmt::format("{}= {:<14} {}   <- assumed: {} was not given\n", lead, l.result, l.say, l.from);
    case NodeKind::solver: out = fmt::format("    worked out by the solver {}\n", l.say); break;
    case NodeKind::printed: out = fmt::format("    printed    {} = {}{}\n", l.name, l.result, tail(l)); break;
    case NodeKind::reason: return fmt::format("    note       {}: {}{}\n", l.result, l.say, l.clause.empty() ? "" : "   [" + l.clause + "]");
    default:
      if (l.formula.empty()) {
        out = fmt::format("{}= {}{}\n", lead, l.result, tail(l));
        break;
      }
      out = fmt::format("{}= {}\n", lead, l.formula);
      if (l.numbers != l.formula && l.numbers != l.result) out += fmt::format("{}= {}\n", under, l.numbers);
      out += fmt::format("{}= {}{}\n", under, l.result, tail(l));
  }
  for (const auto& note : l.notes) out += fmt::format("{}  {}\n", under, note);
  return out;
}

}  // namespace

std::string_view word(NodeKind kind) {
  switch (kind) {
    case NodeKind::rule: return "rule";
    case NodeKind::given: return "given";
    case NodeKind::assumed: return "assumed";
    case NodeKind::constant: return "constant";
    case NodeKind::table: return "table";
    case NodeKind::step: return "step";
    case NodeKind::solver: return "solver";
    case NodeKind::flag: return "flag";
    case NodeKind::check: return "check";
    case NodeKind::printed: return "printed";
    case NodeKind::reason: return "reason";
  }
  return "";
}

std::vector<TraceLine> trace_rule(const Evaluation& evaluation, const Rule& rule, const TraceOptions& options) {
  return Tracer(evaluation, rule, options).run();
}

std::vector<TraceLine> trace_check(const Evaluation& evaluation, const CheckPoint& check, const TraceOptions& options) {
  std::vector<TraceLine> out;
  for (const Rule* rule : check.rules) {
    auto lines = trace_rule(evaluation, *rule, options);
    // An upstream rule with a check of its own is shown for its steps; what it decides stands under its own address.
    if (rule != check.rule)
      lines.erase(std::remove_if(lines.begin(), lines.end(),
                                 [](const TraceLine& l) { return l.kind == NodeKind::check || l.kind == NodeKind::reason; }),
                  lines.end());
    out.insert(out.end(), lines.begin(), lines.end());
  }
  return out;
}

std::string to_text(const std::vector<TraceLine>& lines) {
  std::string out;
  for (const auto& l : lines) out += line_text(l);
  return out;
}

}  // namespace jambcheck::rules
