#include "schedule/mapping.h"

#include <algorithm>
#include <cctype>

#include "opening/field.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/unit.h"
#include "yaml/node.h"

namespace jambcheck::schedule {
namespace {

using opening::Field;
using opening::FieldKind;
using opening::Level;
using text::MessageId;
using yaml::Kind;
using yaml::Node;

class MappingReader {
 public:
  MappingReader(const text::SourceFile& file, text::Diagnostics& diagnostics) : file_(file), diagnostics_(diagnostics) {}

  std::optional<Mapping> run() {
    const auto earlier = diagnostics_.count(text::Severity::error);
    const auto documents = yaml::parse(file_, diagnostics_);
    if (documents.size() != 1 || !documents.front().is_map()) {
      if (diagnostics_.count(text::Severity::error) == earlier)
        diagnostics_.add(MessageId::S001, {&file_, 0, 0, 0}, {documents.empty() ? "it is empty" : "it is no map"});
      return std::nullopt;
    }
    const Node& root = documents.front();
    yaml::check_keys(root, {"schema", "base", "columns", "constants", "leave"}, "a mapping file", diagnostics_);
    const Node* schema = yaml::need(root, "schema", Kind::scalar, "a mapping file", diagnostics_);
    if (schema && schema->text != "schedule-map/1") diagnostics_.add(MessageId::S001, schema->place, {"it says  schema: " + schema->text});
    if (const Node* base = yaml::may(root, "base", Kind::scalar, "a mapping file", diagnostics_)) out_.base = base->text;
    if (const Node* columns = yaml::may(root, "columns", Kind::map, "a mapping file", diagnostics_))
      for (const auto& entry : columns->entries) read_column(entry);
    if (const Node* constants = yaml::may(root, "constants", Kind::map, "a mapping file", diagnostics_)) read_constants(*constants, "");
    if (const Node* leave = yaml::may(root, "leave", Kind::sequence, "a mapping file", diagnostics_))
      for (const auto& item : leave->items)
        if (item.is_scalar()) out_.leave.push_back(item.text);
    if (diagnostics_.count(text::Severity::error) != earlier) return std::nullopt;
    return std::move(out_);
  }

 private:
  void read_column(const yaml::Entry& entry) {
    MappedColumn column;
    column.head = entry.key.text;
    column.place = entry.key.place;
    const Node& value = entry.value;
    if (value.is_scalar()) {
      column.field = std::string(text::trim(value.text));
      check_field(column.field, value.place);
    } else {
      yaml::check_keys(value, {"field", "unit", "words"}, "a column of a mapping file", diagnostics_);
      const Node* field = yaml::need(value, "field", Kind::scalar, "a column of a mapping file", diagnostics_);
      if (!field) return;
      column.field = field->text;
      if (!check_field(column.field, field->place)) return;
      read_unit(value, column);
      read_words(value, column);
    }
    out_.columns.push_back(std::move(column));
  }

  bool check_field(const std::string& field, const text::Place& place) {
    if (may_be_column(field)) return true;
    const bool shared = opening::owner_of(field) == opening::Owner::project;
    if (shared) diagnostics_.add(MessageId::S003, place, {field});
    else diagnostics_.add(MessageId::S002, place, {field, text::suggestion(field, column_names())});
    return false;
  }

  void read_unit(const Node& value, MappedColumn& column) {
    const Node* unit = yaml::may(value, "unit", Kind::scalar, "a column of a mapping file", diagnostics_);
    if (!unit) return;
    const bool known = unit->text == "'" || unit->text == "\"" || unit->text == "lb" || unit->text == "kg" || units::parse_unit(unit->text).has_value();
    if (!known || !takes_unit(column.field)) diagnostics_.add(MessageId::S004, unit->place, {unit->text, column.field});
    column.unit = unit->text;
  }

  void read_words(const Node& value, MappedColumn& column) {
    const Node* words = yaml::may(value, "words", Kind::map, "a column of a mapping file", diagnostics_);
    if (!words) return;
    for (const auto& [from, to] : words->entries)
      if (to.is_scalar()) column.words[folded(from.text)] = to.text;
  }

  /// Constants may be nested as in a project file, or written with dots.
  void read_constants(const Node& map, const std::string& group) {
    for (const auto& [key, value] : map.entries) {
      const std::string path = group.empty() ? key.text : group + "." + key.text;
      if (value.is_map()) {
        read_constants(value, path);
      } else if (path == "mark" || opening::owner_of(path) == opening::Owner::nobody) {
        diagnostics_.add(MessageId::S002, key.place, {path, text::suggestion(path, column_names())});
      } else {
        out_.constants.push_back({path, value.is_scalar() ? value.text : listed(value), value.place});
      }
    }
  }

  static std::string listed(const Node& node) {
    if (node.is_scalar()) {
      std::string quoted = "\"";
      for (const char c : node.text) quoted += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
      return quoted + "\"";
    }
    std::vector<std::string> items;
    for (const auto& item : node.items) items.push_back(listed(item));
    return "[" + text::join(items) + "]";
  }

  const text::SourceFile& file_;
  text::Diagnostics& diagnostics_;
  Mapping out_;
};

}  // namespace

std::optional<Mapping> read_mapping(const text::SourceFile& file, text::Diagnostics& diagnostics) { return MappingReader(file, diagnostics).run(); }

bool may_be_column(std::string_view path) {
  switch (opening::owner_of(path)) {
    case opening::Owner::opening: return true;
    case opening::Owner::project: return path.substr(0, 5) == "site." || path.substr(0, 9) == "building.";
    case opening::Owner::nobody: return false;
  }
  return false;
}

std::vector<std::string> column_names() {
  std::vector<std::string> out;
  for (const Field& field : opening::fields())
    if (may_be_column(field.path)) out.emplace_back(field.path);
  return out;
}

bool takes_unit(std::string_view path) {
  for (const std::string_view side : {"left.", "right."})
    if (path.substr(0, side.size()) == side) path.remove_prefix(side.size());
  const Field* field = opening::find_field(Level::each, path);
  if (!field) field = opening::find_field(Level::file, path);
  if (!field) return false;
  switch (field->kind) {
    case FieldKind::length:
    case FieldKind::weight:
    case FieldKind::pressure:
    case FieldKind::torque:
    case FieldKind::line_load:
    case FieldKind::temperature:
    case FieldKind::size:
    case FieldKind::plate:
    case FieldKind::amount: return true;
    default: return false;
  }
}

std::string folded(std::string_view text) {
  std::string out(text::trim(text));
  std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

}  // namespace jambcheck::schedule
