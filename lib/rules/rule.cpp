#include "rules/rule.h"

namespace jambcheck::rules {
namespace {

template <class T>
const T* by_name(const std::vector<T>& list, std::string_view name) {
  for (const auto& item : list)
    if (item.name == name) return &item;
  return nullptr;
}

}  // namespace

const Input* Rule::input(std::string_view name) const { return by_name(inputs, name); }
const Step* Rule::step(std::string_view name) const { return by_name(steps, name); }
const Constant* Rule::constant(std::string_view name) const { return by_name(constants, name); }
const TableUse* Rule::table_use(std::string_view name) const { return by_name(tables, name); }
const NativeResult* Rule::result(std::string_view name) const { return by_name(results, name); }

units::Unit Rule::unit_of(std::string_view name) const {
  if (const auto* i = input(name)) return i->unit;
  if (const auto* s = step(name)) return s->unit;
  if (const auto* c = constant(name)) return c->unit;
  if (const auto* r = result(name)) return r->unit;
  return {};
}

std::string Rule::clause_text(int clause) const {
  return clause < 0 ? std::string() : table::to_string(clauses[static_cast<std::size_t>(clause)]);
}

}  // namespace jambcheck::rules
