#include "papers/package.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "opening/anchor_data.h"
#include "papers/card.h"
#include "papers/chart.h"
#include "papers/fastening.h"
#include "papers/jamb_drawing.h"
#include "papers/leaf.h"
#include "papers/opening_drawing.h"
#include "papers/schedule.h"
#include "papers/working.h"
#include "text/number.h"
#include "text/suggest.h"
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

constexpr const char* kChecked[] = {"each fastener of guides and brackets in each load case", "the metal of guide and bracket at the fasteners", "a board (buck) under the hardware and its own fastening",
                                    "edge, end and spacing of the holes", "depth that holds"};
constexpr const char* kNotChecked[] = {"the jamb, header and wall as members of the building", "the door itself: curtain, slats, barrel, springs, brackets beyond their fasteners", "fire rating and operation",
                                       "impact of wind-borne debris", "welds, and anything hidden in the wall"};

constexpr std::size_t kFewOpenings = 12;   // with more the answers are set small
constexpr std::size_t kLinesPrinted = 100;  // of the project file

Cell linked(const std::string& text, const std::string& link) { return {text, Sign::none, kNoRatio, link}; }

class Package {
 public:
  Package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options)
      : project_(project), results_(results), types_(types), set_(set), checker_(checker), options_(options), d_(blank(project, "fastening package", options.paper)), workings_(options.digits, options.extent) {
    for (const auto& type : types)
      for (const auto& m : type.members) all_.emplace_back(&type, &m);
    std::stable_sort(all_.begin(), all_.end(), [](const auto& a, const auto& b) { return (a.second->result->state == State::holds) < (b.second->result->state == State::holds); });
  }

  Document run() {
    cover();
    answers();
    basis();
    loads();
    leaves();
    inspection();
    drawings();
    record();
    d_.inside.push_back({kInputName, options_.input});
    for (const auto& [path, f] : project_.facts)
      if (path.rfind("anchor_data.", 0) == 0 && !f.unknown) add_anchor_file(f.word);
    d_.inside.push_back({kRecordName, replay_record(results_, set_)});
    return std::move(d_);
  }

 private:
  void section(const std::string& title, const std::string& anchor) {
    d_.add(PageBreak{});
    d_.add(Heading{1, title, anchor});
  }
  static Cell page_cell(const std::string& anchor) {
    Cell c;
    c.page = anchor;
    return c;
  }
  /// Marks, or "all" where there are several and none is missing.
  [[nodiscard]] std::string marks_text(const std::vector<std::string>& marks) const { return marks.size() == results_.size() && marks.size() > 1 ? "all" : text::join(marks); }
  static std::string leaf_anchor(const Type& t) { return "type-" + t.letter; }

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
  static std::string fastening_words(const verdict::OpeningResult& r) {
    std::vector<std::string> out;
    for (const auto& c : r.connections)
      if (!c.fastener.empty() && std::find(out.begin(), out.end(), c.fastener) == out.end()) out.push_back(c.fastener);
    return text::join(out);
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

  void basis() {
    section("2  Basis and assumptions", "basis");
    Table site;
    site.head = {"", "value", "from"};
    site.shares = {2, 2, 1.4};
    site.say = "site and building";
    for (const auto& [path, f] : project_.facts)
      if (path.rfind("site.", 0) == 0 || path.rfind("building.", 0) == 0) site.rows.push_back({{path}, {said(project_.facts, path)}, {"g  given"}});
    if (!site.rows.empty()) d_.add(site);
    d_.add(document::Columns{{1, 1},
                             {{{Paragraph{"What is checked", Style::strong}}, {List{{std::begin(kChecked), std::end(kChecked)}, false}}},
                              {{Paragraph{"What is not checked", Style::strong}}, {List{{std::begin(kNotChecked), std::end(kNotChecked)}, false}}}}});
    documents();
    assumed();
    given_beside_worked_out();
  }
  void documents() {
    std::set<std::string> used;
    for (const auto& r : results_)
      for (const auto& c : r.connections)
        for (const auto& k : c.checks)
          for (const rules::Rule* rule : k.plan->check_of(*k.rule)->rules)
            for (const auto& clause : rule->clauses) used.insert(clause.doc);
    Table t;
    t.head = {"as cited", "document", "edition", "known here"};
    t.shares = {1.2, 3, 1.2, 1};
    t.say = "documents that these answers rest on";
    t.compact = true;
    for (const auto& id : used)
      if (const auto it = set_.documents().find(id); it != set_.documents().end()) {
        const auto& doc = it->second;
        t.rows.push_back({{id}, {doc.title + (doc.body.empty() ? "" : ", " + doc.body)}, {doc.edition}, {std::string(table::word(doc.seen))}});
      }
    if (t.rows.empty()) return;
    d_.add(Heading{2, "Documents", "documents"});
    d_.add(Paragraph{"read: the printed text was read. recomputed: worked out again. second-hand: read in another publication. memory: not yet looked up in the document.", Style::small});
    d_.add(t);
  }
  void assumed() {
    std::vector<std::pair<const verdict::Assumed*, std::vector<std::string>>> all;
    for (const auto& r : results_)
      for (const auto& a : r.assumed) {
        auto it = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.first->what == a.what && e.first->value == a.value && e.first->why == a.why; });
        if (it == all.end()) it = all.insert(all.end(), {&a, {}});
        if (it->second.empty() || it->second.back() != r.mark) it->second.push_back(r.mark);
      }
    if (all.empty()) return;
    d_.add(Heading{2, "Assumed, because the project does not say", "assumed"});
    Table t;
    t.head = {"what", "value", "why", "openings"};
    t.shares = {1.6, 0.8, 3, 1.5};
    t.compact = true;
    for (const auto& [a, marks] : all) t.rows.push_back({{a->what}, {a->value}, {a->why}, {marks_text(marks)}});
    d_.add(t);
  }
  void given_beside_worked_out() {
    Table t;
    t.compact = true;
    t.head = {"opening", "where", "what", "given", "worked out", "given / worked out"};
    t.shares = {0.9, 1, 2.4, 1, 1, 0.8};
    for (const auto& r : results_)
      for (const auto& c : r.cross_checks) t.rows.push_back({{r.mark}, {c.where}, {c.say}, {c.given}, {c.worked_out}, {text::rounded(c.ratio, 3)}});
    if (t.rows.empty()) return;
    d_.add(Heading{2, "Given beside worked out", "cross"});
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
        workings_.add_loads(*check, d_);
      }
      if (!any) d_.add(Paragraph{"Not applicable, because no check of this type could be worked out.", Style::plain});
    }
  }

  void leaves() {
    section("4  Types, one leaf each", "leaves");
    if (types_.empty()) d_.add(Paragraph{"Not applicable, because no opening could be read.", Style::plain});
    for (std::size_t i = 0; i < types_.size(); ++i) {
      if (i != 0) d_.add(PageBreak{});
      leaf(types_[i]);
    }
  }
  void leaf(const Type& type) {
    const auto& r = *type.worst().result;
    d_.add(Heading{2, fmt::format("4.{}  Type {}: {}", type.letter, type.letter, fastening_words(r)), leaf_anchor(type)});
    d_.add(document::StateLine{sign_of(r.state), std::string(rules::word(r.state)), r.mark + " decides: " + r.why, r.state == State::holds || r.state == State::short_ ? r.ratio : kNoRatio});
    const auto parts = twins_of(r);
    double decisive = 0;
    for (const auto& part : parts)
      if (const auto* k = worst_strength(*part.first)) decisive = std::max(decisive, k->judgement.ratio);
    const LeafOptions how{options_.extent, options_.digits, options_.revision, decisive};
    add_links(parts, how, d_);
    cuts(type);
    members(type);
    for (const auto& part : parts) add_checks(part, how, d_);
    if (options_.extent == Extent::deciding)
      d_.add(Paragraph{fmt::format("Worked out below: of each link the check that decides, and those with at least {:.0f} % of its ratio (bold above); what its inputs come from is set only where the ratio is as near to the opening's."
                                   "  Numbers are carried with all their digits and printed with {}. All others: --workings all, or jambcheck explain with the address.", kClose * 100, options_.digits), Style::small});
    charts(type, parts);
    refused(type);
    workings_.new_leaf();
    for (const auto& part : parts) add_workings(part, how, workings_, d_);
  }
  void charts(const Type& type, const std::vector<Twins>& parts) {
    const auto& o = *type.worst().opening;
    document::Columns columns;
    const auto add = [&](document::Drawing drawing) {
      if (drawing.shapes.empty() || columns.parts.size() == 2) return;
      columns.shares.push_back(1);
      columns.parts.push_back({{document::Figure{std::move(drawing)}}});
    };
    add(travel_chart(project_, o, set_, checker_));
    for (const auto& part : parts) add(edge_chart(project_, o, *part.first, checker_));
    if (!columns.parts.empty()) d_.add(columns);
  }
  /// Why not another fastening: the reasons that were asked for.
  void refused(const Type& type) {
    const auto it = options_.refused.find(type.letter);
    if (it == options_.refused.end()) return;
    d_.add(Heading{3, "Why not another fastening", ""});
    if (it->second.empty()) return d_.add(Paragraph{"Not applicable, because nothing that could be tried here was refused.", Style::plain});
    Table t;
    t.head = {"part", "fastener", "refused because", "tried", "least ratio"};
    t.shares = {0.7, 1.6, 4.4, 0.5, 0.8};
    t.compact = true;
    for (const auto& r : it->second) t.rows.push_back({{r.part}, {r.what}, {r.reason}, {fmt::format("{}", r.tried)}, ratio_cell(r.least, true, false)});
    d_.add(t);
  }
  void cuts(const Type& type) {
    const auto& all = drawn(type);
    const CardWords words(Language::english);
    const auto& o = *type.worst().opening;
    document::Columns columns;
    columns.shares = {1, 1};
    columns.parts.resize(2);
    columns.parts[0].push_back({document::Figure{elevation(all, said(o, "jamb.kind", opening::Side::left), Sides::both, verdict::kNotKnown, words, {245, 190, 9})}});
    for (const auto& f : all.parts) {
      if (f.part != "guide") continue;
      std::string scale;
      auto drawing = section_of(f, o, all.holes.metric, words, scale);
      columns.parts[1].push_back({Paragraph{words("section", {scale}), Style::small}});
      columns.parts[1].push_back({document::Figure{std::move(drawing)}});
      break;
    }
    d_.add(columns);
  }
  static document::Drawing section_of(const Fastening& f, const opening::Opening& o, bool metric, const CardWords& words, std::string& scale) {
    return papers::section(f, said(o, "jamb.kind", opening::Side::left), verdict::kNotKnown, metric, words, {250, 165, 9}, scale);
  }
  static std::string size_of(const opening::Opening& o) { return said(o.facts, "width") + " x " + said(o.facts, "height"); }
  void members(const Type& type) {
    if (type.members.size() < 2) return;
    Table t;
    t.head = {"member", "qty", "size", "decided by", "ratio", "state"};
    t.shares = {1, 0.4, 1.3, 3.6, 0.6, 1.2};
    t.compact = true;
    for (const auto& m : type.members)
      t.rows.push_back({strong_cell(m.opening->mark), {fmt::format("{}", m.quantity)}, {size_of(*m.opening)}, {m.result->why}, ratio_cell(m.result->ratio, m.result->state == State::holds || m.result->state == State::short_, false), state_cell(m.result->state)});
    d_.add(t);
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
  void inspection() {
    section("5  Inspection", "inspection");
    d_.add(Heading{2, "What rules ask to be inspected", "to-inspect"});
    std::vector<std::pair<std::string, std::vector<std::string>>> all;
    for (const auto& r : results_)
      for (const auto& n : r.notes) {
        const std::string text = n.text + (n.clause.empty() ? "" : "  [" + n.clause + "]");
        auto it = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.first == text; });
        if (it == all.end()) it = all.insert(all.end(), {text, {}});
        if (it->second.empty() || it->second.back() != r.mark) it->second.push_back(r.mark);
      }
    if (all.empty()) d_.add(Paragraph{"Not applicable, because no rule that was run asks for an inspection of its own.", Style::plain});
    else {
      Table t;
      t.head = {"to do", "openings", "initials"};
      t.shares = {3.4, 1.8, 0.8};
      t.compact = true;
      for (const auto& [text, marks] : all) t.rows.push_back({{text}, {marks_text(marks)}, {""}});
      d_.add(t);
    }
    ticks();
    labels();
  }
  /// What the inspector holds the work against, with room for what was found.
  void ticks() {
    d_.add(Heading{2, "To tick for each type", "ticks"});
    Table t;
    t.head = {"type", "part", "fastener", "count", "hole depth", "edge", "spacing", "clean", "tight", "proved", "initials"};
    t.shares = {0.5, 1.25, 1.9, 0.7, 1, 1.25, 1.25, 0.65, 0.65, 0.75, 0.9};
    t.compact = true;
    for (const auto& type : types_) {
      std::vector<std::string> seen;
      for (const auto& f : drawn(type).parts) {
        const double depth = f.row.drill.bits.empty() ? std::nan("") : f.row.drill.bits.front().depth;
        const double edge = f.row.holes.empty() ? f.value("edge.loaded") : f.row.holes.front().edge;
        const bool metric = drawn(type).holes.metric;
        const auto box = [&](const std::string& text) { return Cell{"[  ] " + text}; };
        std::vector<Cell> row{strong_cell(type.letter), {f.row.name}, box(f.row.fastener), box(fmt::format("{}", f.row.count)), box(on_tape_short(depth, metric)), box(on_tape_short(edge, metric)),
                              box(f.part == "guide" ? on_tape_short(f.value("guide.fastener_spacing"), metric) : ""), box(""), box(""), box(""), {""}};
        t.rows.push_back(std::move(row));
      }
    }
    if (t.rows.empty()) d_.add(Paragraph{"Not applicable, because no type has a fastening.", Style::plain});
    else d_.add(t);
  }
  /// The label on the door against what was checked.
  void labels() {
    d_.add(Heading{2, "Label on the door, held against this package", "labels"});
    Table t;
    t.head = {"type", "openings", "size", "wind asked, inward / outward", "label says", "size and parts as on the label", "initials"};
    t.shares = {0.45, 2.2, 1.5, 1.7, 1.2, 1.3, 0.8};
    t.compact = true;
    for (const auto& type : types_) {
      std::vector<std::string> marks;
      for (const auto& m : type.members) marks.push_back(m.opening->mark);
      t.rows.push_back({strong_cell(type.letter), {text::join(marks)}, {size_of(*type.worst().opening)}, {pressures(type)}, {"[  ]"}, {"[  ]"}, {""}});
    }
    if (!t.rows.empty()) d_.add(t);
    d_.add(Paragraph{"Size and wind are those of the member that decides; pressures at strength level.", Style::small});
  }
  /// "18.2 psf / 20.1 psf" of the member that decides.
  std::string pressures(const Type& type) {
    const opening::Project p = first_choices(project_);
    const opening::Opening o = first_choices(*type.worst().opening);
    std::string out;
    for (const auto& c : verdict::connections(p, o, set_)) {
      if (c.id != "LG") continue;
      for (const char* sign : {"inward", "outward"}) {
        const auto it = std::find_if(c.cases.begin(), c.cases.end(), [&](const auto& one) {
          const auto given = one.values.find("wind.sign");
          return given != one.values.end() && given->second.word == sign;
        });
        if (it == c.cases.end()) continue;
        rules::Case values = c.common;
        for (const auto& [key, given] : it->values) values.insert_or_assign(key, given);
        const double p_w = verdict::key_values(set_, checker_.plans(), values, {"wind.pressure"}).at("wind.pressure");
        const auto* key = set_.key("wind.pressure");
        out += (out.empty() ? "" : " / ") + (std::isnan(p_w) ? std::string("not known") : units::show(p_w, key->unit, options_.digits));
      }
      break;
    }
    return out.empty() ? "none" : out;
  }
  /// The fastening of the member that decides, worked out once.
  const Fastenings& drawn(const Type& type) {
    auto& kept = drawn_[&type];
    if (!kept) kept = std::make_unique<Fastenings>(fastenings(project_, *type.worst().opening, set_, checker_));
    return *kept;
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

  void record() {
    section("7  Record", "record");
    d_.add(Paragraph{fmt::format("jambcheck {}. Fingerprint of the inputs: {}. The input and a record of all answers travel inside of this package: jambcheck replay runs them again.", JAMBCHECK_VERSION, fingerprint(project_)), Style::plain});
    changes();
    given();
    understood();
    stamps();
  }
  void given() {
    d_.add(Heading{2, "Inputs as given", "given"});
    const auto lines = static_cast<std::size_t>(std::count(options_.input.begin(), options_.input.end(), '\n'));
    if (lines <= kLinesPrinted) d_.add(Paragraph{options_.input, Style::code});
    else d_.add(Paragraph{fmt::format("The project file has {} lines. It travels inside of this package as {}; every value of it stands below.", lines, kInputName), Style::plain});
  }
  /// Every fact, in the user's unit and in the one that is worked with; what was copied from another opening is told once.
  void understood() {
    d_.add(Heading{2, "Inputs as understood", "understood"});
    Table t;
    t.head = {"opening", "fields and values; where the two differ, as written = as worked with"};
    t.shares = {1, 7.5};
    t.compact = true;
    t.rows.push_back({strong_cell("project"), {facts_text(project_.facts, project_.choices)}});
    t.revised.push_back(options_.revision.at_input("project"));
    for (const auto& o : project_.openings) {
      t.rows.push_back({strong_cell(o.mark), {facts_text(o.facts, o.choices)}});
      t.revised.push_back(options_.revision.at_input(o.mark));
    }
    d_.add(t);
  }
  static std::string facts_text(const opening::Facts& facts, const std::vector<opening::Choice>& choices) {
    std::string out, like;
    for (const auto& [path, f] : facts) {
      if (f.origin == opening::Origin::copied) like = f.from;
      else out += (out.empty() ? "" : "; ") + path + " " + value_text(facts, path, f);
    }
    for (const auto& choice : choices) {
      std::vector<std::string> options;
      for (const auto& option : choice.options) options.push_back(option.text);
      out += (out.empty() ? "" : "; ") + choice.path + " one of " + text::join(options);
    }
    if (!like.empty()) out += (out.empty() ? "all like " : "; all else like ") + like;
    return out;
  }
  static std::string value_text(const opening::Facts& facts, const std::string& path, const opening::Fact& f) {
    if (!f.list.empty()) {
      std::string out;
      for (const double x : f.list) out += (out.empty() ? "" : ", ") + units::show(x, f.shown, 8);
      return out;
    }
    const std::string as_written = said(facts, path);
    if (f.kind != opening::Fact::Kind::number || f.unknown) return as_written;
    const std::string exact = units::show(f.value, f.shown, 8);
    return exact == as_written ? as_written : as_written + " = " + exact;
  }
  void changes() {
    d_.add(Heading{2, "Changes", "changes"});
    const Revision& rev = options_.revision;
    if (rev.letter.empty()) return d_.add(Paragraph{"Not applicable, because this package was not set against an older one (--against).", Style::plain});
    if (rev.changes.empty()) return d_.add(Paragraph{"Not applicable, because nothing differs from " + rev.against + ".", Style::plain});
    d_.add(Paragraph{fmt::format("Against {}. What changed has a bar and {} in the margin.", rev.against, rev.letter), Style::plain});
    Table t;
    t.head = {"where", "what", "before", "now", "page"};
    t.shares = {1.5, 1.6, 2, 2, 0.6};
    t.compact = true;
    for (const auto& c : rev.changes) t.rows.push_back({strong_cell(c.where), {c.what}, {c.before}, {c.after}, c.anchor.empty() ? Cell{"--"} : page_cell(c.anchor)});
    d_.add(t);
  }
  /// Files that were read for these checks; of all others the record that travels inside tells the hash.
  void stamps() {
    d_.add(Heading{2, "Rules and tables", "stamps"});
    std::set<std::string> used;
    for (const auto& r : results_)
      for (const auto& c : r.connections)
        for (const auto& k : c.checks)
          for (const rules::Rule* rule : k.plan->check_of(*k.rule)->rules) {
            if (rule->place.file) used.insert(rule->place.file->name);
            for (const auto& table : rule->tables)
              if (table.table && table.table->place.file) used.insert(table.table->place.file->name);
          }
    d_.add(Paragraph{fmt::format("Files behind these answers, each with a hash of its content: another hash, another content. All {} files stand in {} inside of this package. jambcheck selftest runs the published values that the rules reproduce.", set_.stamps().size(), kRecordName), Style::small});
    Table t;
    t.head = {"file", "hash", "file", "hash"};
    t.shares = {2.6, 1.3, 2.6, 1.3};
    t.compact = true;
    for (const auto& s : set_.stamps()) {
      if (used.count(s.path) == 0) continue;
      if (t.rows.empty() || t.rows.back().size() == 4) t.rows.emplace_back();
      t.rows.back().push_back({s.path});
      t.rows.back().push_back({fmt::format("{:016x}", s.hash)});
    }
    if (!t.rows.empty()) d_.add(t);
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

  const opening::Project& project_;
  const std::vector<verdict::OpeningResult>& results_;
  const std::vector<Type>& types_;
  const rules::RuleSet& set_;
  verdict::Checker& checker_;
  const PackageOptions& options_;
  std::vector<std::pair<const Type*, const Member*>> all_;  ///< every opening, those that do not hold first
  std::map<const Type*, std::unique_ptr<Fastenings>> drawn_;
  Document d_;
  Workings workings_;
};

}  // namespace

Document package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options) {
  return Package(project, results, types, set, checker, options).run();
}

}  // namespace jambcheck::papers
