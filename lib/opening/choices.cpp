// Fields of which several values may be the true one: `species: [SPF, DFL]`, `edge: 1-1/4" .. 1-1/2"`.
#include <algorithm>

#include "opening/choices.h"
#include "opening/field_reader.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::opening {

using text::MessageId;
using yaml::Entry;
using yaml::Node;

namespace {

constexpr std::string_view kBetween = "..";
constexpr std::size_t kPlaces = 5;  // of a range: its ends and the quarters between

bool is_number(FieldKind kind) {
  switch (kind) {
    case FieldKind::text:
    case FieldKind::word:
    case FieldKind::mark:
    case FieldKind::like:
    case FieldKind::count:
    case FieldKind::size:
    case FieldKind::plate:
    case FieldKind::timber:
    case FieldKind::holes:
    case FieldKind::fastener:
    case FieldKind::editions:
    case FieldKind::files:
    case FieldKind::date:
    case FieldKind::lengths:
    case FieldKind::layers: return false;
    default: return true;
  }
}
bool may_be_listed(FieldKind kind) {
  return is_number(kind) || kind == FieldKind::word || kind == FieldKind::count || kind == FieldKind::size || kind == FieldKind::plate || kind == FieldKind::timber ||
         kind == FieldKind::fastener;
}

/// A scalar that is part of another.
Node part(const Node& scalar, std::size_t from, std::size_t to) {
  Node out = scalar;
  const std::string_view piece = std::string_view(scalar.text).substr(from, to - from);
  const std::string_view trimmed = text::trim(piece);
  const auto lead = static_cast<std::size_t>(trimmed.data() - piece.data());
  out.text = std::string(trimmed);
  out.place = part_of(scalar, static_cast<std::uint32_t>(from + lead), static_cast<std::uint32_t>(trimmed.size()));
  return out;
}

}  // namespace

bool FieldReader::read_choice(const Field& field, const Entry& entry, const Scope& scope) {
  if (!scope.choices) return false;
  const Node& node = entry.value;
  if (node.is_sequence() && !node.items.empty() && may_be_listed(field.kind)) {
    read_list(field, entry, scope);
    return true;
  }
  if (node.is_scalar() && is_number(field.kind) && node.text.find(kBetween) != std::string::npos) {
    read_range(field, entry, scope);
    return true;
  }
  return false;
}

/// False when the value has an error of its own, which is then told.
bool FieldReader::read_option(const Field& field, const Entry& entry, const Scope& scope, Choice& choice) {
  Option option;
  Scope inner = scope;
  inner.facts = &option.facts;
  inner.choices = nullptr;
  if (entry.value.is_scalar() && text::trim(entry.value.text) == "unknown") {
    diagnostics_.add(MessageId::K046, entry.value.place, {scope.label(field.path)});
    return false;
  }
  read_value(field, entry, inner);
  if (option.facts.empty()) return false;
  option.text = entry.value.text;
  choice.options.push_back(std::move(option));
  return true;
}

void FieldReader::read_list(const Field& field, const Entry& entry, const Scope& scope) {
  Choice choice{scope.side + std::string(field.path), false, {}, entry.value.place};
  bool good = true;
  for (const auto& item : entry.value.items) good = read_option(field, {entry.key, item}, scope, choice) && good;
  if (good) keep(std::move(choice), scope);
}

void FieldReader::read_range(const Field& field, const Entry& entry, const Scope& scope) {
  const Node& node = entry.value;
  const auto dots = node.text.find(kBetween);
  Choice ends{scope.side + std::string(field.path), true, {}, node.place};
  const bool low = read_option(field, {entry.key, part(node, 0, dots)}, scope, ends);
  const bool high = read_option(field, {entry.key, part(node, dots + kBetween.size(), node.text.size())}, scope, ends);
  if (!low || !high) return;
  Choice choice{ends.path, true, {}, ends.place};
  for (std::size_t i = 0; i < kPlaces; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(kPlaces - 1);
    Option option = i + 1 == kPlaces ? ends.options[1] : ends.options[0];
    for (auto& [path, fact] : option.facts) {
      if (i != 0 && i + 1 != kPlaces) fact.value += share * (ends.options[1].facts.at(path).value - fact.value);
      option.text = units::show(fact.value, fact.shown);
    }
    choice.options.push_back(std::move(option));
  }
  keep(std::move(choice), scope);
}

void FieldReader::keep(Choice choice, const Scope& scope) {
  if (choice.options.size() == 1) {  // a list of one is that value
    for (auto& [path, fact] : choice.options.front().facts) (*scope.facts)[path] = std::move(fact);
    return;
  }
  for (const auto& option : choice.options)
    for (const auto& [path, fact] : option.facts) {
      Fact open = word_fact("", Fact::Kind::text, choice.place);
      open.unknown = true;
      (*scope.facts)[path] = std::move(open);
    }
  scope.choices->push_back(std::move(choice));
}

std::size_t answers(const std::vector<Choice>& a, const std::vector<Choice>& b) {
  std::size_t n = 1;
  for (const auto* list : {&a, &b})
    for (const auto& choice : *list) n = std::min(n * choice.options.size(), kMostAnswers + 1);
  return n;
}

void pick(const Choice& choice, std::size_t option, Facts& facts) {
  for (const auto& other : choice.options)
    for (const auto& [path, fact] : other.facts) facts.erase(path);
  for (const auto& [path, fact] : choice.options[option].facts) facts[path] = fact;
}

}  // namespace jambcheck::opening
