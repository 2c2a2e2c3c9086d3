#include "rules/formula_check.h"

namespace jambcheck::rules {

using expr::Type;
using text::MessageId;

namespace {

Type type_of_input(const Input& input) {
  return input.is_word ? Type::word(input.words) : Type::number(input.unit.dimension);
}

expr::TableType table_type(const table::Table& table, const table::Column& column) {
  expr::TableType t;
  for (const auto& axis : table.axes) {
    t.axes.push_back(axis.is_word ? Type::word(&axis.words) : Type::number(axis.unit.dimension));
    t.axis_names.push_back(axis.name);
  }
  t.value = column.is_word ? Type::word(&column.words) : Type::number(column.unit.dimension);
  return t;
}

bool about_dimensions(MessageId id) {
  return id == MessageId::U022 || id == MessageId::U023 || id == MessageId::U024;
}

}  // namespace

RuleNames names_in(const Rule& rule) {
  RuleNames scope;
  for (const auto& c : rule.constants) scope.types[c.name] = Type::number(c.unit.dimension);
  for (const auto& i : rule.inputs) scope.types[i.name] = type_of_input(i);
  for (const auto& r : rule.results) scope.types[r.name] = Type::number(r.unit.dimension);
  for (const auto& use : rule.tables) {
    if (!use.table) continue;
    for (const auto& column : use.table->columns) scope.tables[use.name + "." + column.name] = table_type(*use.table, column);
    if (use.table->columns.size() == 1) scope.tables[use.name] = table_type(*use.table, use.table->columns[0]);
  }
  return scope;
}

bool FormulaCheck::check(Formula& formula, RuleNames& names, bool keys_too) {
  std::map<std::string, Type, std::less<>> key_types;
  expr::Scope scope;
  scope.type_of = [&](std::string_view name) -> const Type* {
    if (const auto it = names.types.find(name); it != names.types.end()) return &it->second;
    if (!keys_too) return nullptr;
    const auto key = in_.parts.keys.find(name);
    if (key == in_.parts.keys.end() || !key->second.is_word) return nullptr;
    return &key_types.emplace(std::string(name), Type::word(&key->second.words)).first->second;
  };
  scope.table = [&](std::string_view name) -> const expr::TableType* {
    const auto it = names.tables.find(name);
    return it == names.tables.end() ? nullptr : &it->second;
  };
  scope.known_names = [&] {
    std::vector<std::string> known;
    for (const auto& [name, type] : names.types) known.push_back(name);
    if (keys_too)
      for (const auto& [name, key] : in_.parts.keys)
        if (key.is_word) known.push_back(name);
    return known;
  };
  std::vector<text::Problem> problems;
  formula.typed = expr::check(formula.tree, scope, problems);
  for (const auto& problem : problems)
    if (units_known || !about_dimensions(problem.id)) in_.diagnostics.add(problem, formula.place);
  return problems.empty();
}

bool FormulaCheck::want_yes_no(const Formula& formula) {
  if (formula.type().kind == Type::Kind::yes_no) return true;
  in_.diagnostics.add(MessageId::E018, formula.place, {expr::to_string(formula.type())});
  return false;
}

}  // namespace jambcheck::rules
