// The file as a whole: what is said once, the list of openings, and which of them a problem breaks.
#include <algorithm>
#include <tuple>

#include "opening/cross_checks.h"
#include "opening/field_reader.h"
#include "opening/like.h"
#include "opening/model.h"
#include "opening/opening_reader.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using text::Place;
using text::Severity;
using yaml::Entry;
using yaml::Node;

namespace {

constexpr std::string_view kFormat = "1";

bool before(const Place& a, const Place& b) { return std::tie(a.line, a.column) < std::tie(b.line, b.column); }

class ProjectReader {
 public:
  ProjectReader(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics)
      : file_(file), rules_(rules), diagnostics_(diagnostics), reader_(rules, diagnostics), opening_reader_(reader_, diagnostics) {}

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
    for (auto& opening : project_.openings) check_contradictions(opening, rules_, diagnostics_);
    for (auto& opening : project_.openings) count_answers(project_.choices, opening, diagnostics_);
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
    project_.openings.push_back(opening_reader_.read(item, "opening " + std::to_string(project_.openings.size() + 1)));
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
  const rules::RuleSet& rules_;
  text::Diagnostics& diagnostics_;
  FieldReader reader_;
  OpeningReader opening_reader_;
  Project project_;
};

}  // namespace

Project read_project(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics) {
  return ProjectReader(file, rules, diagnostics).run();
}

}  // namespace jambcheck::opening
