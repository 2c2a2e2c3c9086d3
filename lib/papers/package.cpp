#include "papers/package.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "opening/anchor_data.h"
#include "papers/card.h"
#include "papers/fastening.h"
#include "papers/free_body.h"
#include "papers/jamb_drawing.h"
#include "papers/leaf.h"
#include "papers/opening_drawing.h"
#include "papers/package_parts.h"
#include "papers/schedule.h"
#include "papers/working.h"
#include "text/number.h"
#include "text/suggest.h"
#include "threads/share_out.h"
#include "units/quantity.h"
#include "verdict/connection.h"
#include "verdict/key_values.h"

namespace jambcheck::papers {
namespace {

using document::Box;
using document::Cell;
using document::Document;
using document::Heading;
using document::kNoRatio;
using document::List;
using document::PageBreak;
using document::Paragraph;
using document::Sign;
using document::Style;
using document::Table;
using rules::State;

constexpr std::size_t kFewOpenings = 12;   // with more the answers are set small

Cell linked(const std::string& text, const std::string& link) { return {text, Sign::none, kNoRatio, link}; }

class Package : private PackagePart {
 public:
  explicit Package(const PackagePart& part) : PackagePart(part), workings_(options_.digits, options_.extent) {
    for (const auto& type : types_)
      for (const auto& m : type.members) all_.emplace_back(&type, &m);
    std::stable_sort(all_.begin(), all_.end(), [](const auto& a, const auto& b) { return (a.second->result->state == State::holds) < (b.second->result->state == State::holds); });
  }

  void run() {
    draw_all();
    cover();
    answers();
    add_basis(*this);
    loads();
    work_out_apart();
    leaves();
    add_inspection(*this);
    drawings();
    add_record(*this);
    d_.inside.push_back({kInputName, options_.input});
    for (const auto& [path, f] : project_.facts)
      if (path.rfind("anchor_data.", 0) == 0 && !f.unknown) add_anchor_file(f.word);
    d_.inside.push_back({kRecordName, std::move(record_)});
  }

 private:
  void cover() {
    d_.add(Heading{1, d_.title, "cover"});
    Table t;
    t.shares = {1, 3};
    for (const auto& [path, label] : {std::pair("project.name", "project"), std::pair("project.address", "address"), std::pair("project.code", "code"), std::pair("project.method", "method"),
                                      std::pair("project.revision", "revision"), std::pair("project.date", "date"), std::pair("project.from", "facts from"), std::pair("project.notes", "notes")})
      if (const auto text = said(project_.facts, path); !text.empty()) t.rows.push_back({strong_cell(label), {text}});
    std::vector<std::string> marks;
    for (const auto& r : results_) marks.push_back(r.mark);
    t.rows.push_back({strong_cell("openings"), {text::join(marks)}});
    t.rows.push_back({strong_cell("answer"), {tally(types_, options_.not_read.size())}});
    d_.add(t);
    d_.add(Box{"What this is, and what it is not",
               {{List{{"It shows whether the fasteners of these coiling doors carry what the doors put on them, and how that was worked out.",
                       "It is a calculation aid, not an approval, and it carries no seal.",
                       "The building department and the licensed professional on the job decide. If the wall is not as written here, it does not hold for it."},
                      false}}}});
    document::Drawing seal;
    seal.width = 200, seal.height = 90;
    seal.say = "empty space for a seal, if one is required";
    d_.add(Box{"For the licensed professional, if required", {{document::Figure{seal}}}});
    d_.add(document::Contents{"Contents"});
  }

  void answers() {
    section("1  Answers", "answers");
    d_.add(Paragraph{tally(types_, options_.not_read.size()), Style::strong});
    Table t;
    t.head = {"mark", "type", "fastening", "decided by", "ratio", "state", "page"};
    t.shares = {1.05, 0.5, 2.1, 3.6, 0.85, 1.3, 0.55};
    t.say = "every opening; those that do not hold first";
    t.compact = all_.size() > kFewOpenings;
    for (const auto& [type, m] : all_) {
      const auto& r = *m->result;
      const std::string governs = r.governs.empty() ? "" : "  " + r.governs;
      t.rows.push_back({strong_cell(m->quantity == 1 ? r.mark : fmt::format("{} ({} x)", r.mark, m->quantity)), linked(type->letter, leaf_anchor(*type)), {fastening_words(r)}, linked(r.why + governs, r.governs.empty() ? "" : working_anchor(r.governs)),
                        ratio_cell(r.ratio, r.state == State::holds || r.state == State::short_, !t.compact), state_cell(r.state), page_cell(leaf_anchor(*type))});
      t.revised.push_back(options_.revision.at_mark(r.mark));
      t.anchors.push_back({"a-" + r.mark});
    }
    for (const auto& mark : options_.not_read) t.rows.push_back({strong_cell(mark), {""}, {"not read: it has errors"}, {""}, {"--"}, {""}, {""}});
    d_.add(t);
    flags();
    questions();
  }
  /// Reasons of all openings, each once, with the marks.
  void flags() {
    std::vector<std::pair<std::string, std::vector<std::string>>> all;
    for (const auto& r : results_)
      for (const auto& f : r.flags) {
        auto it = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.first == f.text; });
        if (it == all.end()) it = all.insert(all.end(), {f.text, {}});
        if (it->second.empty() || it->second.back() != r.mark) it->second.push_back(r.mark);
      }
    if (all.empty()) return;
    d_.add(Heading{2, "For an engineer", "engineer"});
    Table t;
    t.head = {"why", "openings"};
    t.shares = {3, 1.4};
    for (const auto& [text, marks] : all) t.rows.push_back({{text}, {marks_text(marks)}});
    d_.add(t);
  }

