// Sizes and hole patterns: width x height, 2x8, lists of hole centres.
#include <algorithm>
#include <cmath>

#include "opening/field_reader.h"
#include "opening/split.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using text::Problem;
using yaml::Entry;
using yaml::Node;

namespace {

constexpr std::size_t kMostHoles = 8;   // what the bracket's solver takes
constexpr double kSameHole = 1.0 / 64;  // in: nearer than this is one hole

/// "2x8", "1-1/2 x 6": whole numbers or fractions without units.
bool is_nominal(const Part& part) {
  return !part.text.empty() &&
         std::all_of(part.text.begin(), part.text.end(),
                     [](char c) { return (c >= '0' && c <= '9') || c == '/' || c == '-' || c == ' ' || c == '.'; }) &&
         part.text.front() >= '0' && part.text.front() <= '9';
}

}  // namespace

void FieldReader::read_pair(const Field& field, const Node& node, const Scope& scope) {
  const std::string label = scope.label(field.path);
  const std::vector<Part> parts = split_at_times(node.text);
  if (parts.size() != 2 || parts[0].text.empty() || parts[1].text.empty()) {
    diagnostics_.add(MessageId::K011, node.place, {label, node.text, example(field)});
    return;
  }
  const bool opening_size = field.kind == FieldKind::size;
  const std::string prefix = opening_size ? "" : std::string(field.path) + ".";
  const char* const names[] = {"width", "height"};
  for (std::size_t i = 0; i < 2; ++i) {
    const auto length = length_of(parts[i]);
    if (!length) {
      report(length.error(), node, label, example(field));
      continue;
    }
    const text::Place place = part_of(node, parts[i].offset, static_cast<std::uint32_t>(parts[i].text.size()));
    if (length->value <= 0) {
      diagnostics_.add(MessageId::K005, place, {label, std::string(parts[i].text)});
      continue;
    }
    if (const Field* one = opening_size ? find_field(Level::each, names[i]) : nullptr)
      check_usual(*one, length->value, std::string(parts[i].text), place, label);
    Fact fact = number_fact(length->value, length->shown, place);
    if (opening_size)
      put_or_compare(scope, names[i], fact, MessageId::K017, label);
    else
      put(scope, prefix + names[i], fact);
  }
}

void FieldReader::read_timber(const Field& field, const Node& node, const Scope& scope) {
  const std::string label = scope.label(field.path);
  const std::vector<Part> parts = split_at_times(node.text);
  if (parts.size() == 2 && is_nominal(parts[0]) && is_nominal(parts[1])) {
    put(scope, field.path,
        word_fact(std::string(parts[0].text) + "x" + std::string(parts[1].text), Fact::Kind::word, node.place));
    return;
  }
  const auto length = units::parse_length(node.text);
  if (!length || length->value <= 0) {
    diagnostics_.add(MessageId::K036, node.place, {label, node.text});
    return;
  }
  put(scope, field.path, number_fact(length->value, length->shown, node.place));
}

void FieldReader::read_holes(const Field& field, const Entry& entry, const Scope& scope) {
  const std::string label = scope.label(field.path);
  if (!entry.value.is_sequence() || entry.value.items.empty()) {
    const bool nothing = entry.value.is_null();
    if (nothing)
      no_value(entry, label, example(field) + ", or unknown, or leave the line out");
    else
      diagnostics_.add(MessageId::K013, entry.value.place, {label, "here is no list of pairs"});
    return;
  }
  const auto& items = entry.value.items;
  if (items.size() > kMostHoles)
    diagnostics_.add(MessageId::K014, items[kMostHoles].place,
                     {label, std::to_string(items.size()), std::to_string(kMostHoles)});
  Fact fact;
  fact.kind = Fact::Kind::list;
  fact.place = entry.value.place;
  bool good = items.size() <= kMostHoles;
  for (const auto& pair : items) good = read_hole(pair, label, fact) && good;
  if (!good) return;
  for (std::size_t i = 0; i < items.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const double apart = std::hypot(fact.list[2 * i] - fact.list[2 * j], fact.list[2 * i + 1] - fact.list[2 * j + 1]);
      if (apart >= kSameHole) continue;
      auto& d =
          diagnostics_.add(MessageId::K027, items[i].place, {label, std::to_string(j + 1), std::to_string(i + 1)});
      d.other = items[j].place;
      d.other_note = "hole " + std::to_string(j + 1);
    }
  put(scope, field.path, std::move(fact));
}

void FieldReader::read_lengths(const Field& field, const Entry& entry, const Scope& scope) {
  const std::string label = scope.label(field.path);
  if (!entry.value.is_sequence() || entry.value.items.empty()) {
    diagnostics_.add(MessageId::K044, entry.value.place.known() ? entry.value.place : entry.key.place, {label, example(field)});
    return;
  }
  Fact fact;
  fact.kind = Fact::Kind::list;
  fact.place = entry.value.place;
  for (const auto& item : entry.value.items) {
    const auto length = units::parse_length(item.text);
    if (!length) {
      report(length.error(), item, label);
      return;
    }
    if (!fact.list.empty() && length->value <= fact.list.back()) {
      diagnostics_.add(MessageId::K045, item.place, {label, item.text});
      return;
    }
    if (fact.list.empty()) fact.shown = length->shown;
    fact.list.push_back(length->value);
  }
  put(scope, field.path, std::move(fact));
}

/// What it is, then how thick: the thickness begins at the first digit.
void FieldReader::read_layers(const Field& field, const Entry& entry, const Scope& scope) {
  const std::string label = scope.label(field.path);
  std::vector<Node> items = entry.value.is_scalar() ? std::vector<Node>{entry.value} : entry.value.items;
  if (entry.value.is_map() || items.empty()) return no_value(entry, label, example(field) + ", or leave the line out");
  Fact fact;
  fact.kind = Fact::Kind::list;
  fact.place = entry.value.place;
  for (const auto& item : items) {
    const std::string_view text = text::trim(item.text);
    const auto digit = text.find_first_of("0123456789");
    const auto length = digit == std::string_view::npos || digit == 0 ? units::Expected<units::Quantity>(tl::unexpected(text::Problem{}))
                                                                      : units::parse_length(text.substr(digit));
    if (!item.is_scalar() || !length || length->value <= 0) {
      diagnostics_.add(MessageId::K048, item.place, {label, item.is_scalar() ? item.text : "a list"});
      return;
    }
    if (fact.list.empty()) fact.shown = length->shown;
    fact.list.push_back(length->value);
    fact.word += (fact.word.empty() ? "" : ", ") + std::string(text);
  }
  put(scope, field.path, std::move(fact));
}

bool FieldReader::read_hole(const Node& pair, const std::string& label, Fact& out) {
  if (!pair.is_sequence() || pair.items.size() != 2 || !pair.items[0].is_scalar() || !pair.items[1].is_scalar()) {
    diagnostics_.add(MessageId::K013, pair.place, {label, "a hole is two lengths, x and z"});
    return false;
  }
  bool good = true;
  for (const auto& item : pair.items) {
    const auto quantity = signed_length(item.text);
    if (!quantity) {
      report(quantity.error(), item, label, "each hole as a pair of lengths such as [-2 in, 3 in]");
      good = false;
      continue;
    }
    if (out.list.empty()) out.shown = quantity->shown;
    out.list.push_back(quantity->value);
  }
  return good;
}

}  // namespace jambcheck::opening
