#include "csv/csv.h"

#include "text/number.h"

namespace jambcheck::csv {
namespace {

constexpr std::string_view kRuns = "=+-@\t\r";  // what a spreadsheet takes for the start of a formula

}  // namespace

std::string_view without_apostrophe(std::string_view cell) {
  const bool guarded = cell.size() > 1 && cell.front() == '\'' && kRuns.find(cell[1]) != std::string_view::npos;
  return guarded ? cell.substr(1) : cell;
}

std::string write_row(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i != 0) out += ',';
    std::string cell = cells[i];
    const bool runs = !cell.empty() && kRuns.find(cell.front()) != std::string_view::npos;
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
