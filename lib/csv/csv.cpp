#include "csv/csv.h"

#include <csv.h>

#include <algorithm>

#include "text/number.h"

namespace jambcheck::csv {
namespace {

struct State {
  std::vector<Row> rows;
  Row row;
  std::size_t line = 1;
};

void on_cell(void* data, std::size_t size, void* user) {
  auto& state = *static_cast<State*>(user);
  const std::string_view cell(static_cast<const char*>(data), size);
  if (state.row.cells.empty()) state.row.line = state.line;
  state.row.cells.emplace_back(cell);
  state.line += static_cast<std::size_t>(std::count(cell.begin(), cell.end(), '\n'));
}

void on_row(int, void* user) {
  auto& state = *static_cast<State*>(user);
  state.rows.push_back(std::move(state.row));
  state.row = {};
  ++state.line;
}

/// Each line end as one \n; libcsv would take \r\n for two.
std::string with_plain_line_ends(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\r') out += text[i];
    else if (i + 1 == text.size() || text[i + 1] != '\n') out += '\n';
  }
  return out;
}

}  // namespace

std::vector<Row> parse(std::string_view text, std::string& problem) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
  const std::string plain = with_plain_line_ends(text);
  State state;
  csv_parser parser;
  // Empty lines are rows too, so that line numbers stay true. A quote inside a cell is an inch mark: 2 1/2".
  if (csv_init(&parser, CSV_STRICT_FINI | CSV_REPALL_NL) != 0) {
    problem = "no memory";
    return {};
  }
  const std::size_t done = csv_parse(&parser, plain.data(), plain.size(), on_cell, on_row, &state);
  if (done != plain.size() || csv_fini(&parser, on_cell, on_row, &state) != 0)
    problem = "a quote that is opened in line " + std::to_string(state.line) + " or below is not closed";
  csv_free(&parser);
  return std::move(state.rows);
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
