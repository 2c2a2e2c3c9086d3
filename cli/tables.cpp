// `jambcheck tables`: what is built in, from which edition, how well known; and one table whole.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::cli {
namespace {

using table::Column;
using table::Table;

std::string cell_text(const Table& table, const Column& column, std::size_t cell, const rules::RuleSet& set) {
  const double v = column.cells[cell];
  if (std::isnan(v)) return "~";
  if (column.is_word) return set.symbols().word(static_cast<std::uint32_t>(v));
  (void)table;
  return text::rounded(column.unit.from_canonical(v), 6);
}

std::string axis_text(const table::Axis& axis, std::size_t i) {
  return axis.is_word ? axis.words[i] : text::rounded(axis.unit.from_canonical(axis.at[i]), 6);
}

std::string sources(const Table& table) {
  std::string out;
  for (const auto& clause : table.clauses) out += fmt::format("  {}  (seen: {})\n", table::to_string(clause), table::word(clause.seen));
  return out;
}

/// Rows of axis values and cells; a table of two number axes and one value prints as a grid.
std::string page(const Table& table, const rules::RuleSet& set) {
  std::string out = fmt::format("{}\n  {}\n", table.id, table.title);
  if (!table.note.empty()) out += "  " + table.note + "\n";
  out += sources(table);
  const bool grid = table.axes.size() == 2 && table.columns.size() == 1;
  if (grid) {
    const auto& down = table.axes[0];
    const auto& across = table.axes[1];
    out += fmt::format("  {} in {}, by {} (down) and {} (across{})\n\n", table.columns[0].name, table.columns[0].unit.name, down.name, across.name,
                       across.is_word ? "" : ", " + across.unit.name);
    out += fmt::format("{:>12}", "");
    for (std::size_t c = 0; c < across.size(); ++c) out += fmt::format("{:>9}", axis_text(across, c));
    out += "\n";
    for (std::size_t r = 0; r < down.size(); ++r) {
      out += fmt::format("{:>12}", axis_text(down, r));
      for (std::size_t c = 0; c < across.size(); ++c) out += fmt::format("{:>9}", cell_text(table, table.columns[0], r * across.size() + c, set));
      out += "\n";
    }
    return out;
  }
  out += "\n";
  for (const auto& axis : table.axes) out += fmt::format("  {:<22}", axis.name + (axis.is_word || axis.unit.name == "1" ? "" : " (" + axis.unit.name + ")"));
  for (const auto& column : table.columns) out += fmt::format("  {:<14}", column.name + (column.is_word || column.unit.name == "1" ? "" : " (" + column.unit.name + ")"));
  out += "  seen\n";
  for (std::size_t cell = 0; cell < table.cells(); ++cell) {
    const bool empty = std::all_of(table.columns.begin(), table.columns.end(), [&](const Column& c) { return std::isnan(c.cells[cell]); });
    if (empty) continue;
    std::size_t rest = cell;
    std::vector<std::size_t> at(table.axes.size());
    for (std::size_t i = table.axes.size(); i-- > 0;) {
      at[i] = rest % table.axes[i].size();
      rest /= table.axes[i].size();
    }
    for (std::size_t i = 0; i < at.size(); ++i) out += fmt::format("  {:<22}", axis_text(table.axes[i], at[i]));
    for (const auto& column : table.columns) out += fmt::format("  {:<14}", cell_text(table, column, cell, set));
    const int clause = table.clause_of(cell, table.columns.front());
    out += fmt::format("  {}\n", clause < 0 ? "" : table::word(table.clauses[static_cast<std::size_t>(clause)].seen));
  }
  return out;
}

}  // namespace

Exit run_tables(Context& context, const std::string& id) {
  const auto* set = context.rule_set();
  if (!set) return Exit::input;
  if (!id.empty()) {
    const Table* table = set->table(id);
    if (!table) {
      std::vector<std::string> known;
      for (const auto& [name, t] : set->tables()) known.push_back(name);
      text::Diagnostics diagnostics;
      diagnostics.add(text::MessageId::T011, {}, {id, text::suggestion(id, known)});
      context.report(diagnostics);
      return Exit::usage;
    }
    return context.write(page(*table, *set));
  }
  std::string out;
  for (const auto& [name, table] : set->tables()) {
    std::size_t filled = 0;
    for (const auto& c : table->columns) filled += static_cast<std::size_t>(std::count_if(c.cells.begin(), c.cells.end(), [](double v) { return !std::isnan(v); }));
    out += fmt::format("{:<36} {:>4} values   {:<24} {}\n", name, filled, table->clauses.empty() ? "" : table::to_string(table->clauses.front()), table->title);
  }
  return context.write(out);
}

}  // namespace jambcheck::cli
