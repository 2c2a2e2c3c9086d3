// Reading table/1: rows of a list, or a grid of two axes.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "table/table.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::table {
namespace {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

class Reader {
 public:
  Reader(text::Symbols& symbols, text::Diagnostics& diagnostics) : symbols_(symbols), diagnostics_(diagnostics) {}

  std::unique_ptr<Table> read(const Node& doc) {
    auto table = std::make_unique<Table>();
    table_ = table.get();
    table_->place = doc.place;
    if (doc.place.file) table_->path = doc.place.file->name;
    yaml::check_keys(doc, {"schema", "id", "title", "clauses", "axes", "values", "printed_to", "rows", "grid", "note"}, "a table",
                     diagnostics_);
    if (const auto* id = yaml::need(doc, "id", Kind::scalar, "a table", diagnostics_)) table_->id = id->text;
    if (const auto* title = yaml::may(doc, "title", Kind::scalar, "a table", diagnostics_)) table_->title = title->text;
    if (const auto* note = yaml::may(doc, "note", Kind::scalar, "a table", diagnostics_)) table_->note = note->text;
    if (const auto* clauses = yaml::need(doc, "clauses", Kind::map, "a table", diagnostics_))
      table_->clauses = read_clauses(*clauses, "a table", diagnostics_);
    if (const auto* axes = yaml::need(doc, "axes", Kind::sequence, "a table", diagnostics_))
      for (const auto& axis : axes->items) read_axis(axis);
    if (const auto* values = yaml::need(doc, "values", Kind::sequence, "a table", diagnostics_))
      for (const auto& value : values->items) read_column(value);
    read_rounding(doc);
    if (table_->axes.empty() || table_->columns.empty()) return table;
    const Node* grid = yaml::may(doc, "grid", Kind::map, "a table", diagnostics_);
    const Node* rows = yaml::may(doc, "rows", Kind::sequence, "a table", diagnostics_);
    if (grid) read_grid(*grid);
    else if (rows) read_rows(*rows);
    else if (!doc.find("grid") && !doc.find("rows")) diagnostics_.add(MessageId::Y004, doc.place, {"a table", "rows"});
    intern_words();
    return table;
  }

 private:
  units::Unit read_unit(const Node& node) {
    auto unit = units::parse_unit(node.text);
    if (unit) return *unit;
    diagnostics_.add(unit.error(), node.place);
    return {};
  }
  void read_words(const Node& list, std::vector<std::string>& words) {
    for (const auto& word : list.items) words.push_back(word.text);
  }

  void read_axis(const Node& node) {
    Axis axis;
    axis.place = node.place;
    yaml::check_keys(node, {"name", "kind", "unit", "between", "outside", "cite", "say"}, "an axis", diagnostics_);
    if (const auto* name = yaml::need(node, "name", Kind::scalar, "an axis", diagnostics_)) axis.name = name->text;
    if (const auto* say = yaml::may(node, "say", Kind::scalar, "an axis", diagnostics_)) axis.say = say->text;
    const Node* kind = node.find("kind");
    axis.is_word = kind && kind->text == "word";
    const Node* outside = axis.is_word ? node.find("outside") : yaml::need(node, "outside", Kind::scalar, "an axis", diagnostics_);
    if (outside) {
      if (outside->text == "engineer") axis.outside = Outside::engineer;
      else if (outside->text != "refuse") diagnostics_.add(MessageId::T008, outside->place, {"outside", outside->text, "refuse, engineer"});
    }
    if (!axis.is_word) {
      if (const auto* unit = yaml::need(node, "unit", Kind::scalar, "an axis", diagnostics_)) axis.unit = read_unit(*unit);
      read_between(node, axis);
    }
    table_->axes.push_back(std::move(axis));
  }
  void read_between(const Node& node, Axis& axis) {
    const Node* between = node.find("between");
    if (!between) return;
    const std::vector<std::pair<std::string, Between>> known = {{"exact", Between::exact}, {"linear", Between::linear},
                                                                {"next-lower", Between::next_lower},
                                                                {"next-higher", Between::next_higher},
                                                                {"log-linear", Between::log_linear}};
    for (const auto& [name, value] : known)
      if (between->text == name) {
        axis.between = value;
        const Node* cite = node.find("cite");
        if (value != Between::exact && !cite) diagnostics_.add(MessageId::T005, between->place, {between->text});
        if (cite) find_clause(table_->clauses, *cite, diagnostics_);
        return;
      }
    diagnostics_.add(MessageId::T008, between->place, {"between", between->text, "exact, linear, next-lower, next-higher, log-linear"});
  }

