#include <algorithm>
#include <istream>
#include <sstream>

#include "csv/csv.h"

namespace jambcheck::csv {
namespace {

constexpr int kEnd = std::char_traits<char>::eof();
// Spreadsheets hold no longer cell; a longer one is a quote that nobody closed, and must not swallow the file.
constexpr std::size_t kLongestCell = 32767;

}  // namespace

RowReader::RowReader(std::istream& in) : in_(in) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  while (ahead_.size() < kMark.size() && in_.rdbuf()->sgetc() != kEnd) ahead_ += static_cast<char>(in_.rdbuf()->sbumpc());
  marked_ = ahead_ == kMark;
  wide_ = ahead_.rfind("\xFF\xFE", 0) == 0 || ahead_.rfind("\xFE\xFF", 0) == 0;
  if (marked_) ahead_.clear();
}

int RowReader::peek() const {
  if (at_ < ahead_.size()) return static_cast<unsigned char>(ahead_[at_]);
  return in_.rdbuf()->sgetc();
}

int RowReader::get() {
  const int c = peek();
  if (c == kEnd) return c;
  if (at_ < ahead_.size()) {
    if (++at_ == ahead_.size()) {
      ahead_.clear();
      at_ = 0;
    }
  } else {
    in_.rdbuf()->sbumpc();
  }
  written_ += static_cast<char>(c);
  return c;
}

bool RowReader::take(char c) {
  if (peek() != static_cast<unsigned char>(c)) return false;
  get();
  return true;
}

bool RowReader::at_line_end() const {
  const int c = peek();
  return c == kEnd || c == '\n' || c == '\r';
}

void RowReader::line_end() {
  const bool returned = take('\r');
  if (take('\n') || returned) ++line_;
}

bool RowReader::next(Row& row) {
  if (peek() == kEnd) return false;
  row = {};
  row.line = line_;
  written_.clear();
  line_start_ = 0;
  do {
    CellPlace place{line_, static_cast<std::uint32_t>(written_.size() - line_start_ + 1), 0};
    const std::size_t start = written_.size();
    row.cells.push_back(cell(row));
    place.length = static_cast<std::uint32_t>(written_.size() - start);
    row.places.push_back(place);
  } while (row.problem.empty() && take(','));
  if (!row.problem.empty()) {
    while (!at_line_end()) get();
    row.written = written_;
    if (line_ != row.line) go_back_to_second_line(row);
    else line_end();
    return true;
  }
  row.written = written_;
  line_end();
  return true;
}

void RowReader::fail(Row& row, std::size_t line, const char* what) {
  row.problem = what;
  row.problem_line = line;
}

/// A lost quote takes later rows along; only the line where the row began is given up.
void RowReader::go_back_to_second_line(Row& row) {
  const auto end = written_.find('\n');
  ahead_ = written_.substr(end + 1) + ahead_.substr(at_);
  at_ = 0;
  row.written = written_.substr(0, end);
  if (!row.written.empty() && row.written.back() == '\r') row.written.pop_back();
  line_ = row.line + 1;
  while (row.places.size() > 1 && row.places.back().line != row.line) {
    row.places.pop_back();
    row.cells.pop_back();
  }
  const std::size_t begin = row.places.back().column - 1;
  row.cells.back() = row.written.substr(std::min(begin, row.written.size()));
  row.places.back().length = static_cast<std::uint32_t>(row.cells.back().size());
}

std::string RowReader::cell(Row& row) {
  if (take('"')) return quoted(row);
  std::string out;
  while (!at_line_end() && peek() != ',') out += static_cast<char>(get());
  return out;
}

/// The cell behind an opening quote, up to and with the closing one.
std::string RowReader::quoted(Row& row) {
  const std::size_t opened = line_;
  std::string out;
  while (peek() != kEnd && out.size() <= kLongestCell) {
    const int c = get();
    if (c == '"' && !take('"')) {
      if (!at_line_end() && peek() != ',') fail(row, line_, "text follows a closed quote; a quote inside quotes is written twice");
      return out;
    }
    if (c == '\n') {
      ++line_;
      line_start_ = written_.size();
    }
    out += static_cast<char>(c);
  }
  fail(row, opened, "a quote is opened and not closed");
  return out;
}

std::vector<Row> parse(std::string_view text, std::string& problem) {
  std::istringstream in{std::string(text)};
  RowReader reader(in);
  std::vector<Row> rows;
  for (Row row; reader.next(row);) {
    if (!row.problem.empty()) problem = "line " + std::to_string(row.problem_line) + ": " + row.problem;
    rows.push_back(std::move(row));
    if (!problem.empty()) break;
  }
  return rows;
}

}  // namespace jambcheck::csv
