#include "papers/takeoff_paper.h"

#include <algorithm>
#include <cmath>

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
document::Cell strong(const std::string& text) { return {text, document::Sign::none, document::kNoRatio, "", true}; }

std::string share(double x, bool given) { return given ? text::rounded(x * 100) + " %" : "not given"; }

/// A table that is put together column by column.
class TableMaker {
 public:
  void column(const char* head, double wide) {
    t_.head.emplace_back(head);
    t_.shares.push_back(wide);
  }
  document::Table& table() { return t_; }

 private:
  document::Table t_;
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

  std::string buy_text(const Line& l) const { return std::isnan(l.buy) ? "--" : number(l.buy); }
  std::string net_text(const Line& l, const std::string& unit) const {
    const std::string all = number(l.net) + unit;
    return l.open == 0 ? all : fmt::format("{}; {} not settled", all, number(l.open));
  }

  void pieces() {
    d_.add(Heading{2, "By item: what to buy", "items"});
    TableMaker m;
    m.column("item", 2.1);
    if (t_.by_phase) m.column("phase", 0.9);
    m.column("strength by", 1.15);
    m.column("net", 0.95);
    m.column("+ loss", 0.65);
    m.column("+ spares", 0.85);
    m.column("pack", 0.65);
    m.column("packs", 0.7);
    m.column("to buy", 0.7);
    m.column("left over", 0.65);
    if (t_.priced) m.column("price", 0.75);
    if (t_.priced) m.column("cost", 0.85);
    m.column("supplied as", 1);
    m.column("for openings", 1.5);
    m.table().say = "what to buy";
    std::vector<std::string> data;
    double sum = 0;
    bool all_priced = true;
    for (const auto& l : t_.lines) {
      if (!in_pieces(l.what.good)) continue;
      m.table().rows.push_back(piece_row(l));
      all_priced = all_priced && !std::isnan(l.cost);
      sum += std::isnan(l.cost) ? 0 : l.cost;
      if (!l.what.data.empty() && std::find(data.begin(), data.end(), l.what.data) == data.end()) data.push_back(l.what.data);
    }
    d_.add(m.table());
    if (t_.priced) d_.add(Paragraph{fmt::format("Sum of the costs above: {:.2f}{}", sum, all_priced ? "." : "; items without a price are not in it."), Style::plain});
    if (!data.empty()) d_.add(Paragraph{"* Its strength comes from the data of " + text::join(data) + ". Another make is another calculation: change the project and run again, never swap in silence.", Style::small});
  }
  std::vector<document::Cell> piece_row(const Line& l) const {
    const auto& w = l.what;
    std::vector<document::Cell> row{strong(w.item + (w.coating.empty() ? "" : ", " + w.coating) + (w.data.empty() ? "" : " *"))};
    if (t_.by_phase) row.push_back({phase_name(l.phase)});
    row.push_back({w.data.empty() ? w.strength : w.data});
    row.push_back({net_text(l, "")});
    row.push_back({t_.loss_given ? number(l.loss) : "--"});
    row.push_back({t_.spares_given ? number(l.spares) : "--"});
    row.push_back({number(l.supply.pack)});
    row.push_back({number(l.packs)});
    row.push_back(strong(buy_text(l)));
    row.push_back({number(l.left_over)});
    if (t_.priced) row.push_back({money(l.supply.price)});
    if (t_.priced) row.push_back({money(l.cost)});
    row.push_back({""});
    row.push_back({join_some(l.marks)});
    return row;
  }

