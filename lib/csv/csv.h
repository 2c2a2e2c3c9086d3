#pragma once
// Comma-separated rows in and out.
#include <cstdint>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::csv {

/// Where a cell stands: line of the file and byte in that line, both from 1, and its length with quotes.
struct CellPlace {
  std::size_t line = 1;
  std::uint32_t column = 1;
  std::uint32_t length = 0;
};

struct Row {
  std::size_t line = 1;  ///< where it begins, from 1
  std::vector<std::string> cells;
  std::vector<CellPlace> places;  ///< of the cells
  std::string written;            ///< as it stands in the file, without its line end
  std::string problem;            ///< why it is no row; its cells are then as far as they could be read
  std::size_t problem_line = 0;
};

/// Rows one after the other, for files that are too long to be kept. A byte order mark is dropped; line ends may be of
/// any kind; cells may hold quotes, commas and line ends. A quote counts only at the start of a cell: 2 1/2" is a cell of
/// its own. After a row with a problem reading goes on at the next line of the file.
class RowReader {
 public:
  explicit RowReader(std::istream& in);
  /// False at the end.
  bool next(Row& row);
  /// Whether the text began with a byte order mark of UTF-8.
  [[nodiscard]] bool marked() const { return marked_; }
  /// Whether it begins with that of UTF-16.
  [[nodiscard]] bool wide() const { return wide_; }

 private:
  [[nodiscard]] int peek() const;
  int get();
  bool take(char c);
  [[nodiscard]] bool at_line_end() const;
  void line_end();
  std::string cell(Row& row);
  std::string quoted(Row& row);
  void fail(Row& row, std::size_t line, const char* what);
  void go_back_to_second_line(Row& row);

  std::istream& in_;
  std::string ahead_;  ///< taken from the stream and to be read (again)
  std::size_t at_ = 0;
  std::size_t line_ = 1;
  std::size_t line_start_ = 0;  ///< of the line within written_
  std::string written_;         ///< of the row being read
  bool marked_ = false, wide_ = false;
};

/// All rows. `problem` is set when the text is no CSV (an open quote); the rows before it are good.
std::vector<Row> parse(std::string_view text, std::string& problem);

/// One row with its end, quoted where needed. A cell that a spreadsheet would run as a formula (= + - @ at its start,
/// and no number) gets a leading apostrophe.
std::string write_row(const std::vector<std::string>& cells);

/// The cell without the apostrophe that write_row puts before what looks like a formula.
std::string_view without_apostrophe(std::string_view cell);

}  // namespace jambcheck::csv
