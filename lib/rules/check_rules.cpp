// The formulas of each rule, its check, and what stands beside it.
#include <algorithm>

#include "rules/category.h"
#include "rules/formula_check.h"
#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using expr::Type;
using text::MessageId;

namespace {

class RuleChecker {
 public:
  explicit RuleChecker(Loading& in) : in_(in), formulas_(in) {}

  void check() {
    for (auto& draft : in_.drafts) {
      Rule& rule = *draft.rule;
      RuleNames scope = names_in(rule);
      formulas_.units_known = draft.units_known;
      const std::size_t errors = in_.diagnostics.count(text::Severity::error);
      for (auto& step : rule.steps) check_step(step, scope);
      for (auto& line : rule.applies) check_applies(rule, line, scope);
      for (auto& flag : rule.flags)
        if (formulas_.check(flag.when, scope, false)) formulas_.want_yes_no(flag.when);
      check_decision(rule);
      for (const auto& c : rule.compare) check_compare(rule, c);
      for (std::size_t i = 0; i < rule.printed.size(); ++i) check_printed(rule, rule.printed[i], draft.printed_axes[i], scope);
      // A name that looks unused may stand where something could not be read.
      const bool solver_known = draft.solver.empty() || rule.solver;
      if (draft.whole && solver_known && in_.diagnostics.count(text::Severity::error) == errors) warn_unused(rule);
    }
    formulas_.units_known = true;
  }

