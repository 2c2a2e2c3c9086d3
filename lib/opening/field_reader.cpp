#include "opening/field_reader.h"

#include <algorithm>

#include "opening/date.h"
#include "opening/words.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::opening {

using text::MessageId;
using yaml::Entry;
using yaml::Kind;
using yaml::Node;

namespace {

constexpr std::size_t kLongestText = 500;
constexpr std::string_view kIgnored = "an unknown field would be ignored without a word";

std::string joined(std::string_view group, const std::string& name) {
  return group.empty() ? name : std::string(group) + "." + name;
}

std::string kind_word(const Node& node) {
  switch (node.kind) {
    case Kind::null: return "nothing";
    case Kind::scalar: return "'" + node.text + "'";
    case Kind::sequence: return "a list";
    case Kind::map: return "a map";
  }
  return "";
}

bool same_start(const text::Place& a, const text::Place& b) {
  return a.file == b.file && a.line == b.line && a.column == b.column;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// {weight: 7,500 lb}: YAML parts the number at its comma and makes a field "500 lb" of the rest.
bool cut_at_comma(const Entry& entry, const Entry& next) {
  const bool number = entry.value.is_scalar() && !entry.value.quoted && is_digit(entry.value.text.back());
  const bool rest =
      next.key.is_scalar() && next.value.is_null() && !next.key.text.empty() && is_digit(next.key.text.front());
  return number && rest && entry.value.place.line == next.key.place.line;
}

}  // namespace

std::string Scope::label(std::string_view path) const {
  std::string out = owner;
  if (!out.empty()) out += ' ';
  return out + side + std::string(path);
}

text::Place part_of(const Node& scalar, std::uint32_t offset, std::uint32_t length) {
  const text::Place& place = scalar.place;
  if (length == 0 || !place.file || place.line == 0 || place.column == 0) return place;
  const std::string_view line = text::line_of(*place.file, place.line);
  const std::size_t begin = place.column - 1;
  const bool as_written = begin <= line.size() && line.substr(begin, scalar.text.size()) == scalar.text;
  return as_written ? place.within(offset, length) : place;
}

Fact number_fact(double value, const units::Unit& shown, const text::Place& place) {
  Fact fact;
  fact.kind = Fact::Kind::number;
  fact.value = value;
  fact.shown = shown;
  fact.place = place;
  return fact;
}

Fact word_fact(std::string word, Fact::Kind kind, const text::Place& place) {
  Fact fact;
  fact.kind = kind;
  fact.word = std::move(word);
  fact.place = place;
  return fact;
}

text::Diagnostic& FieldReader::report(text::Problem problem, const Node& node, const std::string& label,
                                      std::string_view sample) {
  const bool at_start = problem.offset == 0;
  if (problem.id == MessageId::U016 && at_start && problem.args.size() > 1)
    problem.args[1] = "it does not begin with a number";
  const char family = text::entry(problem.id).name.front();
  const bool of_project = family == 'K' || family == 'A';
  const bool names_field = of_project || problem.id == MessageId::U020 || problem.id == MessageId::U021;
  if (names_field && !problem.args.empty()) problem.args[0] = label;
  auto& d = diagnostics_.add(problem.id, part_of(node, problem.offset, problem.length), problem.args);
  if (!names_field) d.sentence = label + ": " + d.sentence;
  // The units folder does not know what the field wants; here its example says more.
  const bool better = problem.id == MessageId::U001 || problem.id == MessageId::U003 || problem.id == MessageId::U016 ||
                      problem.id == MessageId::U020;
  if (better && !sample.empty() && d.todo.find("did you mean") == std::string::npos)
    d.todo = "write " + std::string(sample);
  return d;
}

Fact& FieldReader::put(const Scope& scope, std::string_view path, Fact fact) {
  return (*scope.facts)[scope.side + std::string(path)] = std::move(fact);
}

void FieldReader::no_value(const Entry& entry, const std::string& label, const std::string& sample) {
  for (const auto& d : diagnostics_.all())  // an alias leaves nothing behind, and has been told
    if (d.id == MessageId::Y006 && same_start(d.place, entry.value.place)) return;
  diagnostics_.add(MessageId::K002, entry.key.place, {label, sample});
}

void FieldReader::put_or_compare(const Scope& scope, std::string_view path, Fact fact, MessageId id,
                                 const std::string& label) {
  const auto it = scope.facts->find(scope.side + std::string(path));
  if (it == scope.facts->end()) {
    put(scope, path, std::move(fact));
    return;
  }
  if (same_value(it->second, fact)) return;
  auto& d = diagnostics_.add(id, fact.place, {label});
  d.other = it->second.place;
  d.other_note = "the other one";
}

void FieldReader::read_map(const Node& map, std::string_view group, const Scope& scope) {
  for (std::size_t i = 0; i < map.entries.size(); ++i) {
    const Entry& entry = map.entries[i];
    if (!entry.key.is_scalar()) continue;  // Y008 is reported by then
    const std::string path = joined(group, entry.key.text);
    if (i + 1 < map.entries.size() && cut_at_comma(entry, map.entries[i + 1])) {
      const std::string number = entry.value.text + "," + map.entries[i + 1].key.text;
      report({MessageId::U015, {number}, 0, 0}, entry.value, scope.label(path));
      ++i;
    } else {
      read_entry(entry, path, scope);
    }
  }
}

void FieldReader::read_entry(const Entry& entry, const std::string& path, const Scope& scope) {
  const Field* field = find_field(scope.level, path);
  const bool group = is_group(scope.level, path);
  const bool known = (field != nullptr || group) && path.find("..") == std::string::npos;
  if (!known) {
    unknown_field(entry, path, scope);
  } else if (!scope.side.empty() && !has_sides(path)) {
    diagnostics_.add(MessageId::K026, entry.key.place, {scope.label(path), path});
  } else if (field && !(group && entry.value.is_map())) {
    read_value(*field, entry, scope);
  } else {
    read_group(entry, path, scope);
  }
}

void FieldReader::unknown_field(const Entry& entry, const std::string& path, const Scope& scope) {
  const auto dot = path.size() - entry.key.text.size();
  const std::string group = dot == 0 ? "" : path.substr(0, dot - 1);
  std::vector<std::string> names = names_in(scope.level, group);
  if (!scope.side.empty())
    names.erase(std::remove_if(names.begin(), names.end(), [&](const auto& n) { return !has_sides(joined(group, n)); }),
                names.end());
  if (scope.level == Level::each && scope.side.empty() && group.empty()) names.insert(names.end(), {"left", "right"});
  if (scope.level == Level::file && group.empty()) names.insert(names.end(), {"format", "openings"});
  const std::string best = text::nearest(entry.key.text, names);
  const Field* meant = best.empty() ? nullptr : find_field(scope.level, joined(group, best));
  std::string why(kIgnored);
  if (meant && !meant->why.empty()) why = "left out, " + std::string(meant->why);
  diagnostics_.add(
      MessageId::K001, entry.key.place,
      {scope.label(path), why, best.empty() ? "write one of: " + text::join(names) : "did you mean " + best + "?"});
}

void FieldReader::read_group(const Entry& entry, const std::string& path, const Scope& scope) {
  const Node& node = entry.value;
  // jamb: wood and buck: none say their kind.
  const Field* kind = path == "jamb" || path == "buck" ? find_field(scope.level, path + ".kind") : nullptr;
  if (node.is_map()) {
    read_map(node, path, scope);
  } else if (kind && node.is_scalar()) {
    read_value(*kind, entry, scope);
  } else {
    const std::vector<std::string> names = names_in(scope.level, path);
    const std::string sample = entry.key.text + ": {" + names.front() + ": ...}";
    if (node.is_null())
      no_value(entry, scope.label(path), sample + " with the fields that are known, or leave the line out");
    else
      diagnostics_.add(MessageId::K004, node.place, {scope.label(path), "a map of fields", kind_word(node), sample});
  }
}

bool FieldReader::wants_scalar(const Field& field, const Entry& entry, const Scope& scope) {
  const bool empty = entry.value.is_null() || (entry.value.is_scalar() && text::trim(entry.value.text).empty());
  if (entry.value.is_scalar() && !empty) return true;
  const std::string sample = example(field);
  if (empty)
    no_value(entry, scope.label(field.path), sample + ", or unknown, or leave the line out");
  else
    diagnostics_.add(MessageId::K004, entry.value.place,
                     {scope.label(field.path), "one value", kind_word(entry.value), sample});
  return false;
}

void FieldReader::read_value(const Field& field, const Entry& entry, const Scope& scope) {
  const Node& node = entry.value;
  if (field.kind == FieldKind::editions) return read_editions(entry, scope);
  if (node.is_scalar() && text::trim(node.text) == "unknown") return read_unknown(field, node, scope);
  if (read_choice(field, entry, scope)) return;
  if (field.kind == FieldKind::files) return read_files(field, entry, scope);
  if (field.kind == FieldKind::holes) return read_holes(field, entry, scope);
  if (field.kind == FieldKind::lengths) return read_lengths(field, entry, scope);
  if (field.kind == FieldKind::layers) return read_layers(field, entry, scope);
  if (!wants_scalar(field, entry, scope)) return;
  switch (field.kind) {
    case FieldKind::text: return read_text(field, node, scope);
    case FieldKind::date: return read_date(field, node, scope);
    case FieldKind::word: return read_word(field, node, scope);
    case FieldKind::size:
    case FieldKind::plate: return read_pair(field, node, scope);
    case FieldKind::timber: return read_timber(field, node, scope);
    case FieldKind::fastener: return read_fastener(field, node, scope);
    case FieldKind::mark:
    case FieldKind::like: return;  // read before all other fields
    default: return read_amount(field, node, scope);
  }
}

void FieldReader::read_unknown(const Field& field, const Node& node, const Scope& scope) {
  if (field.kind == FieldKind::mark || field.kind == FieldKind::like) return;
  Fact fact = word_fact("", Fact::Kind::text, node.place);
  fact.unknown = true;
  const std::string path(field.path);
  if (field.kind == FieldKind::size) {
    put_or_compare(scope, "width", fact, MessageId::K017, scope.label(path));
    put_or_compare(scope, "height", fact, MessageId::K017, scope.label(path));
  } else if (field.kind == FieldKind::plate) {
    put(scope, path + ".width", fact);
    put(scope, path + ".height", fact);
  } else if (field.kind == FieldKind::fastener) {
    for (const auto part : {"", ".kind", ".diameter", ".length"}) put(scope, path + part, fact);
  } else if (path == "door.guide_plate") {
    put_or_compare(scope, "guide.plate", fact, MessageId::K019, scope.label(path));
  } else if (path == "guide.plate") {
    put_or_compare(scope, path, fact, MessageId::K019, scope.label(path));
  } else if (path == "width" || path == "height") {
    put_or_compare(scope, path, fact, MessageId::K017, scope.label(path));
  } else {
    put(scope, path, fact);
    if (path == "jamb.kind") put(scope, "jamb.material", fact);
  }
}

void FieldReader::read_text(const Field& field, const Node& node, const Scope& scope) {
  if (node.text.size() > kLongestText)
    diagnostics_.add(MessageId::K025, node.place,
                     {scope.label(field.path), std::to_string(node.text.size()), std::to_string(kLongestText)});
  put(scope, field.path, word_fact(std::string(text::trim(node.text)), Fact::Kind::text, node.place));
}

void FieldReader::read_date(const Field& field, const Node& node, const Scope& scope) {
  const auto date = parse_date(node.text);
  if (date) put(scope, field.path, word_fact(std::string(text::trim(node.text)), Fact::Kind::text, node.place));
  else report(date.error(), node, scope.label(field.path));
}

/// Each name as a fact of its own: anchor_data.1, anchor_data.2 ...
void FieldReader::read_files(const Field& field, const Entry& entry, const Scope& scope) {
  const bool listed = entry.value.is_sequence() && !entry.value.items.empty();
  if (!listed && !wants_scalar(field, entry, scope)) return;
  const std::vector<Node> one = {entry.value};
  std::size_t n = 0;
  for (const Node& node : listed ? entry.value.items : one) {
    if (!wants_scalar(field, {entry.key, node}, scope)) continue;
    put(scope, std::string(field.path) + "." + std::to_string(++n), word_fact(std::string(text::trim(node.text)), Fact::Kind::text, node.place));
  }
}

void FieldReader::read_word(const Field& field, const Node& node, const Scope& scope) {
  const WordList list = word_list(field.words, rules_);
  const std::string written(text::trim(node.text));
  std::string word = choose(list, written);
  if (word.empty()) {
    diagnostics_.add(MessageId::K003, node.place,
                     {scope.label(field.path), written, suggest_word(list, written), std::string(field.say)});
    return;
  }
  if (field.path == "jamb.kind") {
    const std::string material = choose(word_list("own:jamb_material", rules_), word);
    put(scope, "jamb.material", word_fact(material, Fact::Kind::word, node.place));
  }
  put(scope, field.path, word_fact(std::move(word), Fact::Kind::word, node.place));
}

void FieldReader::read_editions(const Entry& entry, const Scope& scope) {
  const std::string path = "project.editions";
  if (!entry.value.is_map()) {
    if (entry.value.is_null())
      no_value(entry, scope.label(path), "editions: {wood: nds-2018}, or leave the line out");
    else
      diagnostics_.add(MessageId::K004, entry.value.place,
                       {scope.label(path), "a map of fields", kind_word(entry.value), "editions: {wood: nds-2018}"});
    return;
  }
  WordList documents;
  for (const auto& [id, document] : rules_.documents()) documents.words.push_back(id);
  documents.open = documents.words.empty();
  for (const auto& [key, value] : entry.value.entries) {
    const std::string label = scope.label(path + "." + key.text);
    if (!value.is_scalar()) {
      diagnostics_.add(MessageId::K002, key.place,
                       {label, "the id of a document such as nds-2018, or leave the line out"});
      continue;
    }
    std::vector<std::string> known;
    for (const char* family : {"wood", "steel", "concrete", "masonry", "loads"})
      if (rules_.key(std::string("basis.") + family)) known.emplace_back(family);
    if (!known.empty() && !rules_.key("basis." + key.text)) {
      const std::string best = text::nearest(key.text, known);
      diagnostics_.add(MessageId::K001, key.place, {label, std::string(kIgnored), best.empty() ? "write one of: " + text::join(known) : "did you mean " + best + "?"});
      continue;
    }
    const WordList own = word_list("key:basis." + key.text, rules_);
    const WordList& list = own.open ? documents : own;
    std::string id = choose(list, text::trim(value.text));
    if (id.empty())
      diagnostics_.add(MessageId::K003, value.place,
                       {label, value.text, suggest_word(list, value.text), "edition of a standard"});
    else
      put(scope, path + "." + key.text, word_fact(std::move(id), Fact::Kind::word, value.place));
  }
}

}  // namespace jambcheck::opening
