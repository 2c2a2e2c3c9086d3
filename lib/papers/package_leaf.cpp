// A leaf of section 4: one type, its links, every check on a line, drawings, and the working of the checks that decide.
#include <algorithm>

#include <fmt/format.h>

#include "papers/card.h"
#include "papers/chart.h"
#include "papers/jamb_drawing.h"
#include "papers/leaf.h"
#include "papers/package_parts.h"
#include "papers/schedule.h"
#include "papers/working.h"

namespace jambcheck::papers {
namespace {

using document::Heading;
using document::kNoRatio;
using document::Paragraph;
using document::Style;
using document::Table;
using rules::State;

class Leaf : private PackagePart {
 public:
  Leaf(const PackagePart& part, const Type& type, Workings workings) : PackagePart(part), type_(type), workings_(std::move(workings)) {}

  void run() {
    const auto& r = *type_.worst().result;
    d_.add(Heading{2, fmt::format("4.{}  Type {}: {}", type_.letter, type_.letter, fastening_words(r)), leaf_anchor(type_)});
    d_.add(document::StateLine{sign_of(r.state), std::string(rules::word(r.state)), r.mark + " decides: " + r.why, r.state == State::holds || r.state == State::short_ ? r.ratio : kNoRatio});
    const auto parts = twins_of(r);
    double decisive = 0;
    for (const auto& part : parts)
      if (const auto* k = worst_strength(*part.first)) decisive = std::max(decisive, k->judgement.ratio);
    const LeafOptions how{options_.extent, options_.digits, options_.revision, decisive};
    add_links(parts, how, d_);
    cuts();
    members();
    for (const auto& part : parts) add_checks(part, how, d_);
    if (options_.extent == Extent::deciding)
      d_.add(Paragraph{fmt::format("Worked out below: of each link the check that decides, and those with at least {:.0f} % of its ratio (bold above); what its inputs come from is set only where the ratio is as near to the opening's."
                                   "  Numbers are carried with all their digits and printed with {}. All others: --workings all, or jambcheck explain with the address.", kClose * 100, options_.digits), Style::small});
    charts(parts);
    refused();
    for (const auto& part : parts) add_workings(part, how, workings_, d_);
  }

 private:
  void charts(const std::vector<Twins>& parts) {
    const auto& o = *type_.worst().opening;
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
  void refused() {
    const auto it = options_.refused.find(type_.letter);
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
  void cuts() {
    const auto& all = drawn(type_);
    const CardWords words(Language::english);
    const auto& o = *type_.worst().opening;
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
  void members() {
    if (type_.members.size() < 2) return;
    Table t;
    t.head = {"member", "qty", "size", "decided by", "ratio", "state"};
    t.shares = {1, 0.4, 1.3, 3.6, 0.6, 1.2};
    t.compact = true;
    for (const auto& m : type_.members)
      t.rows.push_back({strong_cell(m.opening->mark), {fmt::format("{}", m.quantity)}, {size_of(*m.opening)}, {m.result->why}, ratio_cell(m.result->ratio, m.result->state == State::holds || m.result->state == State::short_, false), state_cell(m.result->state)});
    d_.add(t);
  }

  const Type& type_;
  Workings workings_;
};

}  // namespace

void add_leaf(const PackagePart& part, const Type& type, Workings workings) { Leaf(part, type, std::move(workings)).run(); }

}  // namespace jambcheck::papers