 private:
  void check_step(Step& step, RuleNames& scope) {
    if (formulas_.check(step.formula, scope, false)) {
      const Type& type = step.formula.type();
      if (type.kind == Type::Kind::number && !type.any_dimension && formulas_.units_known && type.dimension != step.unit.dimension)
        in_.diagnostics.add(MessageId::U029, step.formula.place,
                         {units::to_string(type.dimension), step.name, step.unit.name, units::to_string(step.unit.dimension)});
      if (type.kind == Type::Kind::yes_no) in_.diagnostics.add(MessageId::E019, step.formula.place, {step.name});
      scope.types[step.name] = type.kind == Type::Kind::word ? type : Type::number(step.unit.dimension);
    } else {
      scope.types[step.name] = Type::number(step.unit.dimension);
    }
  }
  void check_applies(const Rule& rule, Applies& line, RuleNames& scope) {
    if (!formulas_.check(line.when, scope, true) || !formulas_.want_yes_no(line.when)) return;
    if (line.otherwise != Outcome::not_applicable) {
      for (expr::NodeId id = 0; id < line.when.tree.nodes.size(); ++id) {
        const auto& node = line.when.tree.at(id);
        if (node.kind == expr::Kind::name && !line.when.typed.literal_word[id] && !scope.types.count(node.text))
          in_.diagnostics.add(MessageId::E020, line.when.place.within(node.offset, node.length), {node.text});
      }
      return;
    }
    if (!word_only(line.when)) {
      in_.diagnostics.add(MessageId::G004, line.when.place);
      return;
    }
    for (expr::NodeId id = 0; id < line.when.tree.nodes.size(); ++id) {
      const auto& node = line.when.tree.at(id);
      if (node.kind != expr::Kind::name || line.when.typed.literal_word[id]) continue;
      const Input* input = rule.input(node.text);
      const std::string key = input ? input->key : node.text;
      if (std::find(line.word_keys.begin(), line.word_keys.end(), key) == line.word_keys.end()) line.word_keys.push_back(key);
    }
  }
  void check_decision(const Rule& rule) {
    if (!rule.check) return;
    for (const auto& name : {rule.check->demand, rule.check->capacity})
      if (!rule.input(name) && !rule.step(name) && !rule.result(name) && !rule.constant(name))
        in_.diagnostics.add(MessageId::E010, rule.check->place, {name, text::suggestion(name, names_of(rule))});
    if (formulas_.units_known && rule.unit_of(rule.check->demand).dimension != rule.unit_of(rule.check->capacity).dimension)
      in_.diagnostics.add(MessageId::U027, rule.check->place,
                       {rule.check->demand, rule.unit_of(rule.check->demand).name, rule.check->capacity, rule.unit_of(rule.check->capacity).name});
    if (rule.code.empty()) in_.diagnostics.add(MessageId::G009, rule.check->place, {rule.id});
  }
  void check_compare(const Rule& rule, const Compare& compare) {
    const auto names = names_of(rule);
    for (const auto& name : {compare.given, compare.against})
      if (std::find(names.begin(), names.end(), name) == names.end())
        in_.diagnostics.add(MessageId::E010, compare.place, {name, text::suggestion(name, names)});
    if (rule.unit_of(compare.given).dimension != rule.unit_of(compare.against).dimension)
      in_.diagnostics.add(MessageId::U023, compare.place, {compare.given, units::to_string(rule.unit_of(compare.given).dimension), compare.against, units::to_string(rule.unit_of(compare.against).dimension)});
  }
  void check_printed(const Rule& rule, Printed& printed, const std::vector<std::pair<std::string, std::string>>& axes, RuleNames& scope) {
    printed.table = in_.set->table(printed.table_id);
    if (!printed.table) {
      std::vector<std::string> known;
      for (const auto& [id, table] : in_.parts.tables) known.push_back(id);
      in_.diagnostics.add(MessageId::T011, printed.place, {printed.table_id, text::suggestion(printed.table_id, known)});
      return;
    }
    if (!printed.table->columns.empty()) printed.column = &printed.table->columns.front();
    for (const auto& axis : printed.table->axes) {
      const auto found = std::find_if(axes.begin(), axes.end(), [&](const auto& a) { return a.first == axis.name; });
      const bool known = found != axes.end() && (rule.input(found->second) || rule.step(found->second));
      if (!known) in_.diagnostics.add(MessageId::T012, printed.place, {printed.table_id, axis.name});
      printed.axis_names.push_back(known ? found->second : std::string());
    }
    if (!rule.step(printed.step)) in_.diagnostics.add(MessageId::E010, printed.place, {printed.step, text::suggestion(printed.step, names_of(rule))});
    if (printed.when && formulas_.check(*printed.when, scope, false)) formulas_.want_yes_no(*printed.when);
  }
  void warn_unused(Rule& rule) {
    std::vector<std::string> used;
    const auto use = [&](const Formula& f) {
      for (const auto& name : expr::names(f.tree)) used.push_back(name);
    };
    for (const auto& s : rule.steps) use(s.formula);
    for (const auto& f : rule.flags) use(f.when);
    for (const auto& a : rule.applies) use(a.when);
    for (const auto& o : rule.outputs) used.push_back(o.step);
    for (const auto& c : rule.compare) used.insert(used.end(), {c.given, c.against});
    for (const auto& p : rule.printed) {
      used.push_back(p.step);
      used.insert(used.end(), p.axis_names.begin(), p.axis_names.end());
      if (p.when) use(*p.when);
    }
    if (rule.check) {
      used.push_back(rule.check->demand);
      used.push_back(rule.check->capacity);
    }
    const auto is_used = [&](const std::string& name) { return std::find(used.begin(), used.end(), name) != used.end(); };
    for (auto& s : rule.steps) {
      s.used = is_used(s.name);
      if (!s.used) in_.diagnostics.add(MessageId::E021, s.place, {"step", s.name});
    }
    for (const auto& c : rule.constants)
      if (!is_used(c.name) && !rule.solver) in_.diagnostics.add(MessageId::E021, c.place, {"constant", c.name});
    for (const auto& i : rule.inputs)
      if (!is_used(i.name) && !rule.solver) in_.diagnostics.add(MessageId::E021, i.place, {"input", i.name});
  }

  Loading& in_;
  FormulaCheck formulas_;
};

}  // namespace

void check_rules(Loading& in) { RuleChecker(in).check(); }

}  // namespace jambcheck::rules
