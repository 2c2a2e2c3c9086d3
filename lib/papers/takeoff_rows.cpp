// The take-off as rows for spreadsheets and programs.
#include <cmath>

#include "papers/bags.h"
#include "papers/takeoff_paper.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::papers {
namespace {

std::string cell(double x, int digits = 8) { return std::isnan(x) ? std::string() : text::rounded(x, digits); }

}  // namespace

Grid item_grid(const Takeoff& t) {
  Grid g{"items",
         {{"item"}, {"kind"}, {"phase"}, {"strength_by"}, {"data"}, {"diameter_in", true}, {"length_in", true}, {"coating"}, {"net", true}, {"net_unit"}, {"drilling_loss", true}, {"spares", true}, {"waste", true},
          {"not_settled", true}, {"pack", true}, {"packs", true}, {"to_buy", true}, {"left_over", true}, {"price", true}, {"cost", true}, {"not_counted_because"}, {"supplied_as"}, {"openings"}},
         {}};
  for (const auto& l : t.lines) {
    const auto& w = l.what;
    const char* unit = in_pieces(w.good) ? "pieces" : w.good == Good::adhesive ? "in3" : w.good == Good::puller_day ? "anchors" : "holes";
    g.rows.push_back({w.item, std::string(word(w.good)), l.phase, w.strength, w.data, cell(w.diameter), cell(w.length), w.coating, cell(l.net), unit, t.loss_given ? cell(l.loss) : "",
                      t.spares_given && in_pieces(w.good) ? cell(l.spares) : "", w.good == Good::adhesive && t.waste_given ? cell(l.waste) : "", cell(l.open), cell(l.supply.pack), cell(l.packs), cell(l.buy),
                      cell(l.left_over), cell(l.supply.price), cell(l.cost), l.why_not, "", text::join(l.marks)});
  }
  return g;
}

Grid bag_grid(const Takeoff& t) {
  Grid g{"bags", {{"opening"}, {"type"}, {"phase"}, {"floor"}, {"kind"}, {"item"}, {"coating"}, {"count", true}, {"parts"}}, {}};
  for (const auto& b : bags_of(t)) g.rows.push_back({b.first->mark, b.first->type, b.first->phase, b.first->floor, std::string(word(b.first->good)), b.first->item, b.first->coating, cell(b.net), b.parts});
  return g;
}

Grid phase_grid(const Takeoff& t) {
  Grid g{"phases", {{"phase"}, {"floor"}, {"item"}, {"net", true}}, {}};
  for (const auto& l : loads_of(t)) g.rows.push_back({l.phase, l.floor, l.item, cell(l.net)});
  return g;
}

Grid alternate_grid(const std::vector<Alternate>& alternates) {
  Grid g{"alternates", {{"type"}, {"part"}, {"now"}, {"instead"}, {"count", true}, {"length_in", true}, {"ratio", true}, {"data"}, {"note"}}, {}};
  for (const auto& a : alternates) g.rows.push_back({a.type, a.part, a.now, a.item, cell(a.count), cell(a.length), cell(a.ratio, 4), a.data, a.note});
  return g;
}

Grid uncounted_grid(const Takeoff& t) {
  Grid g{"not counted", {{"not_counted"}}, {}};
  for (const auto& u : t.uncounted) g.rows.push_back({u});
  return g;
}

}  // namespace jambcheck::papers
