// The file as a whole: what is said once, the list of openings, and which of them a problem breaks.
#include <algorithm>
#include <map>
#include <tuple>

#include "opening/choices.h"
#include "opening/cross_checks.h"
#include "opening/field_reader.h"
#include "opening/like.h"
#include "opening/model.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using text::Place;
using text::Severity;
using yaml::Entry;
using yaml::Node;

namespace {

constexpr std::string_view kFormat = "1";
constexpr std::size_t kLongestMark = 60;

bool before(const Place& a, const Place& b) { return std::tie(a.line, a.column) < std::tie(b.line, b.column); }

class ProjectReader {
 public:
  ProjectReader(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics)
      : file_(file), diagnostics_(diagnostics), reader_(rules, diagnostics) {}

  Project run() {
    project_.file = file_.name;
    project_.place = {&file_, 0, 0, 0};
    const std::size_t first = diagnostics_.all().size(), earlier = errors();
    const std::vector<Node> documents = yaml::parse(file_, diagnostics_);
    const std::size_t end_of_yaml = diagnostics_.all().size();
    if (documents.size() > 1) diagnostics_.add(MessageId::K043, documents[1].place);
    project_.broken = documents.size() > 1;
    look_for_cut_text(first, end_of_yaml);
    if (documents.empty() || !documents[0].is_map()) return nothing_to_read(documents, errors() != earlier);
    read_root(documents[0]);
    place_yaml_errors(documents[0], first, end_of_yaml);
    copy_likes(project_.openings, diagnostics_);
    for (auto& opening : project_.openings) check_contradictions(opening, diagnostics_);
    for (auto& opening : project_.openings) count_answers(opening);
    return std::move(project_);
  }

 private:
  [[nodiscard]] std::size_t errors() const { return diagnostics_.count(Severity::error); }

  Project nothing_to_read(const std::vector<Node>& documents, bool told) {
    project_.broken = true;
    if (!documents.empty() && !documents[0].is_null())
      diagnostics_.add(MessageId::K029, documents[0].place, {documents[0].is_scalar() ? "a plain text" : "a list"});
    else if (!told)
      diagnostics_.add(MessageId::K029, project_.place, {"empty"});
    return std::move(project_);
  }

  /// A screw number in a map on one line hides the rest of the line, the closing bracket too; YAML then only misses
  /// that.
  void look_for_cut_text(std::size_t first, std::size_t end) {
    for (std::size_t i = first; i < end; ++i) {
      const auto& problem = diagnostics_.all()[i];
      if (problem.id != MessageId::Y001) continue;
      for (std::uint32_t line = problem.place.line; line > 0; --line) {
        const Place cut = remark_that_is_a_number(file_, line, 0);
        if (!cut.known()) continue;
        diagnostics_.add(
            MessageId::K032, cut,
            {"this line", "... " + std::string(text::line_of(file_, line).substr(cut.column - 1, 3)) + " ..."});
        return;
      }
      return;
    }
  }

  void read_root(const Node& root) {
    check_format(root);
    const Scope shared{Level::file, "", "", &project_.facts, &project_.choices};
    const std::size_t earlier = errors();
    for (const auto& entry : root.entries) {
      if (!entry.key.is_scalar() || entry.key.text == "format" || entry.key.text == "openings") continue;
      reader_.read_entry(entry, entry.key.text, shared);
    }
    project_.broken = project_.broken || errors() != earlier;
    const Entry* openings = root.find_entry("openings");
    if (!openings || openings->value.is_null() || (openings->value.is_sequence() && openings->value.items.empty())) {
      diagnostics_.add(MessageId::K018, openings ? openings->key.place : project_.place);
    } else if (!openings->value.is_sequence()) {
      diagnostics_.add(MessageId::K004, openings->value.place,
                       {"openings", "a list", std::string(yaml::word(openings->value.kind)),
                        "- mark: D-101  with a dash before each opening"});
    } else {
      for (const auto& item : openings->value.items) read_opening(item);
    }
  }

  void check_format(const Node& root) {
    const Entry* format = root.find_entry("format");
    if (format && format->value.is_scalar() && text::trim(format->value.text) == kFormat) return;
    project_.broken = true;
    const bool written = format && format->value.is_scalar();
    diagnostics_.add(MessageId::K010, format ? (written ? format->value.place : format->key.place) : project_.place,
                     {written ? "format: " + format->value.text : "no format"});
  }

  void read_opening(const Node& item) {
    const std::string number = "opening " + std::to_string(project_.openings.size() + 1);
    const std::size_t earlier = errors();
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
    opening.broken = errors() != earlier;
    project_.openings.push_back(std::move(opening));
  }

  void read_mark(const Node& item, const std::string& number, Opening& opening) {
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

  void read_like(const Node& item, const std::string& owner, Opening& opening) {
    const Entry* entry = item.find_entry("like");
    if (!entry || !need_text(*entry, owner + " like", "the mark of another opening")) return;
    opening.like = std::string(text::trim(entry->value.text));
    opening.like_place = entry->value.place;
  }

  bool need_text(const Entry& entry, const std::string& label, const std::string& sample) {
    const bool empty = entry.value.is_null() || (entry.value.is_scalar() && text::trim(entry.value.text).empty());
    if (empty)
      reader_.no_value(entry, label, sample);
    else if (!entry.value.is_scalar())
      diagnostics_.add(MessageId::K004, entry.value.place,
                       {label, "one value", std::string(yaml::word(entry.value.kind)), sample});
    return entry.value.is_scalar() && !empty;
  }

  void read_fields(const Node& item, const std::string& owner, Opening& opening) {
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

  void read_side(const Entry& entry, Scope scope) {
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

  /// Every combination of values is worked out: there must not be too many.
  void count_answers(Opening& opening) {
    if (answers(project_.choices, opening.choices) <= kMostAnswers) return;
    const Place& place = opening.choices.empty() ? project_.choices.back().place : opening.choices.back().place;
    diagnostics_.add(MessageId::K047, place, {opening.mark, std::to_string(kMostAnswers)});
    opening.broken = true;
  }

  /// Problems of the YAML itself are found before it is known whose they are.
  void place_yaml_errors(const Node& root, std::size_t first, std::size_t end) {
    const Entry* openings = root.find_entry("openings");
    Place after{&file_, UINT32_MAX, 0, 0};
    if (openings)
      for (const auto& entry : root.entries)
        if (before(openings->key.place, entry.key.place) && before(entry.key.place, after)) after = entry.key.place;
    for (std::size_t i = first; i < end; ++i) {
      const auto& d = diagnostics_.all()[i];
      if (d.severity != Severity::error) continue;
      Opening* hit = nullptr;
      for (auto& opening : project_.openings)
        if (!before(d.place, opening.place) && before(d.place, after)) hit = &opening;
      if (hit && d.id != MessageId::Y001)
        hit->broken = true;
      else
        project_.broken = true;
    }
  }

  const text::SourceFile& file_;
  text::Diagnostics& diagnostics_;
  FieldReader reader_;
  Project project_;
  std::map<std::string, Place, std::less<>> marks_;
};

}  // namespace

Project read_project(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics) {
  return ProjectReader(file, rules, diagnostics).run();
}

}  // namespace jambcheck::opening
