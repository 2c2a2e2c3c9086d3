// Concrete: what must hold for any group of anchors, whatever the numbers.
#include <gtest/gtest.h>

#include <cmath>

#include <fmt/format.h>

#include "support/rule_values.h"

namespace jambcheck {
namespace {

using test::between;
using test::in;
using test::lbf;
using test::psi;
using test::Random;
using test::Texts;
using test::value;

/// `n` headed bolts above one another, all pulled alike.
Texts line_of(int n, double spacing, double edge, double depth, double strength) {
  Texts t = {{"base.material", "concrete"},   {"fastener.kind", "headed_bolt"},      {"basis.method", "LRFD"},          {"basis.concrete", "aci318-19"},
             {"connection.part", "bracket"},  {"connection.mount", "face"},          {"load.duration", "wind"},         {"concrete.weight", "normal"},
             {"concrete.cracked", "yes"},     {"concrete.strength", psi(strength)},  {"fastener.diameter", "0.5 in"},   {"fastener.grade", "A307"},
             {"fastener.embedment", in(depth)}, {"hole.index", "1"},                 {"hole.count", fmt::format("{}", n)}, {"edge.loaded", in(edge)},
             {"edge.other", "200 in"},        {"end.distance", "200 in"},            {"member.depth", "60 in"},         {"demand.tension", lbf(500)},
             {"demand.shear", lbf(0)},        {"demand.shear_across", lbf(0)},       {"demand.shear_along", lbf(0)}};
  for (int i = 1; i <= n; ++i) {
    const std::string hole = fmt::format("bracket.hole.{}.", i);
    t[hole + "x"] = "0 in";
    t[hole + "z"] = in((i - 1) * spacing);
    t[hole + "T"] = lbf(500);
    t[hole + "V_across"] = t[hole + "V_along"] = lbf(0);
  }
  return t;
}

TEST(Concrete, AnotherAnchorNeverMakesTheGroupWeakerThanOneAlone) {
  Random random(5);
  for (int n = 0; n < 200; ++n) {
    const double edge = between(random, 2, 12), depth = between(random, 3, 8), strength = between(random, 2500, 8000), spacing = between(random, 2, 30);
    const double alone = value("concrete.tension.breakout", "N_cb", line_of(1, spacing, edge, depth, strength));
    double before = alone;
    for (int count = 2; count <= 5; ++count) {
      const double group = value("concrete.tension.breakout", "N_cb", line_of(count, spacing, edge, depth, strength));
      EXPECT_GE(group, alone * (1 - 1e-9)) << count << " at " << spacing << " in, edge " << edge;
      EXPECT_LE(group, count * alone * (1 + 1e-9));
      if (spacing < 3 * depth) {  // they act together
        EXPECT_GE(group, before * (1 - 1e-9));
      }
      before = group;
    }
  }
}

TEST(Concrete, NearerToTheEdgeNeverStronger) {
  Random random(6);
  for (int n = 0; n < 300; ++n) {
    const double depth = between(random, 3, 8), strength = between(random, 2500, 8000), spacing = between(random, 2, 20), edge = between(random, 3, 14);
    const double far = value("concrete.tension.breakout", "N_cb", line_of(3, spacing, edge, depth, strength));
    const double near = value("concrete.tension.breakout", "N_cb", line_of(3, spacing, edge * between(random, 0.5, 1), depth, strength));
    EXPECT_LE(near, far * (1 + 1e-9)) << edge;
  }
}

/// The metric edition prints 10 where the inch edition prints 24: in one set of units they differ by 0.4 %, and both stay
/// within the 3.5 % that all pairs of coefficients stay within.
TEST(Concrete, MetricEditionIsWithinItsKnownDifference) {
  const double inch = value("concrete.tension.breakout", "N_b", line_of(1, 6, 40, 5, 3000));
  const double f_MPa = 3000 * 0.00689475729316836, h_mm = 5 * 25.4;
  const double metric = 10 * std::sqrt(f_MPa) * std::pow(h_mm, 1.5) / 4.4482216152605;
  EXPECT_NEAR(metric / inch, 1, 0.005);
}

}  // namespace
}  // namespace jambcheck
