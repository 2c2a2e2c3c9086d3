// Worse never helps: on every check of the demo projects, a good thing taken away bit by bit never makes the check easier.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "rules/evaluation.h"
#include "support/shipped.h"

namespace jambcheck {
namespace {

using verdict::CheckResult;

/// Quantities of which less is never better for a fastening.
const std::vector<std::string> kGood = {"edge.loaded",         "edge.other",           "end.distance",        "spacing.along_grain",     "spacing.across_grain",
                                        "side.edge_distance",  "member.thickness",     "member.depth",        "member.specific_gravity", "member.tensile_strength",
                                        "member.yield_strength", "side.tensile_strength", "side.yield_strength", "fastener.head_diameter",  "fastener.embedment",
                                        "concrete.strength",   "masonry.strength",     "masonry.unit_strength", 
                                        "anchor.N_p_cr",       "anchor.N_p_uncr",      "anchor.tau_cr",       "anchor.V_sa",             "anchor.masonry_T",
                                        "anchor.masonry_V_toward", "anchor.masonry_V_along", "member.width",     "masonry.joint_distance",  "masonry.grout_distance"};
/// And of which more is never better.
const std::vector<std::string> kBad = {"wind.given", "wind.speed", "door.weight", "door.width", "side.gap", "door.windlock_pull", "service.temperature", "guide.lever_lip", "door.axle_projection"};

/// Where a clause itself breaks the rule: rule and key, with the reason.
const std::set<std::pair<std::string, std::string>> kExceptions = {
    {"wood.lag_screw.lateral", "spacing.along_grain"},   // nds-2018 11.3.6: screws that stand nearer share their load more evenly
    {"wood.lag_screw.combined", "spacing.along_grain"},  // the same
    {"wood.lag_screw.edge_any", "spacing.across_grain"},  // nds-2018 table 12.5.1C: the edge is asked to be half the distance of the rows
    {"wood.lag_screw.edge_loaded", "edge.loaded"},        // nearer to one edge is farther from the other, and some loads push that way
    {"wood.lag_screw.edge_loaded", "spacing.across_grain"},  // the same of the farther fasteners
    {"wood.lag_screw.spacing_along", "member.depth"},     // nds-2018 table 12.5.1D: a stockier screw may stand nearer
    {"steel.screw.edge", "spacing.across_grain"},         // likewise in steel
    {"steel.bolt.edge", "spacing.across_grain"},
    {"steel.screw.drill_reach", "member.depth"},          // thinner steel is easier to drill
    {"steel.screw.thread_through", "member.depth"},       // and easier to reach through
    {"wood.member.cross_shear", "member.width"},          // nds-2018 3.4.3.3: what counts is the wood beside the fastener as a part of the whole width
    {"concrete.shear.pryout", "fastener.embedment"},      // aci318-19 17.5.1.3: shallower anchors of a group come to act alone
    {"concrete.shear.pryout_bond", "fastener.embedment"},
    {"masonry.flags.adhesive", "door.width"},             // a heavier door presses the fastener on that a lighter one pulls for good
    {"anchor.reach", "fastener.embedment"},               // a shallower anchor is longer than it needs to be
    {"steel.bolt.length", "member.depth"},                // a bolt reaches through thinner steel more easily
    {"wood.board.screw_length", "member.depth"},
    {"wood.side_plate.hole", "door.width"},               // a fastener that is pressed on, no longer pulled, needs no washer
};

class Monotone : public Shipped {
 protected:
  static rules::Judgement judged(rules::PlanCache& plans, const CheckResult& check, const rules::Case& values) {
    const rules::Evaluation run(plans.get(rules::request_for(set(), values, {check.rule})), values);
    const auto* point = run.plan().check_of(*check.rule);
    return point ? run.judge(*point) : rules::Judgement{};
  }
  /// One check, one key, ever smaller (or larger): ratios must not fall, states must not improve.
  static void walk(rules::PlanCache& plans, const CheckResult& check, const std::string& key, double factor) {
    const auto* given = check.values->find(key);
    if (!given || given->unknown || given->is_word || std::isnan(given->value)) return;
    if (kExceptions.count({check.rule->id, key}) != 0) return;
    rules::Case values = *check.values;
    auto before = judged(plans, check, values);
    for (int step = 0; step < 6; ++step) {
      values.find(key)->value *= factor;
      const auto now = judged(plans, check, values);
      const std::string where = check.address + " (" + check.rule->id + "), " + key + " " + std::to_string(values.find(key)->value);
      EXPECT_GE(now.state, before.state) << where << ": " << before.ratio << " -> " << now.ratio;
      const bool gate = check.rule->check->kind == rules::CheckKind::gate;  // its number is no share of a strength
      if (!gate && !std::isnan(now.ratio) && !std::isnan(before.ratio)) {
        EXPECT_GE(now.ratio, before.ratio * (1 - 1e-9) - 1e-12) << where;
      }
      before = now;
    }
  }
  static void walk_all(const std::string& project) {
    rules::PlanCache plans(set());
    for (const auto& opening : check(read(project)))
      for (const auto& connection : opening.connections)
        for (const auto& c : connection.checks) {
          for (const auto& key : kGood) walk(plans, c, key, 0.93);
          for (const auto& key : kBad) walk(plans, c, key, 1.07);
        }
  }
};

TEST_F(Monotone, LessOfAGoodThingNeverHelps) { walk_all("cases/boat_lockers/project.yaml"); }

}  // namespace
}  // namespace jambcheck
