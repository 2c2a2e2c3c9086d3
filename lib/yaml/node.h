#pragma once
// YAML as this project reads it: a tree in which every key and value knows its place. Duplicate keys, anchors,
// aliases and tags are refused. No other folder includes yaml-cpp.
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "text/diagnostic.h"

namespace jambcheck::yaml {

enum class Kind { null, scalar, sequence, map };

struct Entry;

/// A value of the file. Scalars stay text: what a text means is for the reader of the field to say.
struct Node {
  Kind kind = Kind::null;
  std::string text;     ///< of a scalar
  bool quoted = false;  ///< the scalar stood in quotes
  text::Place place;
  std::vector<Node> items;     ///< of a sequence
  std::vector<Entry> entries;  ///< of a map, in file order, keys unique

  [[nodiscard]] bool is_scalar() const { return kind == Kind::scalar; }
  [[nodiscard]] bool is_map() const { return kind == Kind::map; }
  [[nodiscard]] bool is_sequence() const { return kind == Kind::sequence; }
  [[nodiscard]] bool is_null() const { return kind == Kind::null; }
  /// The value of `key` in a map; null when there is none or this is no map.
  [[nodiscard]] const Node* find(std::string_view key) const;
  [[nodiscard]] const Entry* find_entry(std::string_view key) const;
};

struct Entry {
  Node key;  ///< always a scalar
  Node value;
};

/// Every document of the file. What can't be read is reported (Y...) and left out.
std::vector<Node> parse(const text::SourceFile& file, text::Diagnostics& diagnostics);

/// Reports each key of `map` that is not in `allowed`, with a suggestion (Y003). `what` names the thing: "a rule".
void check_keys(const Node& map, const std::vector<std::string>& allowed, std::string_view what,
                text::Diagnostics& diagnostics);

/// The value of a key that must be there and be a map / sequence / scalar; reports Y004 / Y005 and returns null.
const Node* need(const Node& map, std::string_view key, Kind kind, std::string_view what,
                 text::Diagnostics& diagnostics);
/// The same for a key that may be left out.
const Node* may(const Node& map, std::string_view key, Kind kind, std::string_view what,
                text::Diagnostics& diagnostics);

std::string_view word(Kind kind);  ///< "a text", "a list", "a map", "nothing"

}  // namespace jambcheck::yaml
