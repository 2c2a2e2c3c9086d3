#pragma once
// The columns of a schedule: which field each stands for, and what a bare number in it means.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "csv/csv.h"
#include "schedule/mapping.h"
#include "text/diagnostic.h"

namespace jambcheck::schedule {

struct Column {
  std::string head;  ///< as written
  std::string field;  ///< empty: the user's own, kept as it is
  std::string unit;
  std::map<std::string, std::string> words;
  bool result = false;  ///< of an earlier run; written anew
};

struct Columns {
  std::vector<Column> all;
  std::size_t mark = 0;  ///< index
  bool byte_order_mark = false;  ///< the file begins with one; spreadsheets then expect it
  std::vector<opening::Written> constants;
};

/// Heads of the columns that a check adds.
const std::vector<std::string>& result_heads();

/// Understands the head of a schedule. Heads are fields ("guide.spacing"), short names ("spacing"), either with a unit
/// behind a _ ("width_in"), or whatever the mapping says. Empty when something is wrong with the head as a whole.
std::optional<Columns> read_head(const csv::Row& head, const text::SourceFile& file, const Mapping& mapping, text::Diagnostics& diagnostics);

/// A row that begins with #units gives the units of its columns.
bool is_units_row(const csv::Row& row);
void read_units_row(const csv::Row& row, const text::SourceFile& file, Columns& columns, text::Diagnostics& diagnostics);

/// The name that spreadsheets give a column: 0 is A, 27 is AB.
std::string letters(std::size_t column);

/// The place of a cell in the file.
text::Place place_of(const csv::Row& row, std::size_t cell, const text::SourceFile& file);

}  // namespace jambcheck::schedule
