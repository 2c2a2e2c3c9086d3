#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "table/table.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::table {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kSame = 1e-9;  // relative: 12.7 mm must find 1/2 in

bool same(double a, double b) { return std::fabs(a - b) <= kSame * std::max(std::fabs(a), std::fabs(b)); }

/// Position on one axis: cell `lower`, and `weight` of the way to the next.
struct Position {
  std::size_t lower = 0;
  double weight = 0;
  bool refused = false;
  bool engineer = false;
};

Position refuse(const Axis& axis) {
  Position p;
  p.refused = true;
  p.engineer = axis.outside == Outside::engineer;
  return p;
}

Position locate_word(const Axis& axis, double symbol) {
  if (!(symbol >= 0) || symbol >= static_cast<double>(axis.row_of_symbol.size())) return refuse(axis);
  const std::int32_t row = axis.row_of_symbol[static_cast<std::size_t>(symbol)];
  if (row < 0) return refuse(axis);
  return {static_cast<std::size_t>(row), 0, false, false};
}

Position locate_number(const Axis& axis, double x) {
  if (std::isnan(x)) {
    Position p;
    p.refused = true;
    return p;
  }
  const auto& at = axis.at;
  // The first printed value not below x, with the tolerance of `same`.
  auto it = std::lower_bound(at.begin(), at.end(), x, [](double a, double b) { return a < b && !same(a, b); });
  const auto index = static_cast<std::size_t>(it - at.begin());
  if (it != at.end() && same(*it, x)) return {index, 0, false, false};
  switch (axis.between) {
    case Between::exact: return refuse(axis);
    case Between::next_lower:
      if (index == 0) return refuse(axis);
      if (index == at.size()) return refuse(axis);  // beyond the last printed value
      return {index - 1, 0, false, false};
    case Between::next_higher:
      if (index == 0 || index == at.size()) return refuse(axis);
      return {index, 0, false, false};
    case Between::linear:
      if (index == 0 || index == at.size()) return refuse(axis);
      return {index - 1, (x - at[index - 1]) / (at[index] - at[index - 1]), false, false};
    case Between::log_linear:
      if (index == 0 || index == at.size() || x <= 0) return refuse(axis);
      return {index - 1, std::log(x / at[index - 1]) / std::log(at[index] / at[index - 1]), false, false};
  }
  return refuse(axis);
}

Position locate(const Axis& axis, double x) { return axis.is_word ? locate_word(axis, x) : locate_number(axis, x); }

std::string axis_value_text(const Axis& axis, std::size_t i) {
  return axis.is_word ? axis.words[i] : units::show(axis.at[i], axis.unit, 6);
}

}  // namespace

const Column* Table::column(std::string_view name) const {
  for (const auto& c : columns)
    if (c.name == name) return &c;
  return nullptr;
}

std::size_t Table::cells() const {
  std::size_t n = 1;
  for (const auto& axis : axes) n *= axis.size();
  return n;
}

int Table::clause_of(std::size_t cell, const Column& column) const {
  const int own = cell < cell_clause.size() ? cell_clause[cell] : -1;
  return own >= 0 ? own : column.clause;
}

Found find(const Table& table, const Column& column, std::span<const double> args) {
  Found found{kNone};
  constexpr std::size_t kMost = 8;
  Position at[kMost];
  const std::size_t n = std::min(table.axes.size(), kMost);
  for (std::size_t i = 0; i < n; ++i) {
    at[i] = locate(table.axes[i], args[i]);
    found.refused = found.refused || at[i].refused;
    found.engineer = found.engineer || at[i].engineer;
  }
  if (found.refused) return found;
  std::size_t base = 0;
  for (std::size_t i = 0; i < n; ++i) base = base * table.axes[i].size() + at[i].lower;
  found.cell = base;
  // Weighted sum over the corners; axes with weight 0 have one corner only.
  double sum = 0;
  for (std::size_t corner = 0; corner < (std::size_t{1} << n); ++corner) {
    double weight = 1;
    std::size_t index = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const bool upper = ((corner >> i) & 1U) != 0;
      weight *= upper ? at[i].weight : 1 - at[i].weight;
      index = index * table.axes[i].size() + at[i].lower + (upper && at[i].weight != 0 ? 1 : 0);
    }
    if (weight != 0) sum += weight * column.cells[index];
  }
  found.value = sum;
  found.refused = std::isnan(sum);
  return found;
}

std::string address(const Table& table, std::span<const double> args) {
  std::string out;
  for (std::size_t i = 0; i < table.axes.size(); ++i) {
    const Axis& axis = table.axes[i];
    const Position p = locate(axis, args[i]);
    if (!out.empty()) out += ", ";
    if (p.refused) {
      out += axis.name + " outside";
    } else if (p.weight == 0) {
      out += fmt::format("{} {}", axis.name, axis_value_text(axis, p.lower));
    } else {
      out += fmt::format("{} between {} and {}, {} of the way", axis.name, axis_value_text(axis, p.lower),
                         axis_value_text(axis, p.lower + 1), text::rounded(p.weight, 3));
    }
  }
  return out;
}

std::vector<double> axis_values(const Table& table, std::size_t cell, const text::Symbols& symbols) {
  std::vector<double> out(table.axes.size());
  for (std::size_t i = table.axes.size(); i-- > 0;) {
    const Axis& axis = table.axes[i];
    const std::size_t k = cell % axis.size();
    cell /= axis.size();
    out[i] = axis.is_word ? static_cast<double>(symbols.find(axis.words[k])) : axis.at[k];
  }
  return out;
}

}  // namespace jambcheck::table
