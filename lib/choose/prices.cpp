#include "choose/prices.h"

#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "csv/csv.h"
#include "opening/fastener_text.h"
#include "text/number.h"

namespace jambcheck::choose {
namespace {

std::string key_of(std::string_view kind, double diameter, double length) { return fmt::format("{} {:.4f} {:.4f}", kind, diameter, length); }

}  // namespace

std::vector<PriceProblem> read_prices(std::string_view text, Prices& out) {
  std::vector<PriceProblem> problems;
  std::string broken;
  const auto rows = csv::parse(text, broken);
  if (!broken.empty()) return {{1, broken}};
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const auto& row = rows[r];
    if (row.cells.size() == 1 && row.cells[0].empty()) continue;
    if (r == 0) {
      if (row.cells.size() < 2 || row.cells[0] != "fastener" || row.cells[1] != "price") return {{row.line, "the first row must name the columns: fastener,price"}};
      continue;
    }
    const auto price = row.cells.size() < 2 ? std::nullopt : text::parse_number_or_quotient(row.cells[1]);
    if (!price || *price < 0) {
      problems.push_back({row.line, "a price of 0 or more is wanted behind the fastener"});
      continue;
    }
    if (row.cells[0] == "hole") {
      out.of_hole = *price;
      continue;
    }
    const auto fastener = opening::parse_fastener(row.cells[0]);
    if (!fastener || !fastener->length || (!fastener->diameter && !fastener->number)) {
      problems.push_back({row.line, fmt::format("'{}' is not understood as a fastener such as  lag 3/8 x 4", row.cells[0])});
      continue;
    }
    const double size = fastener->number ? -*fastener->number : fastener->diameter->value;
    out.of_item[key_of(fastener->kind, size, fastener->length->value)] = *price;
    out.any = true;
  }
  return problems;
}

double price_of(const Prices& prices, const Item& item) {
  const auto n = item.facts.find("number");
  const auto it = prices.of_item.find(key_of(item.kind, n != item.facts.end() ? -n->second.value : item.diameter, item.length));
  return it == prices.of_item.end() ? std::numeric_limits<double>::quiet_NaN() : it->second + prices.of_hole;
}

}  // namespace jambcheck::choose
