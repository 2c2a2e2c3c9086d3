#include "choose/prices.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "csv/csv.h"
#include "opening/fastener_text.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::choose {
namespace {

constexpr std::string_view kSized[] = {"washer", "bit", "screen tube", "shim"};
constexpr std::string_view kUnsized[] = {"vacuum bag", "puller day"};

/// 3/8 and 3/8 in are inches here, as in the text of a fastener.
double size_of(std::string_view text) {
  auto length = units::parse_length(text);
  if (!length) length = units::parse_length(std::string(text) + " in");
  return length && length->value > 0 ? length->value : Supply::kNotSaid;
}

/// The name of a row's item in the list; empty when it is not understood.
std::string key_of_text(std::string_view item) {
  for (const std::string_view what : kUnsized)
    if (item == what) return std::string(what);
  if (item == "adhesive" || item.substr(0, 9) == "adhesive ") return std::string(item);
  for (const std::string_view what : kSized)
    if (item.size() > what.size() && item.substr(0, what.size()) == what && item[what.size()] == ' ') {
      const double size = size_of(text::trim(item.substr(what.size())));
      return std::isnan(size) ? "" : goods_key(what, size);
    }
  const auto fastener = opening::parse_fastener(item);
  if (!fastener || !fastener->length || (!fastener->diameter && !fastener->number)) return "";
  return fastener_key(fastener->kind, fastener->number ? -*fastener->number : fastener->diameter->value, fastener->length->value);
}

double volume_of(std::string_view text) {
  const auto quantity = units::parse_quantity(text);
  const auto volume = units::parse_unit("in^3");
  return quantity && volume && quantity->shown.dimension == volume->dimension && quantity->value > 0 ? quantity->value : Supply::kNotSaid;
}

/// Reads one list.
class Reader {
 public:
  explicit Reader(Prices& out) : out_(out) {}

  std::vector<PriceProblem> read(std::string_view text) {
    std::string broken;
    const auto rows = csv::parse(text, broken);
    if (!broken.empty()) return {{1, broken}};
    for (std::size_t r = 0; r < rows.size(); ++r) {
      if (rows[r].cells.size() == 1 && rows[r].cells[0].empty()) continue;
      if (r != 0) row(rows[r]);
      else if (!head(rows[r])) break;
    }
    return std::move(problems_);
  }

 private:
  void tell(const csv::Row& row, std::string what) { problems_.push_back({row.line, std::move(what)}); }

  bool head(const csv::Row& row) {
    for (const auto& cell : row.cells) columns_.emplace_back(text::trim(cell));
    constexpr std::string_view kKnown[] = {"price", "pack", "lasts", "content", "note"};
    bool good = columns_.size() > 1 && (columns_[0] == "fastener" || columns_[0] == "item");
    for (std::size_t c = 1; good && c < columns_.size(); ++c)
      good = std::find(std::begin(kKnown), std::end(kKnown), columns_[c]) != std::end(kKnown) && std::count(columns_.begin(), columns_.end(), columns_[c]) == 1;
    if (!good) tell(row, "the first row must name the columns: fastener, then price, pack, lasts, content or note, each once");
    return good;
  }

  void row(const csv::Row& row) {
    Supply s;
    bool good = true, something = false;
    for (std::size_t c = 1; c < columns_.size() && good; ++c) {
      const std::string cell(c < row.cells.size() ? text::trim(csv::without_apostrophe(row.cells[c])) : "");
      something = something || (!cell.empty() && columns_[c] != "note");
      if (cell.empty() || columns_[c] == "note") continue;
      const std::string problem = put(columns_[c], cell, s);
      if (!problem.empty()) tell(row, problem);
      good = problem.empty();
    }
    if (!good) return;
    const std::string item(text::trim(row.cells[0]));
    if (!something) return tell(row, "a price of 0 or more is wanted behind the fastener");
    if (item == "hole") {
      if (std::isnan(s.price)) tell(row, "the work of one hole has a price, nothing else");
      else out_.of_hole = s.price;
      return;
    }
    const std::string key = key_of_text(item);
    if (key.empty()) return tell(row, fmt::format("'{}' is not understood as a fastener such as  lag 3/8 x 4,  or as goods such as  washer 3/8", item));
    if (!out_.supplies.emplace(key, s).second) return tell(row, fmt::format("'{}' stands in the list a second time", item));
    if (std::isnan(s.price) || item.find(" x ") == std::string::npos) return;
    out_.of_item[key] = s.price;
    out_.any = true;
  }

  static std::string put(const std::string& column, const std::string& cell, Supply& s) {
    if (column == "content") {
      s.content = volume_of(cell);
      return std::isnan(s.content) ? fmt::format("'{}' is no content of a cartridge, such as  300 mL", cell) : "";
    }
    const auto number = text::parse_number_or_quotient(cell);
    if (column == "price") {
      if (!number || *number < 0) return "a price of 0 or more is wanted behind the fastener";
      s.price = *number;
      return "";
    }
    if (!number || *number < 1 || *number != std::floor(*number)) return fmt::format("{} is a whole number such as 50, not '{}'", column, cell);
    (column == "pack" ? s.pack : s.lasts) = *number;
    return "";
  }

  Prices& out_;
  std::vector<std::string> columns_;
  std::vector<PriceProblem> problems_;
};

}  // namespace

std::string fastener_key(std::string_view kind, double size, double length) { return fmt::format("{} {:.4f} {:.4f}", kind, size, length); }

std::string goods_key(std::string_view what, double size) { return fmt::format("{} {:.4f}", what, size); }

std::vector<PriceProblem> read_prices(std::string_view text, Prices& out) { return Reader(out).read(text); }

double price_of(const Prices& prices, const Item& item) {
  const auto n = item.facts.find("number");
  const auto it = prices.of_item.find(fastener_key(item.kind, n != item.facts.end() ? -n->second.value : item.diameter, item.length));
  return it == prices.of_item.end() ? std::numeric_limits<double>::quiet_NaN() : it->second + prices.of_hole;
}

}  // namespace jambcheck::choose
