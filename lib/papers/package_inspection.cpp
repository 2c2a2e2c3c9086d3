// Section 5: what is inspected, and what the work is held against.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/hole_table.h"
#include "papers/leaf.h"
#include "papers/package_parts.h"
#include "papers/schedule.h"
#include "text/suggest.h"

namespace jambcheck::papers {
namespace {

using document::Cell;
using document::Heading;
using document::Paragraph;
using document::Style;
using document::Table;

class Inspection : private PackagePart {
 public:
  explicit Inspection(const PackagePart& part) : PackagePart(part) {}
  void run() {
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

 private:
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
};

}  // namespace

void add_inspection(const PackagePart& part) { Inspection(part).run(); }

}  // namespace jambcheck::papers
