#pragma once
// The closed list of fields (fields.def): what a project file may say.
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::opening {

enum class Level { file, each };

/// What a field's text is. Amounts: length, weight (force or mass), pressure, torque, line_load, temperature, percent,
/// pure, count. Layouts: size and plate (width x height), timber (2x8), holes, lengths, fastener (lag 3/8 x 3).
enum class FieldKind {
  text,
  word,
  mark,
  like,
  count,
  pure,
  percent,
  length,
  weight,
  pressure,
  torque,
  line_load,
  temperature,
  size,
  plate,
  timber,
  holes,
  fastener,
  editions,
  lengths,  ///< a list of lengths
  layers,   ///< a list of what it is and how thick
  files,    ///< a file name or a list of them
  date,     ///< a day as 2027-06-30
  amount,   ///< a number in the dimension of its key
};

enum class FieldSign { any, not_negative, positive };

struct Field {
  Level level;
  std::string_view path;
  FieldKind kind;
  std::string_view words;  ///< "key:member.species" (the key it fills) or "own:yes_no"
  FieldSign sign;
  std::string_view least, most;  ///< the usual range, with unit; empty: none
  std::string_view say, why;
  [[nodiscard]] std::string_view name() const { return path.substr(path.rfind('.') + 1); }
};

const std::vector<Field>& fields();
const Field* find_field(Level level, std::string_view path);
/// Whether `path` is a map of fields: "door", "site.wind", "guide.fastener".
bool is_group(Level level, std::string_view path);
/// Names that may stand in the map `group` ("" for the top): fields and groups, in the order of the list.
std::vector<std::string> names_in(Level level, std::string_view group);
/// The key of the rules that a field with this path fills, or empty.
std::string_view key_of(std::string_view path);
/// The fields that fill `key`, in the order of the list.
const std::vector<std::string_view>& fields_of(std::string_view key);
/// The fields of an opening that fill `key` for one part ("guide" or "bracket"), in the order of the list.
std::vector<std::string> fields_for(std::string_view key, std::string_view part);
/// Fields that only name, place or count an opening: no check reads them. Openings that differ in nothing else have the
/// same results.
std::span<const std::string_view> naming_fields();
bool only_names(std::string_view path);
/// Whether left: and right: may say it.
bool has_sides(std::string_view path);
/// What such a field is written like: "a length such as 6 in".
std::string example(const Field& field);

}  // namespace jambcheck::opening