  void read_column(const Node& node) {
    Column column;
    yaml::check_keys(node, {"name", "unit", "one_of", "cite", "say"}, "a value", diagnostics_);
    if (const auto* name = yaml::need(node, "name", Kind::scalar, "a value", diagnostics_)) column.name = name->text;
    if (const auto* say = yaml::may(node, "say", Kind::scalar, "a value", diagnostics_)) column.say = say->text;
    if (const auto* words = yaml::may(node, "one_of", Kind::sequence, "a value", diagnostics_)) {
      column.is_word = true;
      read_words(*words, column.words);
    } else if (const auto* unit = yaml::need(node, "unit", Kind::scalar, "a value", diagnostics_)) {
      column.unit = read_unit(*unit);
    }
    if (const auto* cite = yaml::need(node, "cite", Kind::scalar, "a value", diagnostics_))
      column.clause = find_clause(table_->clauses, *cite, diagnostics_);
    table_->columns.push_back(std::move(column));
  }

  void read_rounding(const Node& doc) {
    const Node* node = yaml::may(doc, "printed_to", Kind::scalar, "a table", diagnostics_);
    if (!node) return;
    const auto quantity = units::parse_quantity(node->text);
    if (!quantity) {
      diagnostics_.add(quantity.error(), node->place);
      return;
    }
    table_->printed_to = quantity->value;
    table_->printed_unit = quantity->shown;
  }

  /// A number in the unit of its axis or column; reports T004.
  double number(const Node& node, const units::Unit& unit) {
    if (node.is_null()) return kNone;
    const auto value = text::parse_number_or_quotient(node.text);
    if (node.is_scalar() && value) return unit.to_canonical(*value);
    diagnostics_.add(MessageId::T004, node.place, {node.text, unit.name});
    return kNone;
  }
  double value(const Node& node, const Column& column) {
    if (!column.is_word) return number(node, column.unit);
    if (node.is_null()) return kNone;
    if (std::find(column.words.begin(), column.words.end(), node.text) == column.words.end())
      diagnostics_.add(MessageId::T007, node.place, {column.name, node.text, text::suggestion(node.text, column.words)});
    return static_cast<double>(symbols_.intern(node.text));
  }

  // ---- rows
  void read_rows(const Node& rows) {
    collect_axes(rows);
    const std::size_t n = table_->cells();
    for (auto& column : table_->columns) column.cells.assign(n, kNone);
    table_->cell_clause.assign(n, -1);
    std::map<std::size_t, text::Place> first;
    std::vector<std::string> allowed = {"cite", "say", "also"};
    for (const auto& axis : table_->axes) allowed.push_back(axis.name);
    for (const auto& column : table_->columns) allowed.push_back(column.name);
    for (const auto& row : rows.items) {
      if (!row.is_map()) {
        diagnostics_.add(MessageId::Y005, row.place, {"a table", "rows", "a list of maps", std::string(yaml::word(row.kind))});
        continue;
      }
      yaml::check_keys(row, allowed, "a row", diagnostics_);
      std::size_t cell = 0;
      if (!cell_of(row, cell)) continue;
      const auto [it, fresh] = first.emplace(cell, row.place);
      if (!fresh) {
        auto& d = diagnostics_.add(MessageId::T003, row.place);
        d.other = it->second;
        d.other_note = "first given here";
        continue;
      }
      for (auto& column : table_->columns)
        if (const Node* v = row.find(column.name)) column.cells[cell] = value(*v, column);
      if (const Node* cite = row.find("cite")) table_->cell_clause[cell] = find_clause(table_->clauses, *cite, diagnostics_);
    }
  }
  void collect_axes(const Node& rows) {
    for (auto& axis : table_->axes) {
      for (const auto& row : rows.items) {
        const Node* node = row.find(axis.name);
        if (!node) {
          if (row.is_map()) diagnostics_.add(MessageId::T002, row.place, {axis.name});
        } else if (axis.is_word) {
          if (std::find(axis.words.begin(), axis.words.end(), node->text) == axis.words.end()) axis.words.push_back(node->text);
          collect_aliases(row, axis, node->text);
        } else {
          const double x = number(*node, axis.unit);
          if (!std::isnan(x)) axis.at.push_back(x);
        }
      }
      if (!axis.is_word) {
        std::sort(axis.at.begin(), axis.at.end());
        axis.at.erase(std::unique(axis.at.begin(), axis.at.end()), axis.at.end());
      }
    }
  }
  void collect_aliases(const Node& row, Axis& axis, const std::string& word) {
    if (&axis != &table_->axes.front()) return;
    if (const Node* also = row.find("also"))
      for (const auto& alias : also->items) axis.aliases.emplace_back(alias.text, word);
  }
  bool cell_of(const Node& row, std::size_t& cell) {
    cell = 0;
    for (const auto& axis : table_->axes) {
      const Node* node = row.find(axis.name);
      if (!node) return false;
      std::size_t k = 0;
      if (axis.is_word) {
        k = static_cast<std::size_t>(std::find(axis.words.begin(), axis.words.end(), node->text) - axis.words.begin());
      } else {
        const auto x = text::parse_number_or_quotient(node->text);
        if (!x) return false;
        k = static_cast<std::size_t>(std::lower_bound(axis.at.begin(), axis.at.end(), axis.unit.to_canonical(*x)) - axis.at.begin());
      }
      cell = cell * axis.size() + k;
    }
    return true;
  }

