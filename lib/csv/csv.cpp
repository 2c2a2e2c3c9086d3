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

}  // namespace

std::vector<Row> parse(std::string_view text, std::string& problem) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
  State state;
  csv_parser parser;
  // Empty lines are rows too, so that line numbers stay true; strict: a stray quote is an error, not a guess.
  if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_REPALL_NL) != 0) {
    problem = "no memory";
    return {};
  }
  const std::size_t done = csv_parse(&parser, text.data(), text.size(), on_cell, on_row, &state);
  if (done != text.size() || csv_fini(&parser, on_cell, on_row, &state) != 0)
    problem = std::string(csv_strerror(csv_error(&parser))) + " near line " + std::to_string(state.line);
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