  /// Bits, adhesive, vacuum bags, days of the puller.
  void used_up() {
    TableMaker m;
    m.column("what", 1.6);
    if (t_.by_phase) m.column("phase", 0.9);
    m.column("for", 1.7);
    m.column("one does", 1);
    m.column("to buy", 0.7);
    m.column("packs", 0.8);
    if (t_.priced) m.column("cost", 0.8);
    m.column("not counted because", 2);
    m.column("for openings", 1.6);
    m.table().say = "what is used up";
    for (const auto& l : t_.lines)
      if (!in_pieces(l.what.good)) m.table().rows.push_back(used_row(l));
    if (m.table().rows.empty()) return;
    d_.add(Heading{2, "What the holes use up", "used"});
    if (t_.waste_given) d_.add(Paragraph{fmt::format("Adhesive: the hole less the anchor, with {} lost in drilling and {} in nozzles.", share(t_.loss, t_.loss_given), share(t_.waste, true)), Style::small});
    d_.add(m.table());
  }
  std::vector<document::Cell> used_row(const Line& l) const {
    const Good good = l.what.good;
    std::vector<document::Cell> row{strong(l.what.item)};
    if (t_.by_phase) row.push_back({phase_name(l.phase)});
    row.push_back({good == Good::adhesive ? volume(l.net) : net_text(l, good == Good::puller_day ? " anchors to pull" : " holes")});
    row.push_back({good == Good::adhesive ? volume(l.supply.content) : number(l.supply.lasts)});
    row.push_back(strong(buy_text(l)));
    row.push_back({std::isnan(l.packs) ? "--" : fmt::format("{} of {}", number(l.packs), number(l.supply.pack))});
    if (t_.priced) row.push_back({money(l.cost)});
    row.push_back({l.why_not});
    row.push_back({join_some(l.marks)});
    return row;
  }
  static std::string volume(double cubic_inches) {
    const auto ml = units::parse_unit("mL");
    return std::isnan(cubic_inches) || !ml ? "--" : fmt::format("{} mL ({} in3)", text::rounded(ml->from_canonical(cubic_inches), 3), text::rounded(cubic_inches, 3));
  }

  void bags() {
    d_.add(Heading{2, "By opening: what to bag", "bags"});
    TableMaker m;
    m.column("opening", 1.2);
    m.column("type", 0.6);
    m.column("phase", 0.9);
    m.column("item", 2.2);
    m.column("count", 0.7);
    m.column("parts", 2.6);
    for (const auto& b : bags_of(t_)) m.table().rows.push_back({{b.first->mark}, {b.first->type}, {b.first->phase}, {b.first->item + (b.first->coating.empty() ? "" : ", " + b.first->coating)}, {number(b.net)}, {b.parts}});
    d_.add(m.table());
  }
  void phases() {
    d_.add(Heading{2, "By phase and floor: what to send", "phases"});
    TableMaker m;
    m.column("phase", 1.4);
    m.column("floor", 1);
    m.column("item", 3);
    m.column("net", 0.8);
    for (const auto& l : loads_of(t_)) m.table().rows.push_back({{phase_name(l.phase)}, {l.floor}, {l.item}, {number(l.net)}});
    d_.add(m.table());
  }

  void add_alternates(const std::vector<Alternate>& alternates) {
    d_.add(Heading{2, "Alternates: what would hold in the same holes", "alternates"});
    d_.add(Paragraph{"Next to the fastener that the project names, by kind, diameter and length; the layout stays. Each holds at every opening of its type by the same checks. A swap is a change of the project and a new run.", Style::small});
    TableMaker m;
    m.column("type", 0.6);
    m.column("part", 0.9);
    m.column("now", 1.7);
    m.column("instead", 1.9);
    m.column("count", 0.8);
    m.column("length", 0.9);
    m.column("ratio", 0.9);
    m.column("note", 1.8);
    for (const auto& a : alternates)
      m.table().rows.push_back({{a.type}, {a.part}, {a.now}, strong(a.item), {number(a.count)}, {std::isnan(a.length) ? "--" : on_tape_short(a.length, false)},
                                {std::isnan(a.ratio) ? "--" : fmt::format("{:.2f}", a.ratio), document::Sign::none, a.ratio}, {a.note}});
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
