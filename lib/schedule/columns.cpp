#include "schedule/columns.h"

#include <algorithm>

#include "text/number.h"
#include "text/suggest.h"
#include "units/unit.h"

namespace jambcheck::schedule {
namespace {

using text::MessageId;

std::string short_name(std::string_view head) {
#define JAMBCHECK_SHORT_NAME(name, field) \
  if (head == name) return field;
#include "schedule/short_names.def"
#undef JAMBCHECK_SHORT_NAME
  return "";
}

/// The field that a head names, without a mapping; empty when it names none.
std::string field_of(const std::string& head) {
  const std::string by_short = short_name(head);
  if (!by_short.empty()) return by_short;
  for (const auto& name : column_names())
    if (folded(name) == head) return name;  // door.curtain_EI has capitals
  return may_be_column(head) ? head : "";
}

/// "width_in" is the field width with inches.
bool field_with_unit(const std::string& head, Column& column) {
  const auto dash = head.rfind('_');
  if (dash == std::string::npos || dash == 0) return false;
  const std::string unit = head.substr(dash + 1), field = field_of(head.substr(0, dash));
  if (field.empty() || !takes_unit(field) || !(unit == "lb" || unit == "kg" || units::parse_unit(unit))) return false;
  column.field = field;
  column.unit = unit;
  return true;
}

class HeadReader {
 public:
  HeadReader(const csv::Row& head, const text::SourceFile& file, const Mapping& mapping, text::Diagnostics& diagnostics)
      : head_(head), file_(file), mapping_(mapping), diagnostics_(diagnostics) {}

  std::optional<Columns> run() {
    const auto earlier = diagnostics_.count(text::Severity::error);
    if (parted_otherwise()) return std::nullopt;
    for (std::size_t i = 0; i < head_.cells.size(); ++i) out_.all.push_back(column(i));
    for (const auto& mapped : mapping_.columns)
      if (!used(mapped.head)) diagnostics_.add(MessageId::S005, mapped.place, {mapped.head, text::suggestion(mapped.head, head_.cells)});
    find_twice();
    find_mark();
    if (diagnostics_.count(text::Severity::error) != earlier) return std::nullopt;
    out_.constants = mapping_.constants;
    return std::move(out_);
  }

 private:
  [[nodiscard]] text::Place place(std::size_t i) const { return place_of(head_, i, file_); }

  bool parted_otherwise() {
    if (head_.cells.size() > 1) return false;
    for (const char c : {';', '\t'})
      if (head_.cells.front().find(c) != std::string::npos) {
        diagnostics_.add(MessageId::S006, place(0), {c == ';' ? "semicolons" : "tabs"});
        return true;
      }
    return false;
  }

  Column column(std::size_t i) {
    Column out;
    out.head = head_.cells[i];
    const std::string head = folded(out.head);
    const auto& results = result_heads();
    out.result = std::find(results.begin(), results.end(), head) != results.end();
    if (out.result || head.empty()) return out;
    for (const auto& mapped : mapping_.columns)
      if (folded(mapped.head) == head) {
        out.field = mapped.field;
        out.unit = mapped.unit;
        out.words = mapped.words;
        return out;
      }
    const auto left = [&](const std::string& name) { return folded(name) == head; };
    if (std::any_of(mapping_.leave.begin(), mapping_.leave.end(), left)) return out;
    out.field = field_of(head);
    if (out.field.empty() && !field_with_unit(head, out)) warn_of_slip(head, i);
    return out;
  }

  /// A head with a dot means a field; one that is nearly a field may mean it.
  void warn_of_slip(const std::string& head, std::size_t i) {
    const auto dot = head.find('.');
    const bool dotted = dot != std::string::npos && dot != 0 && dot + 1 < head.size() && head.find(' ') == std::string::npos;
    if (opening::owner_of(head) == opening::Owner::project) {
      diagnostics_.add(MessageId::S003, place(i), {head});
    } else if (dotted) {
      diagnostics_.add(MessageId::S002, place(i), {head, text::suggestion(head, column_names())});
    } else if (const std::string best = text::nearest(head, column_names()); !best.empty() && head.size() > 3) {
      diagnostics_.add(MessageId::S007, place(i), {head_.cells[i], best});
    }
  }

  [[nodiscard]] bool used(const std::string& head) const {
    return std::any_of(head_.cells.begin(), head_.cells.end(), [&](const std::string& cell) { return folded(cell) == folded(head); });
  }

  void find_twice() {
    for (std::size_t i = 0; i < out_.all.size(); ++i)
      for (std::size_t k = 0; k < i && !out_.all[i].field.empty(); ++k)
        if (out_.all[k].field == out_.all[i].field) diagnostics_.add(MessageId::L010, place(i), {out_.all[i].field, out_.all[i].head});
  }

  void find_mark() {
    for (std::size_t i = 0; i < out_.all.size(); ++i)
      if (out_.all[i].field == "mark") {
        out_.mark = i;
        return;
      }
    diagnostics_.add(MessageId::S008, {&file_, 0, 0, 0}, {});
  }


  const csv::Row& head_;
  const text::SourceFile& file_;
  const Mapping& mapping_;
  text::Diagnostics& diagnostics_;
  Columns out_;
};

}  // namespace

const std::vector<std::string>& result_heads() {
  static const std::vector<std::string> heads = {"result state",     "result ratio",           "result governs", "result why",
                                                 "result questions", "result fields to write", "result assumed", "result messages"};
  return heads;
}

std::optional<Columns> read_head(const csv::Row& head, const text::SourceFile& file, const Mapping& mapping, text::Diagnostics& diagnostics) {
  return HeadReader(head, file, mapping, diagnostics).run();
}

bool is_units_row(const csv::Row& row) { return !row.cells.empty() && folded(row.cells.front()) == "#units"; }

void read_units_row(const csv::Row& row, const text::SourceFile& file, Columns& columns, text::Diagnostics& diagnostics) {
  for (std::size_t i = 1; i < row.cells.size() && i < columns.all.size(); ++i) {
    const std::string unit(text::trim(row.cells[i]));
    Column& column = columns.all[i];
    if (unit.empty() || column.field.empty()) continue;
    const bool known = unit == "'" || unit == "\"" || unit == "lb" || unit == "kg" || units::parse_unit(unit).has_value();
    if (!known || !takes_unit(column.field)) diagnostics.add(MessageId::S004, place_of(row, i, file), {unit, column.field});
    else column.unit = unit;
  }
}

std::string letters(std::size_t column) {
  std::string out;
  for (std::size_t n = column + 1; n > 0; n = (n - 1) / 26) out.insert(out.begin(), static_cast<char>('A' + (n - 1) % 26));
  return out;
}

text::Place place_of(const csv::Row& row, std::size_t cell, const text::SourceFile& file) {
  if (cell >= row.places.size()) return {&file, static_cast<std::uint32_t>(row.line), 1, 0};
  const csv::CellPlace& at = row.places[cell];
  const bool quoted = at.length > 1 && row.cells[cell].size() + 2 <= at.length;  // the text begins behind the quote
  const auto inside = static_cast<std::uint32_t>(quoted ? 1 : 0);
  const auto length = static_cast<std::uint32_t>(at.length - 2 * inside);
  return {&file, static_cast<std::uint32_t>(at.line), at.column + inside, length};
}

}  // namespace jambcheck::schedule
