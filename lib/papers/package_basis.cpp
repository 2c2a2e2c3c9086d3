// Section 2: what the answers rest on, and what was assumed.
#include <algorithm>
#include <set>

#include "papers/package_parts.h"
#include "papers/schedule.h"
#include "text/number.h"

namespace jambcheck::papers {
namespace {

using document::Heading;
using document::List;
using document::Paragraph;
using document::Style;
using document::Table;

constexpr const char* kChecked[] = {"each fastener of guides and brackets in each load case", "the metal of guide and bracket at the fasteners", "a board (buck) under the hardware and its own fastening",
                                    "edge, end and spacing of the holes", "depth that holds"};
constexpr const char* kNotChecked[] = {"the jamb, header and wall as members of the building", "the door itself: curtain, slats, barrel, springs, brackets beyond their fasteners", "fire rating and operation",
                                       "impact of wind-borne debris", "welds, and anything hidden in the wall"};

class Basis : private PackagePart {
 public:
  explicit Basis(const PackagePart& part) : PackagePart(part) {}
  void run() {
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

 private:
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
};

}  // namespace

void add_basis(const PackagePart& part) { Basis(part).run(); }

}  // namespace jambcheck::papers
