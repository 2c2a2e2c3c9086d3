#include "schedule/row.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::schedule {
namespace {

using text::MessageId;

bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    const std::size_t more = c < 0x80 ? 0 : c >= 0xC2 && c < 0xE0 ? 1 : c >= 0xE0 && c < 0xF0 ? 2 : c >= 0xF0 && c < 0xF5 ? 3 : 9;
    if (more == 9 || i + more >= text.size() + (more == 0 ? 1 : 0)) return false;
    for (std::size_t k = 1; k <= more; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return false;
    i += more + 1;
  }
  return true;
}

/// Nothing but a number, maybe with a fraction: 8, 8.25, 8-1/2, 8 1/2.
bool is_bare(std::string_view text) {
  const bool signs = text.find_first_not_of("0123456789./- ") == std::string_view::npos;
  return signs && !text.empty() && text.find_first_of("0123456789") != std::string_view::npos;
}

std::string with_unit(const std::string& number, const std::string& unit) {
  const bool mark = unit == "'" || unit == "\"";
  return number + (mark ? "" : " ") + unit;
}

/// "96" -> "96 in"; "96 x 84" -> "96 in x 84 in". What says its unit is left alone.
std::string in_unit(const std::string& text, const std::string& unit) {
  if (unit.empty()) return text;
  if (is_bare(text)) return with_unit(text, unit);
  const auto by = text.find_first_of("xX");
  if (by == std::string::npos) return text;
  const std::string first(text::trim(std::string_view(text).substr(0, by))), second(text::trim(std::string_view(text).substr(by + 1)));
  return is_bare(first) && is_bare(second) ? with_unit(first, unit) + " x " + with_unit(second, unit) : text;
}

std::string value_of(const std::string& cell, const Column& column) {
  std::string text(text::trim(csv::without_apostrophe(text::trim(cell))));
  const auto word = column.words.find(folded(text));
  if (word != column.words.end()) return word->second;
  return in_unit(text, column.unit);
}

bool all_empty(const std::vector<std::string>& cells) {
  return std::all_of(cells.begin(), cells.end(), [](const std::string& cell) { return text::trim(cell).empty(); });
}

std::string messages_cell(const Row& row) {
  std::string out;
  for (const auto& d : row.diagnostics.all()) {
    if (d.severity == text::Severity::note) continue;
    out += fmt::format("{}{} {}", out.empty() ? "" : " | ", text::entry(d.id).name, d.sentence);
    if (!d.todo.empty()) out += "; " + d.todo;
  }
  return out;
}

std::vector<std::string> result_cells(const Row& row, int digits) {
  if (row.blank || row.left_out) return std::vector<std::string>(result_heads().size());
  if (!row.summary) return {row.good ? "" : "not read", "", "", "", "", "", "", messages_cell(row)};
  const Summary& s = *row.summary;
  std::vector<std::string> asks, fields;
  for (const auto& q : s.questions) {
    asks.push_back(q.ask);
    for (const auto& f : q.fields)
      if (std::find(fields.begin(), fields.end(), f) == fields.end()) fields.push_back(f);
  }
  return {std::string(rules::word(s.state)), ratio_cell(s.ratio, digits), s.governs, s.why,
          text::join(asks, " | "), text::join(fields), std::to_string(s.assumed), messages_cell(row)};
}

}  // namespace

std::string ratio_cell(double ratio, int digits) { return std::isnan(ratio) ? "" : std::isinf(ratio) ? "unlimited" : text::rounded(ratio, digits); }

Summary summary_of(const verdict::OpeningResult& result) { return {result.state, result.ratio, result.governs, result.why, result.questions, result.assumed.size()}; }
Summary summary_of(const verdict::LightResult& result) { return {result.state, result.ratio, result.governs, result.why, {}, result.assumed}; }

std::vector<opening::Written> values_of(Row& row, const Columns& columns) {
  std::vector<opening::Written> out;
  row.blank = row.cells.problem.empty() && all_empty(row.cells.cells);
  if (row.blank) return out;
  const auto line = [&](std::size_t at) { return text::Place{&row.source, static_cast<std::uint32_t>(at), 1, 0}; };
  if (!row.cells.problem.empty()) {
    row.diagnostics.add(MessageId::S009, line(row.cells.line), {row.cells.problem});
    return out;
  }
  if (row.cells.cells.size() > columns.all.size())
    row.diagnostics.add(MessageId::S010, place_of(row.cells, columns.all.size(), row.source), {std::to_string(row.cells.cells.size()), std::to_string(columns.all.size())});
  for (std::size_t i = 0; i < columns.all.size() && i < row.cells.cells.size(); ++i) {
    const Column& column = columns.all[i];
    if (column.field.empty() || text::trim(row.cells.cells[i]).empty()) continue;
    const text::Place place = place_of(row.cells, i, row.source);
    // Its line is not shown: the letters would spoil the screen.
    if (!is_utf8(row.cells.cells[i]))
      row.diagnostics.add(MessageId::S011, {place.file, 0, 0, 0}, {fmt::format("line {}, column {} ({})", place.line, letters(i), column.head)});
    else out.push_back({column.field, value_of(row.cells.cells[i], column), place});
  }
  for (const auto& constant : columns.constants) {
    const bool given = std::any_of(out.begin(), out.end(), [&](const auto& value) { return value.path == constant.path; });
    if (!given) out.push_back({constant.path, constant.text, line(row.cells.line)});
  }
  return out;
}

void name_columns(Row& row, const Columns& columns) {
  text::Diagnostics named;
  for (const auto& d : row.diagnostics.all()) {
    auto copy = d;
    for (std::size_t i = 0; i < row.cells.places.size() && i < columns.all.size() && d.place.column != 0 && d.id != MessageId::S009; ++i) {
      const csv::CellPlace& at = row.cells.places[i];
      if (at.line != d.place.line || d.place.column < at.column || d.place.column >= at.column + std::max(1U, at.length)) continue;
      copy.sentence = fmt::format("column {} ({}): {}", letters(i), columns.all[i].head, d.sentence);
      break;
    }
    named.take(std::move(copy));
  }
  row.diagnostics = std::move(named);
}

std::vector<std::string> out_head(const Columns& columns) {
  std::vector<std::string> out;
  for (const auto& column : columns.all)
    if (!column.result) out.push_back(column.head);
  out.insert(out.end(), result_heads().begin(), result_heads().end());
  return out;
}

std::vector<std::string> out_cells(const Row& row, const Columns& columns, int digits) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < columns.all.size(); ++i)
    if (!columns.all[i].result) out.push_back(i < row.cells.cells.size() ? row.cells.cells[i] : "");
  const auto results = result_cells(row, digits);
  out.insert(out.end(), results.begin(), results.end());
  return out;
}

}  // namespace jambcheck::schedule
