#include "opening/opening_reader.h"

#include "opening/choices.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using text::Severity;
using yaml::Entry;
using yaml::Node;

namespace {

constexpr std::size_t kLongestMark = 60;

}  // namespace

Opening OpeningReader::read(const Node& item, const std::string& number) {
  const std::size_t earlier = diagnostics_.count(Severity::error);
  Opening opening;
  opening.place = opening.mark_place = item.place;
  if (!item.is_map()) {
    diagnostics_.add(MessageId::K004, item.place,
                     {number, "a map of fields", std::string(yaml::word(item.kind)),
                      "- mark: D-101  and the other fields below it"});
  } else {
    read_mark(item, number, opening);
    const std::string owner = opening.mark.empty() ? number : opening.mark;
    read_like(item, owner, opening);
    read_fields(item, owner, opening);
  }
  opening.broken = diagnostics_.count(Severity::error) != earlier;
  return opening;
}

void OpeningReader::read_mark(const Node& item, const std::string& number, Opening& opening) {
  const Entry* entry = item.find_entry("mark");
  if (!entry) {
    diagnostics_.add(MessageId::Y004, item.place, {number, "mark"});
    return;
  }
  const Node& value = entry->value;
  if (!need_text(*entry, number + " mark", "a mark such as D-104")) return;
  opening.mark = std::string(text::trim(value.text));
  opening.mark_place = value.place;
  if (opening.mark.size() > kLongestMark) {
    diagnostics_.add(MessageId::K025, value.place,
                     {number + " mark", std::to_string(opening.mark.size()), std::to_string(kLongestMark)});
    opening.mark = opening.mark.substr(0, kLongestMark);
  }
  if (opening.mark.find('/') != std::string::npos) diagnostics_.add(MessageId::K038, value.place, {opening.mark});
  if (opening.mark == "unknown") diagnostics_.add(MessageId::K040, value.place, {number + " mark"});
  const auto [first, fresh] = marks_.emplace(opening.mark, value.place);
  if (fresh) return;
  auto& d = diagnostics_.add(MessageId::K006, value.place, {opening.mark});
  d.other = first->second;
  d.other_note = "first used here";
}

void OpeningReader::read_like(const Node& item, const std::string& owner, Opening& opening) {
  const Entry* entry = item.find_entry("like");
  if (!entry || !need_text(*entry, owner + " like", "the mark of another opening")) return;
  opening.like = std::string(text::trim(entry->value.text));
  opening.like_place = entry->value.place;
}

bool OpeningReader::need_text(const Entry& entry, const std::string& label, const std::string& sample) {
  const bool empty = entry.value.is_null() || (entry.value.is_scalar() && text::trim(entry.value.text).empty());
  if (empty)
    reader_.no_value(entry, label, sample);
  else if (!entry.value.is_scalar())
    diagnostics_.add(MessageId::K004, entry.value.place,
                     {label, "one value", std::string(yaml::word(entry.value.kind)), sample});
  return entry.value.is_scalar() && !empty;
}

void OpeningReader::read_fields(const Node& item, const std::string& owner, Opening& opening) {
  Scope scope{Level::each, owner, "", &opening.facts, &opening.choices};
  for (const auto& entry : item.entries) {
    const std::string& name = entry.key.text;
    if (!entry.key.is_scalar() || name == "mark" || name == "like") continue;
    if (name == "left" || name == "right")
      read_side(entry, scope);
    else
      reader_.read_entry(entry, name, scope);
  }
}

void OpeningReader::read_side(const Entry& entry, Scope scope) {
  scope.side = entry.key.text + ".";
  const std::string label = scope.owner + " " + entry.key.text;
  const std::string sample = entry.key.text + ": {jamb: {species: ...}}  with what differs on that side";
  if (entry.value.is_map())
    reader_.read_map(entry.value, "", scope);
  else if (entry.value.is_null())
    reader_.no_value(entry, label, sample + ", or leave the line out");
  else
    diagnostics_.add(MessageId::K004, entry.value.place,
                     {label, "a map of fields", std::string(yaml::word(entry.value.kind)), sample});
}

void count_answers(const std::vector<Choice>& shared, Opening& opening, text::Diagnostics& diagnostics) {
  if (answers(shared, opening.choices) <= kMostAnswers) return;
  const text::Place& place = opening.choices.empty() ? shared.back().place : opening.choices.back().place;
  diagnostics.add(MessageId::K047, place, {opening.mark, std::to_string(kMostAnswers)});
  opening.broken = true;
}

}  // namespace jambcheck::opening
