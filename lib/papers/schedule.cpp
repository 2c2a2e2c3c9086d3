#include "papers/schedule.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/card.h"
#include "papers/schedule_cells.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::papers {
namespace {

using document::Cell;
using document::Document;
using document::Heading;
using document::Paragraph;
using document::Style;
using opening::Side;
using rules::State;

Cell state_cell(const verdict::OpeningResult& r) { return {std::string(rules::word(r.state)), sign_of(r.state)}; }

bool metric(const opening::Facts& facts) {
  const auto* f = opening::fact(facts, "width");
  return f && (f->shown.name == "mm" || f->shown.name == "m" || f->shown.name == "cm");
}

std::string size_of(const opening::Facts& facts) {
  const bool m = metric(facts);
  return on_tape_short(number(facts, "width"), m) + " x " + on_tape_short(number(facts, "height"), m);
}

void add_types(Document& d, const std::vector<Type>& types) {
  d.add(Heading{1, "Types of fastening", "types"});
  d.add(Paragraph{"Openings whose jamb, board, guide, bracket and mount are written alike are one type. The member with the worst answer decides for the type.", Style::small});
  document::Table t;
  t.head = {"type", "openings", "fastening", "members", "decided by", "ratio", "state"};
  t.shares = {0.7, 1.1, 2, 1.6, 2.6, 0.8, 1.6};
  t.say = "types of fastening";
  for (const auto& type : types) {
    const auto& worst = *type.worst().result;
    std::size_t many = 0;
    std::vector<std::string> marks;
    for (const auto& m : type.members) {
      many += m.quantity;
      marks.push_back(m.opening->mark);
    }
    t.rows.push_back({{type.letter, document::Sign::none, document::kNoRatio, "", true}, {fmt::format("{}", many)}, {base_of(*type.worst().opening) + "; " + fastener_of(worst, 'G')}, {join_marks(marks)},
                      {worst.mark + ", " + decides_in_words(worst)}, {ratio_of(worst)}, state_cell(worst)});
  }
  d.add(t);
}

void add_missing(Document& d, const std::vector<Type>& types) {
  const auto all = missing_of(types);
  if (all.empty()) return;
  d.add(Heading{1, "What is missing", "missing"});
  d.add(Paragraph{"The answer that settles most openings by itself stands first.", Style::small});
  document::Table t;
  t.head = {"ask", "how to find out", "field", "settles alone", "asked for", "openings"};
  t.shares = {2.2, 2.8, 1.4, 0.9, 0.9, 1.5};
  for (const auto& m : all) t.rows.push_back({{m.question->ask}, {m.question->find}, {text::join(m.question->fields)}, {fmt::format("{}", m.alone)}, {fmt::format("{}", m.openings)}, {join_marks(m.marks)}});
  d.add(t);
}

}  // namespace

Document blank(const opening::Project& project, const std::string& title, document::Paper paper) {
  Document d;
  const auto name = said(project.facts, "project.name");
  d.title = name.empty() ? title : name + ": " + title;
  d.paper = paper;
  d.date = said(project.facts, "project.date");
  d.running = d.title;
  if (const auto revision = said(project.facts, "project.revision"); !revision.empty()) d.running += " · revision " + revision;
  if (said(project.facts, "project.demo") == "yes") d.running += " · invented project";
  d.footer = fmt::format("jambcheck {} · inputs {} · a calculation aid, not an approval", JAMBCHECK_VERSION, fingerprint(project));
  if (!d.date.empty()) d.footer += " · " + d.date;
  return d;
}

std::string decides_in_words(const verdict::OpeningResult& result) { return result.why; }

std::string tally(const std::vector<Type>& types, std::size_t not_read) {
  std::size_t n[5] = {0, 0, 0, 0, 0}, all = not_read;
  for (const auto& t : types)
    for (const auto& m : t.members) {
      n[static_cast<std::size_t>(m.result->state)] += m.quantity;
      all += m.quantity;
    }
  std::string out = fmt::format("{} {}:", all, all == 1 ? "opening" : "openings");
  for (const State s : {State::holds, State::short_, State::engineer, State::not_shown}) out += fmt::format("{} {} {}", s == State::holds ? "" : " ·", n[static_cast<std::size_t>(s)], rules::word(s));
  return out + (not_read == 0 ? "" : fmt::format(" · {} not read", not_read));
}

std::vector<Missing> missing_of(const std::vector<Type>& types) {
  std::vector<Missing> all;
  for (const auto& t : types)
    for (const auto& m : t.members)
      for (const auto& q : m.result->questions) {
        auto it = std::find_if(all.begin(), all.end(), [&](const Missing& a) { return a.question->key == q.key; });
        if (it == all.end()) it = all.insert(all.end(), {&q, {}, 0, 0});
        it->marks.push_back(m.opening->mark);
        it->openings += m.quantity;
        if (m.result->questions.size() == 1 && m.result->state == State::not_shown) it->alone += m.quantity;
      }
  std::stable_sort(all.begin(), all.end(), [](const Missing& a, const Missing& b) { return std::pair(a.alone, a.openings) > std::pair(b.alone, b.openings); });
  return all;
}

Document schedule(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const ScheduleOptions& options) {
  (void)results;
  Document d = blank(project, "opening schedule", options.paper);
  d.add(Heading{1, "Opening schedule", "schedule"});
  d.add(Paragraph{tally(types, options.not_read.size()), Style::strong});
  document::Table t;
  t.head = {"mark", "qty", "size", "jamb and mount", "type", "guide; bracket", "ratio", "state", "missing"};
  t.shares = {1.3, 0.55, 1.5, 1.9, 0.7, 2.3, 0.95, 1.6, 1.6};
  t.say = "openings in the order of the file";
  for (const auto& [type, member] : in_file_order(project, types)) {
    const auto& o = *member->opening;
    const auto& r = *member->result;
    const bool bar = (r.state == State::holds || r.state == State::short_) && !std::isinf(r.ratio);
    const std::string guide = fastener_of(r, 'G'), bracket = fastener_of(r, 'B'), where = said(o.facts, "location"), mount = said(o.facts, "mount");
    t.rows.push_back({{where.empty() ? o.mark : o.mark + " · " + where, document::Sign::none, document::kNoRatio, "", true}, {fmt::format("{}", member->quantity)}, {size_of(o.facts)},
                      {mount.empty() ? base_of(o) : base_of(o) + ", " + mount}, {type->letter}, {guide == bracket ? guide : guide + "; " + bracket},
                      {ratio_of(r), document::Sign::none, bar ? r.ratio : document::kNoRatio}, state_cell(r), {missing_in(r)}});
  }
  for (const auto& mark : options.not_read) t.rows.push_back({{mark}, {""}, {""}, {"not read: it has errors"}, {""}, {""}, {"--"}, {""}, {""}});
  d.add(t);
  add_types(d, types);
  add_missing(d, types);
  return d;
}

}  // namespace jambcheck::papers
