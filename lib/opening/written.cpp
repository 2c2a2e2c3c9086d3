#include "opening/written.h"

#include <algorithm>

#include "opening/anchor_files.h"
#include "opening/cross_checks.h"
#include "opening/like.h"
#include "opening/opening_reader.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;
using text::Severity;
using yaml::Entry;
using yaml::Kind;
using yaml::Node;

/// The side a path is of, "left" or "right", or empty.
std::string_view side_of(std::string_view path) {
  for (const std::string_view side : {"left", "right"})
    if (path.size() > side.size() && path.substr(0, side.size()) == side && path[side.size()] == '.') return side;
  return {};
}

Node scalar(std::string text, const text::Place& place) {
  Node node;
  node.kind = Kind::scalar;
  node.text = std::move(text);
  node.place = place;
  return node;
}

void put_at(Node& node, const text::Place& place) {
  node.place = place;
  for (auto& item : node.items) put_at(item, place);
  for (auto& entry : node.entries) {
    put_at(entry.key, place);
    put_at(entry.value, place);
  }
}

/// Lists and maps in one line are read as YAML; everything else is a text, whatever signs stand in it.
Node value_node(const Written& value) {
  const std::string_view trimmed = text::trim(value.text);
  if (!trimmed.empty() && (trimmed.front() == '[' || trimmed.front() == '{')) {
    const text::SourceFile file = text::source_file("", std::string(trimmed));
    text::Diagnostics unread;
    auto documents = yaml::parse(file, unread);
    if (!unread.has_errors() && documents.size() == 1) {
      put_at(documents.front(), value.place);
      return documents.front();
    }
  }
  return scalar(value.text, value.place);
}

Entry entry_of(const Written& value, std::string_view key) { return {scalar(std::string(key), value.place), value_node(value)}; }

/// The opening's own values as a map of fields, those of one side below left: or right:.
Node opening_node(const std::vector<Written>& values) {
  Node item;
  item.kind = Kind::map;
  if (!values.empty()) item.place = values.front().place;
  Node sides[2];
  for (const auto& value : values) {
    if (owner_of(value.path) == Owner::project) continue;
    const std::string_view side = side_of(value.path);
    if (side.empty()) {
      item.entries.push_back(entry_of(value, value.path));
      continue;
    }
    Node& map = sides[side == "left" ? 0 : 1];
    if (map.entries.empty()) map.place = value.place;
    map.kind = Kind::map;
    map.entries.push_back(entry_of(value, value.path.substr(side.size() + 1)));
  }
  for (const std::size_t i : {0U, 1U})
    if (!sides[i].entries.empty()) item.entries.push_back({scalar(i == 0 ? "left" : "right", sides[i].place), sides[i]});
  return item;
}

/// What is written anew is no longer one of several values.
void drop_choices(const Facts& written, std::vector<Choice>& choices) {
  const auto touched = [&](const Choice& choice) {
    return std::any_of(choice.options.front().facts.begin(), choice.options.front().facts.end(), [&](const auto& fact) { return written.count(fact.first) != 0; });
  };
  choices.erase(std::remove_if(choices.begin(), choices.end(), touched), choices.end());
}

std::shared_ptr<const Project> with_shared(const std::vector<Written>& values, const std::string& owner, const Project& base, FieldReader& reader) {
  Facts written;
  std::vector<Choice> choices;
  const Scope scope{Level::file, owner, "", &written, &choices};
  bool any = false;
  for (const auto& value : values) {
    if (owner_of(value.path) != Owner::project) continue;
    reader.read_entry(entry_of(value, value.path), value.path, scope);
    any = true;
  }
  if (!any) return nullptr;
  auto out = std::make_shared<Project>();
  out->facts = base.facts;
  out->choices = base.choices;
  out->anchors = base.anchors;
  out->file = base.file;
  out->place = base.place;
  drop_choices(written, out->choices);
  for (auto& [path, fact] : written) out->facts[path] = std::move(fact);
  for (auto& choice : choices) out->choices.push_back(std::move(choice));
  return out;
}

/// The original is the base's; it has copied what it copies already.
void copy_from_base(const Project& base, Opening& opening, text::Diagnostics& diagnostics) {
  const auto original = std::find_if(base.openings.begin(), base.openings.end(), [&](const Opening& o) { return o.mark == opening.like; });
  if (original == base.openings.end()) {
    std::vector<std::string> marks;
    for (const auto& o : base.openings) marks.push_back(o.mark);
    const std::string advice = marks.empty() ? "give a base project that has it" : text::suggestion(opening.like, marks);
    diagnostics.add(MessageId::K007, opening.like_place, {opening.mark, opening.like, advice});
    return;
  }
  std::vector<Opening> pair = {*original, std::move(opening)};
  pair[0].like.clear();
  // A row may bear the mark of its original: the copier looks marks up, and finds the first.
  copy_likes(pair, diagnostics);
  opening = std::move(pair[1]);
}

}  // namespace

Owner owner_of(std::string_view path) {
  const std::string_view side = side_of(path);
  const std::string_view field = side.empty() ? path : path.substr(side.size() + 1);
  if (find_field(Level::each, field)) return side.empty() || has_sides(field) ? Owner::opening : Owner::nobody;
  return side.empty() && find_field(Level::file, field) ? Owner::project : Owner::nobody;
}

OneOpening read_written(const std::vector<Written>& values, const std::string& number, const Project& base, const rules::RuleSet& rules,
                        text::Diagnostics& diagnostics) {
  const std::size_t earlier = diagnostics.count(Severity::error);
  FieldReader reader(rules, diagnostics);
  OneOpening out;
  out.opening = OpeningReader(reader, diagnostics).read(opening_node(values), number);
  const std::string owner = out.opening.mark.empty() ? number : out.opening.mark;
  out.shared = with_shared(values, owner, base, reader);
  if (!out.opening.like.empty()) copy_from_base(base, out.opening, diagnostics);
  const Project& project = out.shared ? *out.shared : base;
  check_contradictions(out.opening, rules, diagnostics);
  count_answers(project.choices, out.opening, diagnostics);
  look_up_anchor_data(project, out.opening, diagnostics);
  out.opening.broken = out.opening.broken || diagnostics.count(Severity::error) != earlier;
  return out;
}

std::shared_ptr<const Project> with_project_values(const std::vector<Written>& values, const std::string& owner, const Project& base, const rules::RuleSet& rules,
                                                   text::Diagnostics& diagnostics) {
  FieldReader reader(rules, diagnostics);
  return with_shared(values, owner, base, reader);
}

}  // namespace jambcheck::opening
