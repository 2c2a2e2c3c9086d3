#include "papers/takeoff_paper.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

#include "papers/bags.h"
#include "papers/schedule.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/unit.h"

namespace jambcheck::papers {
namespace {

using document::Document;
using document::Heading;
using document::Paragraph;
using document::Style;

std::string phase_name(const std::string& phase) { return phase.empty() ? "no phase named" : phase; }
std::string number(double x, int digits = 6) { return std::isnan(x) ? "--" : text::rounded(x, digits); }
std::string money(double x) { return std::isnan(x) ? "--" : fmt::format("{:.2f}", x); }
document::Cell plain(const std::string& text) { return {text}; }
document::Cell strong(const std::string& text) { return {text, document::Sign::none, document::kNoRatio, "", true}; }

std::string with_coating(const Use& use) { return use.item + (use.coating.empty() ? "" : ", " + use.coating); }

std::string share(double x, bool given) { return given ? text::rounded(x * 100) + " %" : "not given"; }

/// A table told column by column: head, share of the width, and what stands there in a row.
template <class Row>
class TableOf {
 public:
  using Say = std::function<document::Cell(const Row&)>;
  void column(const char* head, double wide, Say cell, bool shown = true) {
    if (!shown) return;
    t_.head.emplace_back(head);
    t_.shares.push_back(wide);
    cells_.push_back(std::move(cell));
  }
  void add(const Row& row) {
    auto& cells = t_.rows.emplace_back();
    for (const Say& cell : cells_) cells.push_back(cell(row));
  }
  document::Table& table() { return t_; }

 private:
  document::Table t_;
  std::vector<Say> cells_;
};

class Maker {
 public:
  Maker(const opening::Project& project, const Takeoff& t, document::Paper paper) : t_(t), d_(blank(project, "take-off of fasteners", paper)) {}

  Document run(const std::vector<Alternate>& alternates) {
    intro();
    pieces();
    used_up();
    bags();
    phases();
    if (!alternates.empty()) add_alternates(alternates);
    uncounted();
    return std::move(d_);
  }

 private:
  void intro() {
    d_.add(Heading{1, "Take-off of fasteners", "takeoff"});
    d_.add(Paragraph{fmt::format("Counted from the holes of each opening. Added for drilling loss: {}; for spares: {}. Rounded up once, to whole packs where the price list names the pack, {}.", share(t_.loss, t_.loss_given),
                                 share(t_.spares, t_.spares_given), t_.by_phase ? "for each item of a phase" : "for each item of the project"),
                     Style::plain});
    if (!t_.loss_given || !t_.spares_given)
      d_.add(Paragraph{"Nothing is rounded up to buy while an allowance is not given. Write  allowances: {drilling_loss: 0 %, spares: 0 %}  where none is wanted.", Style::strong});
    d_.add(Paragraph{"\"Not settled\" counts those of openings that do not hold as they are: buy them when the answer is there.", Style::small});
  }

  static std::string net_text(const Line& l, const std::string& unit) {
    const std::string all = number(l.net) + unit;
    return l.open == 0 ? all : fmt::format("{}; {} not settled", all, number(l.open));
  }

  void pieces() {
    d_.add(Heading{2, "By item: what to buy", "items"});
    TableOf<Line> m;
    m.column("item", 2.1, [](const Line& l) { return strong(with_coating(l.what) + (l.what.data.empty() ? "" : " *")); });
    m.column("phase", 0.9, [](const Line& l) { return plain(phase_name(l.phase)); }, t_.by_phase);
    m.column("strength by", 1.15, [](const Line& l) { return plain(l.what.data.empty() ? l.what.strength : l.what.data); });
    m.column("net", 0.95, [](const Line& l) { return plain(net_text(l, "")); });
    m.column("+ loss", 0.65, [this](const Line& l) { return plain(t_.loss_given ? number(l.loss) : "--"); });
    m.column("+ spares", 0.85, [this](const Line& l) { return plain(t_.spares_given ? number(l.spares) : "--"); });
    m.column("pack", 0.65, [](const Line& l) { return plain(number(l.supply.pack)); });
    m.column("packs", 0.7, [](const Line& l) { return plain(number(l.packs)); });
    m.column("to buy", 0.7, [](const Line& l) { return strong(number(l.buy)); });
    m.column("left over", 0.65, [](const Line& l) { return plain(number(l.left_over)); });
    m.column("price", 0.75, [](const Line& l) { return plain(money(l.supply.price)); }, t_.priced);
    m.column("cost", 0.85, [](const Line& l) { return plain(money(l.cost)); }, t_.priced);
    m.column("supplied as", 1, [](const Line&) { return plain(""); });
    m.column("for openings", 1.5, [](const Line& l) { return plain(join_some(l.marks)); });
    m.table().say = "what to buy";
    std::vector<std::string> data;
    double sum = 0;
    bool all_priced = true;
    for (const auto& l : t_.lines) {
      if (!in_pieces(l.what.good)) continue;
      m.add(l);
      all_priced = all_priced && !std::isnan(l.cost);
      sum += std::isnan(l.cost) ? 0 : l.cost;
      if (!l.what.data.empty() && std::find(data.begin(), data.end(), l.what.data) == data.end()) data.push_back(l.what.data);
    }
    d_.add(m.table());
    if (t_.priced) d_.add(Paragraph{fmt::format("Sum of the costs above: {:.2f}{}", sum, all_priced ? "." : "; items without a price are not in it."), Style::plain});
    if (!data.empty()) d_.add(Paragraph{"* Its strength comes from the data of " + text::join(data) + ". Another make is another calculation: change the project and run again, never swap in silence.", Style::small});
  }
  /// Bits, adhesive, vacuum bags, days of the puller.
  void used_up() {
    TableOf<Line> m;
    m.column("what", 1.6, [](const Line& l) { return strong(l.what.item); });
    m.column("phase", 0.9, [](const Line& l) { return plain(phase_name(l.phase)); }, t_.by_phase);
    m.column("for", 1.7, [](const Line& l) { return plain(what_for(l)); });
    m.column("one does", 1, [](const Line& l) { return plain(l.what.good == Good::adhesive ? volume(l.supply.content) : number(l.supply.lasts)); });
    m.column("to buy", 0.7, [](const Line& l) { return strong(number(l.buy)); });
    m.column("packs", 0.8, [](const Line& l) { return plain(std::isnan(l.packs) ? "--" : fmt::format("{} of {}", number(l.packs), number(l.supply.pack))); });
    m.column("cost", 0.8, [](const Line& l) { return plain(money(l.cost)); }, t_.priced);
    m.column("not counted because", 2, [](const Line& l) { return plain(l.why_not); });
    m.column("for openings", 1.6, [](const Line& l) { return plain(join_some(l.marks)); });
    m.table().say = "what is used up";
    for (const auto& l : t_.lines)
      if (!in_pieces(l.what.good)) m.add(l);
    if (m.table().rows.empty()) return;
    d_.add(Heading{2, "What the holes use up", "used"});
    if (t_.waste_given) d_.add(Paragraph{fmt::format("Adhesive: the hole less the anchor, with {} lost in drilling and {} in nozzles.", share(t_.loss, t_.loss_given), share(t_.waste, true)), Style::small});
    d_.add(m.table());
  }
  static std::string what_for(const Line& l) {
    if (l.what.good == Good::adhesive) return volume(l.net);
    return net_text(l, l.what.good == Good::puller_day ? " anchors to pull" : " holes");
  }
  static std::string volume(double cubic_inches) {
    const auto ml = units::parse_unit("mL");
    return std::isnan(cubic_inches) || !ml ? "--" : fmt::format("{} mL ({} in3)", text::rounded(ml->from_canonical(cubic_inches), 3), text::rounded(cubic_inches, 3));
  }

