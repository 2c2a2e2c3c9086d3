#include "verdict/drills.h"

#include <algorithm>
#include <cmath>

#include "verdict/demand.h"
#include "verdict/stock.h"

namespace jambcheck::verdict {
namespace {

constexpr double kSame = 1e-9;  // in

/// The largest bit of the stock that is not above `most`; NaN when that is below `least`.
double stock_bit(const std::vector<double>& stock, double least, double most) {
  double bit = kNotKnown;
  for (const double d : stock)
    if (d <= most + kSame) bit = d;
  return std::isnan(bit) || bit < least - kSame ? kNotKnown : bit;
}

class DrillFinder {
 public:
  DrillFinder(const rules::RuleSet& set, rules::PlanCache& plans, const Connection& link) : values_(merged(link, link.cases.front())), stock_(stock_drills(set)) {
    known_ = key_values(set, plans, values_,
                        {"anchor.hole_diameter", "anchor.hole_depth", "anchor.torque", "lead_hole.thread_diameter_least", "lead_hole.thread_diameter_most",
                         "lead_hole.shank_diameter", "lead_hole.shank_depth", "lead_hole.depth", "through_hole.least", "through_hole.most"});
  }

  Drill find() {
    out_.torque = at("anchor.torque");
    if (is_cast_in()) out_.say = "cast in with the concrete or grout, not drilled";
    else if (word("base.material") == "concrete" || word("base.material") == "masonry") anchor();
    else if (!std::isnan(at("lead_hole.thread_diameter_most"))) lead_hole();
    else if (!std::isnan(at("through_hole.most"))) through();
    else if (word("fastener.kind") == "tapping_screw") tapping();
    else out_.say = "no rule here gives the hole for this fastening; see the fastener's own sheet";
    return std::move(out_);
  }

 private:
  double at(const char* key) const { return known_.find(key)->second; }
  std::string word(const char* key) const { return values_.word(key); }
  bool is_cast_in() const { return word("fastener.kind") == "headed_bolt" || word("fastener.kind") == "hooked_bolt"; }
  void anchor() {
    if (std::isnan(at("anchor.hole_diameter"))) {
      out_.say = "bit and depth stand on the anchor's own sheet; its data are not given";
      return;
    }
    out_.bits.push_back({"anchor", at("anchor.hole_diameter"), kNotKnown, kNotKnown, at("anchor.hole_depth")});
    out_.say = "bit and depth as the anchor's data say";
  }
  void lead_hole() {
    const double least = std::isnan(at("lead_hole.thread_diameter_least")) ? 0 : at("lead_hole.thread_diameter_least");
    const double most = at("lead_hole.thread_diameter_most"), shank = at("lead_hole.shank_diameter");
    out_.from_head = true;
    out_.bits.push_back({"thread", stock_bit(stock_, least, most), least, most, at("lead_hole.depth")});
    if (!std::isnan(shank)) out_.bits.push_back({"shank", stock_bit(stock_, 0, shank), 0, shank, at("lead_hole.shank_depth")});
  }
  void through() {
    out_.bits.push_back({"through", stock_bit(stock_, at("through_hole.least"), at("through_hole.most")), at("through_hole.least"), at("through_hole.most"), kNotKnown});
  }
  void tapping() {
    const std::string point = word("fastener.drill_point");
    if (point.empty()) out_.say = "whether the screw drills its own hole is not said (drill_point)";
    else if (point == "none") out_.say = "the hole for a screw without drill point stands on the screw's own sheet";
    else out_.say = "self-drilling: no hole first";
  }

  rules::Case values_;
  std::vector<double> stock_;
  KeyValues known_;
  Drill out_;
};

}  // namespace

Drill drill_for(const rules::RuleSet& set, rules::PlanCache& plans, const Connection& link) { return DrillFinder(set, plans, link).find(); }

}  // namespace jambcheck::verdict
