#pragma once
// Published tables as data: axes, cells, what may be read between the lines, and refusal outside.
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "table/clause.h"
#include "text/symbols.h"
#include "units/unit.h"

namespace jambcheck::table {

/// What the source allows between two printed values.
enum class Between { exact, linear, next_lower, next_higher, log_linear };
enum class Outside { refuse, engineer };

struct Axis {
  std::string name;
  std::string say;
  bool is_word = false;
  units::Unit unit;
  Between between = Between::exact;
  Outside outside = Outside::refuse;
  std::vector<double> at;          ///< canonical values, strictly increasing (numbers)
  std::vector<std::string> words;  ///< (words)
  std::vector<std::pair<std::string, std::string>> aliases;  ///< other spelling -> word
  std::vector<std::int32_t> row_of_symbol;                   ///< symbol index -> position, -1 elsewhere
  text::Place place;
  [[nodiscard]] std::size_t size() const { return is_word ? words.size() : at.size(); }
};

struct Column {
  std::string name;
  std::string say;
  bool is_word = false;
  std::vector<std::string> words;
  units::Unit unit;
  int clause = -1;
  std::vector<double> cells;  ///< dense over the axes, first axis slowest; canonical value or symbol; NaN = no cell
};

struct Table {
  std::string id;
  std::string title;
  std::string note;
  std::vector<Clause> clauses;
  std::vector<Axis> axes;
  std::vector<Column> columns;
  std::vector<int> cell_clause;  ///< per cell; -1: the column's
  double printed_to = 0;         ///< rounding of the printed values, canonical; 0 when not stated
  units::Unit printed_unit;
  text::Place place;
  std::string path;  ///< file
  [[nodiscard]] const Column* column(std::string_view name) const;
  [[nodiscard]] std::size_t cells() const;
  [[nodiscard]] int clause_of(std::size_t cell, const Column& column) const;
};

/// What a lookup found. `value` is NaN where the table refuses.
struct Found {
  double value;
  bool refused = false;   ///< outside, between exact values, or an empty cell
  bool engineer = false;  ///< outside an axis whose outside is `engineer`
  std::size_t cell = 0;   ///< the (lower) cell used
};

/// `args` one per axis: canonical numbers or symbol indices.
Found find(const Table& table, const Column& column, std::span<const double> args);

/// For the trace: "row 0.50, column 1/2 in"; between two values: "between 0.50 and 0.51, 0.4 of the way".
std::string address(const Table& table, std::span<const double> args);

/// The values of the axes at a cell, in axis order.
std::vector<double> axis_values(const Table& table, std::size_t cell, const text::Symbols& symbols);

/// Reads table/1 documents of a file. Problems: Y..., U..., C..., T001 axis not increasing, T002 row without axis value,
/// T003 cell given twice, T004 number expected, T005 interpolation without cite, T006 row length, T007 unknown word.
std::vector<std::unique_ptr<Table>> read_tables(const std::vector<yaml::Node>& documents, text::Symbols& symbols,
                                                text::Diagnostics& diagnostics);

}  // namespace jambcheck::table
