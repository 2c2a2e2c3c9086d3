#include "papers/package.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "opening/anchor_data.h"
#include "papers/card.h"
#include "papers/fastening.h"
#include "papers/schedule.h"
#include "papers/working.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

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

Cell ratio_cell(State state, double ratio, bool gate = false) {
  const bool counts = !gate && !std::isnan(ratio);
  const std::string text = !counts ? "--" : std::isinf(ratio) ? "inf" : fmt::format("{:.2f}", ratio);
  (void)state;
  return {text, Sign::none, counts && !std::isinf(ratio) ? ratio : kNoRatio};
}

Cell state_cell(State s) { return {std::string(rules::word(s)), sign_of(s)}; }
Cell strong(const std::string& text, const std::string& link = "") { return {text, Sign::none, kNoRatio, link, true}; }
Cell linked(const std::string& text, const std::string& link) { return {text, Sign::none, kNoRatio, link}; }

class Package {
 public:
  Package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options)
      : project_(project), results_(results), types_(types), set_(set), checker_(checker), options_(options), d_(blank(project, "fastening package", options.paper)), workings_(options.digits) {}

  Document run() {
    cover();
    answers();
    basis();
    loads();
    for (const auto& type : types_) leaf(type);
    questions();
    inspection();
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
  static std::string leaf_anchor(const Type& t) { return "type-" + t.letter; }

  void cover() {
    d_.add(Heading{1, d_.title, "cover"});
    Table t;
    t.shares = {1, 3};
    for (const auto& [path, label] : {std::pair("project.name", "project"), std::pair("project.address", "address"), std::pair("project.code", "code"), std::pair("project.method", "method"),
                                      std::pair("project.revision", "revision"), std::pair("project.date", "date"), std::pair("project.from", "facts from"), std::pair("project.notes", "notes")})
      if (const auto text = said(project_.facts, path); !text.empty()) t.rows.push_back({strong(label), {text}});
    std::vector<std::string> marks;
    for (const auto& r : results_) marks.push_back(r.mark);
    t.rows.push_back({strong("openings"), {text::join(marks)}});
    t.rows.push_back({strong("answer"), {tally(types_, options_.not_read.size())}});
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
    t.head = {"mark", "type", "jamb and fastening", "decided by", "ratio", "state"};
    t.shares = {1, 0.65, 2.2, 3.1, 0.85, 1.5};
    t.say = "every opening; those that do not hold first";
    std::vector<std::pair<const Type*, const Member*>> all;
    for (const auto& type : types_)
      for (const auto& m : type.members) all.emplace_back(&type, &m);
    std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return (a.second->result->state == State::holds) < (b.second->result->state == State::holds); });
    for (const auto& [type, m] : all) {
      const auto& r = *m->result;
      const std::string governs = r.governs.empty() ? "" : "  " + r.governs;
      t.rows.push_back({strong(m->quantity == 1 ? r.mark : fmt::format("{} ({} x)", r.mark, m->quantity)), linked(type->letter, leaf_anchor(*type)), {fastening_words(r)}, linked(r.why + governs, r.governs.empty() ? "" : working_anchor(r.governs)),
                        ratio_cell(r.state, r.state == State::holds || r.state == State::short_ ? r.ratio : std::nan("")), state_cell(r.state)});
    }
    for (const auto& mark : options_.not_read) t.rows.push_back({strong(mark), {""}, {"not read: it has errors"}, {""}, {"--"}, {""}});
    d_.add(t);
    flags();
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
    for (const auto& [text, marks] : all) t.rows.push_back({{text}, {text::join(marks)}});
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
    t.shares = {1.6, 1, 2.8, 1.5};
    for (const auto& [a, marks] : all) t.rows.push_back({{a->what}, {a->value}, {a->why}, {marks.size() == results_.size() ? "all" : text::join(marks)}});
    d_.add(t);
  }
  void given_beside_worked_out() {
    Table t;
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
      for (const auto& c : type.worst().result->connections) {
        const auto it = std::find_if(c.checks.begin(), c.checks.end(), [&](const auto& k) { return k.address == c.governs; });
        if (it == c.checks.end()) continue;
        d_.add(Paragraph{fmt::format("{} ({}): {}", c.name, c.fastener, it->load_case), Style::strong});
        workings_.add_loads(*it, d_);
      }
    }
  }

  void leaf(const Type& type) {
    const auto& r = *type.worst().result;
    section(fmt::format("4.{}  Type {}: {}", type.letter, type.letter, fastening_words(r)), leaf_anchor(type));
    d_.add(document::StateLine{sign_of(r.state), std::string(rules::word(r.state)), r.mark + " decides: " + r.why, r.state == State::holds || r.state == State::short_ ? r.ratio : kNoRatio});
    drawings(type);
    members(type);
    for (const auto& c : r.connections) checks(c);
    workings_.new_leaf();
    for (const auto& c : r.connections)
      for (const auto& k : c.checks) workings_.add(k, d_);
  }
  void drawings(const Type& type) {
    const auto all = fastenings(project_, *type.worst().opening, set_, checker_);
    const CardWords words(Language::english);
    const auto& o = *type.worst().opening;
    document::Columns columns;
    columns.shares = {1, 1};
    columns.parts.resize(2);
    columns.parts[0].push_back({document::Figure{elevation(all, said(o, "jamb.kind", opening::Side::left), Sides::both, verdict::kNotKnown, words, {245, 230, 9})}});
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
    return papers::section(f, said(o, "jamb.kind", opening::Side::left), verdict::kNotKnown, metric, words, {250, 180, 9}, scale);
  }
  void members(const Type& type) {
    if (type.members.size() < 2) return;
    Table t;
    t.head = {"member", "qty", "decided by", "ratio", "state"};
    t.shares = {1, 0.5, 4, 0.8, 1.3};
    for (const auto& m : type.members)
      t.rows.push_back({strong(m.opening->mark), {fmt::format("{}", m.quantity)}, {m.result->why}, ratio_cell(m.result->state, m.result->state == State::holds || m.result->state == State::short_ ? m.result->ratio : std::nan("")), state_cell(m.result->state)});
    d_.add(t);
  }
  void checks(const verdict::ConnectionResult& c) {
    d_.add(Heading{3, fmt::format("{}, {}: {}", c.name, c.fastener.empty() ? "no fastener" : c.fastener, rules::word(c.state)), ""});
    for (const auto& reason : c.reasons) d_.add(Paragraph{reason.text, Style::plain});
    Table t;
    t.head = {"check", "what", "demand", "capacity", "ratio", "state", "clause; how it is known"};
    t.shares = {1.5, 2.1, 1, 1.05, 0.85, 1.45, 1.9};
    t.say = "checks of the " + c.name;
    for (const auto& k : c.checks) {
      const bool gate = k.rule->check->kind == rules::CheckKind::gate;
      const auto amount = [&](double x) { return gate || std::isnan(x) ? std::string("--") : units::show(x, k.unit, options_.digits); };
      std::string clause = k.clause;
      if (!k.weakest.empty()) clause += fmt::format("{}weakest: {}, {}", clause.empty() ? "" : "; ", k.weakest, table::word(k.evidence));
      t.rows.push_back({linked(k.address, gate ? "" : working_anchor(k.address)), {k.rule->title}, {amount(k.judgement.demand)}, {amount(k.judgement.capacity)}, ratio_cell(k.judgement.state, k.judgement.ratio, gate),
                        state_cell(k.judgement.state), {clause}});
      t.anchors.push_back("t-" + k.address);
    }
    if (!t.rows.empty()) d_.add(t);
  }

  void questions() {
    section("5  Questions", "questions");
    const auto all = missing_of(types_);
    if (all.empty()) return d_.add(Paragraph{"Not applicable, because no question is open.", Style::plain});
    for (const auto& m : all) {
      d_.add(Paragraph{m.question->ask + "   (" + text::join(m.marks) + ")", Style::strong});
      if (!m.question->find.empty()) d_.add(Paragraph{m.question->find, Style::plain});
      std::string more = m.question->fields.empty() ? "" : "write it as " + text::join(m.question->fields) + ". ";
      for (const auto& a : m.question->answers) more += a.value + ": " + std::string(rules::word(a.state)) + ". ";
      if (!more.empty()) d_.add(Paragraph{more, Style::small});
    }
  }
  void inspection() {
    section("6  Inspection", "inspection");
    std::vector<std::pair<std::string, std::vector<std::string>>> all;
    for (const auto& r : results_)
      for (const auto& n : r.notes) {
        const std::string text = n.text + (n.clause.empty() ? "" : "  [" + n.clause + "]");
        auto it = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.first == text; });
        if (it == all.end()) it = all.insert(all.end(), {text, {}});
        if (it->second.empty() || it->second.back() != r.mark) it->second.push_back(r.mark);
      }
    if (!all.empty()) {
      Table t;
      t.head = {"to do", "openings", "initials"};
      t.shares = {3.4, 1.8, 0.8};
      for (const auto& [text, marks] : all) t.rows.push_back({{text}, {marks.size() == results_.size() ? "all" : text::join(marks)}, {""}});
      d_.add(t);
    }
    Table ticks;
    ticks.head = {"type", "size and length", "depth", "edge", "spacing", "clean", "tight", "proved", "initials"};
    ticks.shares = {0.7, 1.4, 0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 1};
    for (const auto& type : types_) {
      std::vector<Cell> row{strong(type.letter)};
      for (int i = 1; i < 8; ++i) row.push_back({"[   ]"});
      row.push_back({""});
      ticks.rows.push_back(row);
    }
    d_.add(Heading{2, "To tick for each type", "ticks"});
    d_.add(ticks);
  }

  void record() {
    section("7  Record", "record");
    d_.add(Paragraph{fmt::format("jambcheck {}. Fingerprint of the inputs: {}. The input and a record of all answers travel inside of this package: jambcheck replay runs them again.", JAMBCHECK_VERSION, fingerprint(project_)), Style::plain});
    d_.add(Heading{2, "Inputs as given", "given"});
    d_.add(Paragraph{options_.input, Style::code});
    d_.add(Heading{2, "Inputs as understood", "understood"});
    Table t;
    t.head = {"opening", "field", "value", "from"};
    t.shares = {1, 2.2, 2.4, 1.4};
    add_facts(t, "project", project_.facts);
    for (const auto& o : project_.openings) add_facts(t, o.mark, o.facts);
    d_.add(t);
    stamps();
  }
  void add_facts(Table& t, const std::string& where, const opening::Facts& facts) {
    for (const auto& [path, f] : facts) {
      std::string value = said(facts, path);
      if (value.empty() && !f.list.empty())
        for (const double x : f.list) value += (value.empty() ? "" : ", ") + text::rounded(x);
      if (f.kind == opening::Fact::Kind::number && !f.unknown) value = units::show(f.value, f.shown, 8);
      t.rows.push_back({{where}, {path}, {value}, {f.origin == opening::Origin::copied ? "like " + f.from : "g  given"}});
    }
  }
  void stamps() {
    d_.add(Heading{2, "Rules and tables", "stamps"});
    d_.add(Paragraph{"Each file with a hash of its content: another hash, another content.", Style::small});
    Table t;
    t.head = {"file", "hash"};
    t.shares = {3, 1.2};
    for (const auto& s : set_.stamps()) t.rows.push_back({{s.path}, {fmt::format("{:016x}", s.hash)}});
    d_.add(t);
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
  Document d_;
  Workings workings_;
};

}  // namespace

Document package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options) {
  return Package(project, results, types, set, checker, options).run();
}

}  // namespace jambcheck::papers
