#include "verdict/stock.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::verdict {
namespace {

/// Every number of the table's first column whose cell has `word` on the first axis (any, where it is no word).
std::vector<double> cells_of(const rules::RuleSet& set, std::string_view id, std::string_view word) {
  const table::Table* table = set.table(id);
  std::vector<double> out;
  if (!table || table->columns.empty() || table->axes.empty()) return out;
  const auto& cells = table->columns.front().cells;
  const auto& axis = table->axes.front();
  const std::size_t each = cells.size() / std::max<std::size_t>(1, axis.size());
  for (std::size_t i = 0; i < cells.size(); ++i)
    if (!std::isnan(cells[i]) && (!axis.is_word || axis.words[i / each] == word)) out.push_back(cells[i]);
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

std::vector<double> stock_lengths(const rules::RuleSet& set, std::string_view kind) { return cells_of(set, "fasteners.stock_lengths", kind); }
std::vector<double> stock_drills(const rules::RuleSet& set) { return cells_of(set, "fasteners.drill_sizes", ""); }

}  // namespace jambcheck::verdict
