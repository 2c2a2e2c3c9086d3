#pragma once
// One row of a schedule: its opening, its result in short, its cells with the result behind them.
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "schedule/columns.h"
#include "verdict/light.h"

namespace jambcheck::schedule {

/// What a schedule keeps of a result.
struct Summary {
  rules::State state = rules::State::engineer;
  double ratio = 0;
  std::string governs;  ///< address
  std::string why;
  std::vector<verdict::Question> questions;
  std::size_t assumed = 0;
};

Summary summary_of(const verdict::OpeningResult& result);
Summary summary_of(const verdict::LightResult& result);

/// A row with everything that its messages point to.
struct Row {
  csv::Row cells;
  text::SourceFile source;  ///< the row as a piece of its file
  bool blank = false;       ///< nothing in it: passed through
  bool left_out = false;    ///< not among the marks asked for
  std::string mark;
  text::Diagnostics diagnostics;
  bool good = false;        ///< read; then `summary` is there unless nothing was to be checked
  std::shared_ptr<const Summary> summary;
};

/// The values of a row, field by field; problems of the row itself (its cells, its letters) are reported.
std::vector<opening::Written> values_of(Row& row, const Columns& columns);

/// Tells each message's column: "column F (width): ..." before its sentence, for a row is no place to count bytes in.
void name_columns(Row& row, const Columns& columns);

/// Heads and cells as they are written: the user's own, then the results.
std::vector<std::string> out_head(const Columns& columns);
std::vector<std::string> out_cells(const Row& row, const Columns& columns, int digits);

/// "0.8631", "unlimited", or empty.
std::string ratio_cell(double ratio, int digits);

}  // namespace jambcheck::schedule
