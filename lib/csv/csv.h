#pragma once
// Comma-separated rows in and out.
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::csv {

struct Row {
  std::size_t line = 1;  ///< where it begins, from 1
  std::vector<std::string> cells;
};

/// All rows. A byte order mark is dropped; line ends may be of any kind; cells may hold quotes, commas and line ends.
/// `problem` is set when the text is no CSV (an open quote).
std::vector<Row> parse(std::string_view text, std::string& problem);

/// One row with its end, quoted where needed. A cell that a spreadsheet would run as a formula (= + - @ at its start,
/// and no number) gets a leading apostrophe.
std::string write_row(const std::vector<std::string>& cells);

}  // namespace jambcheck::csv