  void loads() {
    section("3  Loads to the jamb", "loads");
    d_.add(Paragraph{"Free bodies and their sums, for the check that decides at each guide and bracket of each type. Further load cases stand with their checks in section 4.", Style::small});
    for (const auto& type : types_) {
      d_.add(Heading{2, fmt::format("Type {}: {}", type.letter, type.worst().opening->mark), "loads-" + type.letter});
      bool any = false;
      for (const auto& part : twins_of(*type.worst().result)) {
        const auto* check = worst_strength(*part.first);
        if (!check) continue;
        any = true;
        d_.add(Paragraph{fmt::format("{} ({}): {}", name_of(part), part.first->fastener, check->load_case), Style::strong});
        free_bodies(*part.first);
        workings_.add_loads(*check, d_);
      }
      if (!any) d_.add(Paragraph{"Not applicable, because no check of this type could be worked out.", Style::plain});
    }
  }

  void free_bodies(const verdict::ConnectionResult& connection) {
    const auto* check = worst_strength(connection, "L1");
    if (!check) return;
    document::Columns columns;
    for (auto& drawing : free_body(*check, set_, checker_.plans())) {
      columns.shares.push_back(1);
      columns.parts.push_back({{document::Figure{std::move(drawing)}}});
    }
    if (columns.parts.size() == 1) columns.parts.emplace_back(), columns.shares.push_back(1);
    if (!columns.parts.empty()) d_.add(columns);
  }

  /// What hangs on nothing but the loads, which all leaves lead back to.
  void work_out_apart() {
    leaves_.resize(types_.size());
    threads::for_each_index(1 + types_.size(), options_.jobs, [&](std::size_t i) {
      if (i == 0) record_ = replay_record(results_, set_);
      else add_leaf(with(leaves_[i - 1]), types_[i - 1], workings_.of_leaf(types_[i - 1].letter));
    });
  }
  void leaves() {
    section("4  Types, one leaf each", "leaves");
    if (types_.empty()) d_.add(Paragraph{"Not applicable, because no opening could be read.", Style::plain});
    for (std::size_t i = 0; i < leaves_.size(); ++i) {
      if (i != 0) d_.add(PageBreak{});
      d_.blocks.insert(d_.blocks.end(), std::make_move_iterator(leaves_[i].blocks.begin()), std::make_move_iterator(leaves_[i].blocks.end()));
    }
  }
  void questions() {
    d_.add(Heading{2, "Questions", "questions"});
    const auto all = missing_of(types_);
    if (all.empty()) return d_.add(Paragraph{"Not applicable, because no question is open.", Style::plain});
    for (const auto& m : all) {
      d_.add(Paragraph{m.question->ask + "   (" + text::join(m.marks) + ")", Style::strong});
      std::string more = m.question->find.empty() ? "" : m.question->find + " ";
      if (!m.question->fields.empty()) more += "Write it as " + text::join(m.question->fields) + ". ";
      for (const auto& a : m.question->answers) more += a.value + ": " + std::string(rules::word(a.state)) + ". ";
      if (!more.empty()) d_.add(Paragraph{more, Style::small});
    }
  }
  void drawings() {
    section("6  Drawings", "drawings");
    bool any = false;
    for (const auto& type : types_) {
      const auto sheet = opening_drawing(drawn(type), pressures(type));
      auto plate = bracket_drawing(drawn(type));
      if (sheet.shapes.empty() && plate.shapes.empty()) continue;
      any = true;
      d_.add(Heading{2, fmt::format("Type {}: {}, {}", type.letter, type.worst().opening->mark, size_of(*type.worst().opening)), "drawing-" + type.letter});
      document::Columns columns;
      columns.shares = {1.1, 1};
      columns.parts.resize(2);
      if (!sheet.shapes.empty()) columns.parts[0].push_back({document::Figure{sheet}});
      if (!plate.shapes.empty()) columns.parts[1].push_back({document::Figure{std::move(plate)}});
      d_.add(columns);
    }
    if (!any) return d_.add(Paragraph{"Not applicable, because no type has holes whose places are known.", Style::plain});
    d_.add(Paragraph{"Seen from the side of the door. Heights from the finished floor. A cut through one fastener stands on each leaf of section 4.", Style::small});
  }

  /// The anchor data that the project names, under the name it names them by.
  void add_anchor_file(const std::string& name) {
    const std::string tail = name.substr(name.find_last_of('/') == std::string::npos ? 0 : name.find_last_of('/') + 1);
    for (const auto& a : project_.anchors)
      if (a->place.file && a->place.file->name.size() >= tail.size() && a->place.file->name.compare(a->place.file->name.size() - tail.size(), tail.size(), tail) == 0) {
        d_.inside.push_back({name, a->place.file->text});
        return;
      }
  }

  std::vector<std::pair<const Type*, const Member*>> all_;  ///< every opening, those that do not hold first
  Workings workings_;
  std::vector<Document> leaves_;
  std::string record_;
};

}  // namespace

Document package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options) {
  Document out = blank(project, "fastening package", options.paper);
  Package({project, results, types, set, checker, options, out}).run();
  return out;
}

}  // namespace jambcheck::papers
