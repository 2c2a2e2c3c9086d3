#include "csv/csv.h"

#include "text/number.h"

namespace jambcheck::csv {
namespace {

/// One reading of the text from left to right. A quote counts only at the start of a cell: 2 1/2" is a cell of its own.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  std::vector<Row> read(std::string& problem) {
    while (at_ < text_.size() && problem.empty()) {
      Row row;
      row.line = line_;
      do row.cells.push_back(cell(problem));
      while (problem.empty() && take(','));
      line_end();
      rows_.push_back(std::move(row));
    }
    return std::move(rows_);
  }

 private:
  [[nodiscard]] bool at_line_end() const { return at_ == text_.size() || text_[at_] == '\n' || text_[at_] == '\r'; }
  bool take(char c) {
    if (at_ == text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }
  void line_end() {
    const bool returned = take('\r');
    if (take('\n') || returned) ++line_;
  }
  std::string cell(std::string& problem) {
    const std::size_t start = at_;
    if (take('"')) return quoted(problem);
    while (!at_line_end() && text_[at_] != ',') ++at_;
    return std::string(text_.substr(start, at_ - start));
  }
  /// The cell behind an opening quote, up to and with the closing one.
  std::string quoted(std::string& problem) {
    const std::size_t opened = line_;
    std::string out;
    while (at_ < text_.size()) {
      const char c = text_[at_++];
      if (c == '"' && !take('"')) {
        if (!at_line_end() && text_[at_] != ',')
          problem = "line " + std::to_string(line_) + ": text follows a closed quote; a quote inside quotes is written twice";
        return out;
      }
      if (c == '\n') ++line_;
      out += c;
    }
    problem = "line " + std::to_string(opened) + ": a quote is opened and not closed";
    return out;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
  std::vector<Row> rows_;
};

}  // namespace

std::vector<Row> parse(std::string_view text, std::string& problem) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
  return Reader(text).read(problem);
}

std::string write_row(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i != 0) out += ',';
    std::string cell = cells[i];
    const bool runs = !cell.empty() && std::string_view("=+-@\t").find(cell.front()) != std::string_view::npos;
    if (runs && !text::parse_number(cell)) cell.insert(cell.begin(), '\'');
    if (cell.find_first_of(",\"\r\n") == std::string::npos) {
      out += cell;
      continue;
    }
    out += '"';
    for (const char c : cell) {
      if (c == '"') out += '"';
      out += c;
    }
    out += '"';
  }
  return out + "\n";
}

}  // namespace jambcheck::csv
