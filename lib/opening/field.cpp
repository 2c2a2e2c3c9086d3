#include "opening/field.h"

#include <algorithm>
#include <unordered_map>

namespace jambcheck::opening {
namespace {

bool starts_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

bool is_inside(std::string_view path, std::string_view group) {
  if (group.empty()) return true;
  return starts_with(path, group) && path.size() > group.size() && path[group.size()] == '.';
}

}  // namespace

const std::vector<Field>& fields() {
  static const std::vector<Field> list = {
#define JAMBCHECK_FIELD(level, path, kind, words, sign, least, most, say, why) \
  {Level::level, path, FieldKind::kind, words, FieldSign::sign, least, most, say, why},
#include "opening/fields.def"
#undef JAMBCHECK_FIELD
  };
  return list;
}

const Field* find_field(Level level, std::string_view path) {
  for (const auto& field : fields())
    if (field.level == level && field.path == path) return &field;
  return nullptr;
}

bool is_group(Level level, std::string_view path) {
  return std::any_of(fields().begin(), fields().end(),
                     [&](const Field& field) { return field.level == level && is_inside(field.path, path); });
}

std::vector<std::string> names_in(Level level, std::string_view group) {
  std::vector<std::string> names;
  for (const auto& field : fields()) {
    if (field.level != level || !is_inside(field.path, group)) continue;
    const std::string_view below = group.empty() ? field.path : field.path.substr(group.size() + 1);
    const std::string name(below.substr(0, below.find('.')));
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

std::string_view key_of(std::string_view path) {
  static const auto keys = [] {
    constexpr std::string_view kKey = "key:";
    std::unordered_map<std::string_view, std::string_view> out;
    for (const auto& field : fields()) out.try_emplace(field.path, field.words.substr(0, kKey.size()) == kKey ? field.words.substr(kKey.size()) : std::string_view{});
    return out;
  }();
  const auto it = keys.find(path);
  return it == keys.end() ? std::string_view{} : it->second;
}

std::span<const std::string_view> naming_fields() {
  static constexpr std::string_view kNames[] = {"mark", "quantity", "location", "floor", "type", "phase", "remarks", "ifc_guid", "space", "door.from"};
  return kNames;
}

bool only_names(std::string_view path) {
  const auto names = naming_fields();
  return std::find(names.begin(), names.end(), path) != names.end();
}

const std::vector<std::string_view>& fields_of(std::string_view key) {
  static const auto all = [] {
    std::unordered_map<std::string_view, std::vector<std::string_view>> out;
    for (const auto& field : fields()) out[key_of(field.path)].push_back(field.path);
    return out;
  }();
  static const std::vector<std::string_view> none;
  const auto it = all.find(key);
  return it == all.end() ? none : it->second;
}

std::vector<std::string> fields_for(std::string_view key, std::string_view part) {
  std::vector<std::string> out;
  for (const auto path : fields_of(key)) {
    const std::string_view top = path.substr(0, path.find('.'));
    const bool other_part = (top == "guide" || top == "bracket" || top == "buck") && top != part;
    if (!other_part) out.emplace_back(path);
  }
  return out;
}

bool has_sides(std::string_view path) {
  const std::string_view top = path.substr(0, path.find('.'));
  return top == "jamb" || top == "test" || top == "buck" || top == "gap" || top == "guide" || top == "bracket";
}

std::string example(const Field& field) {
  switch (field.kind) {
    case FieldKind::text: return "a text";
    case FieldKind::word: return "one of its words";
    case FieldKind::mark: return "a mark such as D-104";
    case FieldKind::like: return "the mark of another opening";
    case FieldKind::count: return "a whole number such as 4";
    case FieldKind::pure: return "a number such as 0.5";
    case FieldKind::percent: return "a percentage such as 3 %";
    case FieldKind::length: return "a length such as 1 1/2\" or 38 mm";
    case FieldKind::weight: return "a weight such as 165 lb or 75 kg";
    case FieldKind::pressure: return "a pressure such as 24.6 psf or 1.2 kPa";
    case FieldKind::torque: return "a torque such as 42 ft-lb or 57 N-m";
    case FieldKind::line_load: return "a load per length such as 120 lbf/ft or 1.75 kN/m";
    case FieldKind::temperature: return "a temperature such as 90 degF or 32 degC";
    case FieldKind::size: return "width x height such as 8'-0\" x 10'-0\" or 2438 mm x 3048 mm";
    case FieldKind::plate: return "width x height such as 8\" x 10\" or 200 mm x 250 mm";
    case FieldKind::timber: return "a size such as 2x8 or 8 in";
    case FieldKind::holes: return "a list of pairs such as [[-2 in, 3 in], [2 in, 3 in]]";
    case FieldKind::lengths: return "a list of lengths such as [6 in, 30 in, 54 in]";
    case FieldKind::layers: return "a list of layers such as [drywall 5/8\", sheathing 1/2\"]";
    case FieldKind::fastener: return "a fastener such as lag 3/8 x 3";
    case FieldKind::files: return "a file name, or a list such as [screw-anchor.yaml]";
    case FieldKind::date: return "a day such as 2027-06-30";
    case FieldKind::editions: return "a map such as {wood: nds-2018}";
    case FieldKind::amount: {
      const auto usual = field.least.empty() ? field.most : field.least;
      return usual.empty() ? std::string("an amount with its unit") : "an amount such as " + std::string(usual);
    }
  }
  return "";
}

}  // namespace jambcheck::opening