  void bags() {
    d_.add(Heading{2, "By opening: what to bag", "bags"});
    TableOf<Bag> m;
    m.column("opening", 1.2, [](const Bag& b) { return plain(b.first->mark); });
    m.column("type", 0.6, [](const Bag& b) { return plain(b.first->type); });
    m.column("phase", 0.9, [](const Bag& b) { return plain(b.first->phase); });
    m.column("item", 2.2, [](const Bag& b) { return plain(with_coating(*b.first)); });
    m.column("count", 0.7, [](const Bag& b) { return plain(number(b.net)); });
    m.column("parts", 2.6, [](const Bag& b) { return plain(b.parts); });
    for (const Bag& b : bags_of(t_)) m.add(b);
    d_.add(m.table());
  }
  void phases() {
    d_.add(Heading{2, "By phase and floor: what to send", "phases"});
    TableOf<Load> m;
    m.column("phase", 1.4, [](const Load& l) { return plain(phase_name(l.phase)); });
    m.column("floor", 1, [](const Load& l) { return plain(l.floor); });
    m.column("item", 3, [](const Load& l) { return plain(l.item); });
    m.column("net", 0.8, [](const Load& l) { return plain(number(l.net)); });
    for (const Load& l : loads_of(t_)) m.add(l);
    d_.add(m.table());
  }

  void add_alternates(const std::vector<Alternate>& alternates) {
    d_.add(Heading{2, "Alternates: what would hold in the same holes", "alternates"});
    d_.add(Paragraph{"Next to the fastener that the project names, by kind, diameter and length; the layout stays. Each holds at every opening of its type by the same checks. A swap is a change of the project and a new run.", Style::small});
    TableOf<Alternate> m;
    m.column("type", 0.6, [](const Alternate& a) { return plain(a.type); });
    m.column("part", 0.9, [](const Alternate& a) { return plain(a.part); });
    m.column("now", 1.7, [](const Alternate& a) { return plain(a.now); });
    m.column("instead", 1.9, [](const Alternate& a) { return strong(a.item); });
    m.column("count", 0.8, [](const Alternate& a) { return plain(number(a.count)); });
    m.column("length", 0.9, [](const Alternate& a) { return plain(std::isnan(a.length) ? "--" : on_tape_short(a.length, false)); });
    m.column("ratio", 0.9, [](const Alternate& a) { return document::Cell{std::isnan(a.ratio) ? "--" : fmt::format("{:.2f}", a.ratio), document::Sign::none, a.ratio}; });
    m.column("note", 1.8, [](const Alternate& a) { return plain(a.note); });
    for (const Alternate& a : alternates) m.add(a);
    d_.add(m.table());
  }
  void uncounted() {
    if (t_.uncounted.empty()) return;
    d_.add(Heading{2, "Not counted", "uncounted"});
    d_.add(document::List{t_.uncounted, false});
  }

  const Takeoff& t_;
  Document d_;
};

}  // namespace

Document takeoff_paper(const opening::Project& project, const Takeoff& takeoff, const std::vector<Alternate>& alternates, document::Paper paper) { return Maker(project, takeoff, paper).run(alternates); }

}  // namespace jambcheck::papers