  // ---- grid
  void read_grid(const Node& grid) {
    yaml::check_keys(grid, {"down", "across", "across_at", "rows"}, "a grid", diagnostics_);
    const Node* down = yaml::need(grid, "down", Kind::scalar, "a grid", diagnostics_);
    const Node* across = yaml::need(grid, "across", Kind::scalar, "a grid", diagnostics_);
    const Node* heads = yaml::need(grid, "across_at", Kind::sequence, "a grid", diagnostics_);
    const Node* rows = yaml::need(grid, "rows", Kind::sequence, "a grid", diagnostics_);
    if (!down || !across || !heads || !rows) return;
    if (table_->axes.size() != 2 || table_->columns.size() != 1 || table_->axes[0].name != down->text ||
        table_->axes[1].name != across->text) {
      diagnostics_.add(MessageId::T009, grid.place);
      return;
    }
    for (const auto& head : heads->items) add_to_axis(table_->axes[1], head);
    for (const auto& row : rows->items)
      if (const Node* head = row.find(down->text)) add_to_axis(table_->axes[0], *head);
      else diagnostics_.add(MessageId::T002, row.place, {down->text});
    std::vector<const Node*> down_heads, across_heads;
    for (const auto& row : rows->items)
      if (const Node* head = row.find(down->text)) down_heads.push_back(head);
    for (const auto& head : heads->items) across_heads.push_back(&head);
    check_increasing(table_->axes[0], down_heads);
    check_increasing(table_->axes[1], across_heads);
    auto& column = table_->columns[0];
    column.cells.assign(table_->cells(), kNone);
    table_->cell_clause.assign(table_->cells(), -1);
    std::size_t r = 0;
    for (const auto& row : rows->items) {
      yaml::check_keys(row, {down->text, "values", "cite"}, "a row", diagnostics_);
      const Node* values = row.find("values");
      if (!row.find(down->text) || !values) continue;
      const std::size_t width = table_->axes[1].size();
      if (values->items.size() != width) {
        diagnostics_.add(MessageId::T006, values->place, {std::to_string(values->items.size()), std::to_string(width)});
      } else {
        for (std::size_t k = 0; k < width; ++k) column.cells[r * width + k] = value(values->items[k], column);
        if (const Node* cite = row.find("cite")) {
          const int clause = find_clause(table_->clauses, *cite, diagnostics_);
          for (std::size_t k = 0; k < width; ++k) table_->cell_clause[r * width + k] = clause;
        }
      }
      ++r;
    }
  }
  void add_to_axis(Axis& axis, const Node& head) {
    if (axis.is_word) axis.words.push_back(head.text);
    else axis.at.push_back(number(head, axis.unit));
  }
  void check_increasing(const Axis& axis, const std::vector<const Node*>& heads) {
    if (axis.is_word) return;
    for (std::size_t i = 1; i < axis.at.size(); ++i)
      if (axis.at[i] <= axis.at[i - 1]) {  // what is no number was reported as such
        diagnostics_.add(MessageId::T001, heads[i]->place, {axis.name, heads[i]->text, heads[i - 1]->text});
        return;
      }
  }

  void intern_words() {
    for (auto& axis : table_->axes) {
      if (!axis.is_word) continue;
      for (std::size_t i = 0; i < axis.words.size(); ++i) {
        const std::uint32_t symbol = symbols_.intern(axis.words[i]);
        if (axis.row_of_symbol.size() <= symbol) axis.row_of_symbol.resize(symbol + 1, -1);
        axis.row_of_symbol[symbol] = static_cast<std::int32_t>(i);
      }
    }
  }

  text::Symbols& symbols_;
  text::Diagnostics& diagnostics_;
  Table* table_ = nullptr;
};

}  // namespace

std::vector<std::unique_ptr<Table>> read_tables(const std::vector<Node>& documents, text::Symbols& symbols,
                                                text::Diagnostics& diagnostics) {
  std::vector<std::unique_ptr<Table>> out;
  for (const auto& doc : documents) {
    if (!doc.is_map()) {
      diagnostics.add(MessageId::Y005, doc.place, {"a table file", "the document", "a map", std::string(yaml::word(doc.kind))});
      continue;
    }
    out.push_back(Reader(symbols, diagnostics).read(doc));
  }
  return out;
}

}  // namespace jambcheck::table
