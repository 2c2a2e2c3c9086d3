// The lag-screw rules on random cases: inch and metric alike, and more of a good thing never weaker.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include <fmt/format.h>

#include "support/rule_values.h"

namespace jambcheck {
namespace {

using test::between;
using test::in;
using test::psi;
using test::Random;
using test::Texts;
using test::value;

Texts withdrawal(Random& random) {
  return {{"base.material", "wood"}, {"fastener.kind", "lag_screw"}, {"basis.capacity", "formula"}, {"fastener.into_grain", "side"},
          {"fastener.diameter", in(between(random, 0.25, 1.25))}, {"member.specific_gravity", fmt::format("{}", between(random, 0.31, 0.73))},
          {"fastener.thread_in_member", in(between(random, 0.5, 8))}, {"factor.load_duration", "1.6"}, {"factor.wet_service", "1"},
          {"factor.temperature", "1"}};
}

Texts lateral(Random& random, double gap) {
  return {{"base.material", "wood"}, {"fastener.kind", "lag_screw"}, {"basis.capacity", "formula"},
          {"fastener.root_diameter", in(between(random, 0.15, 1))}, {"lateral.main_bearing_length", in(between(random, 0.5, 8))},
          {"lateral.side_bearing_length", in(between(random, 0.05, 3))}, {"member.bearing_strength", psi(between(random, 1500, 9000))},
          {"side.bearing_strength", psi(between(random, 3000, 90000))}, {"fastener.bending_yield", psi(between(random, 45000, 90000))},
          {"lateral.reduction_I", "4"}, {"lateral.reduction_II", "3.6"}, {"lateral.reduction_III", "3.2"}, {"side.gap", in(gap)}};
}

/// `name` must not fall when the amounts of `keys` grow (direction +1), or must not rise (-1).
void expect_monotone(const char* rule, const char* name, Texts (*make)(Random&), const std::vector<std::string>& keys, int direction) {
  Random random(21);
  for (int n = 0; n < 150; ++n) {
    const Texts base = make(random);
    const double before = value(rule, name, base);
    for (const auto& key : keys) {
      Texts more = base;
      const auto blank = base.at(key).find(' ');
      const double amount = std::stod(base.at(key)), factor = between(random, 1, 1.25);
      more[key] = fmt::format("{}{}", amount * factor, blank == std::string::npos ? "" : base.at(key).substr(blank));
      const double after = value(rule, name, more);
      if (std::isnan(before) || std::isnan(after)) continue;  // out of a range
      EXPECT_GE(direction * (after - before), -1e-9 * std::fabs(before)) << name << " with " << key << " " << base.at(key) << " -> " << more[key];
    }
  }
}

TEST(LagScrew, MoreWoodThreadOrDensityNeverWeakensTheGrip) {
  expect_monotone("wood.lag_screw.withdrawal", "R", withdrawal, {"fastener.diameter", "member.specific_gravity", "fastener.thread_in_member"}, +1);
}

TEST(LagScrew, MoreBearingOrSteelNeverWeakensItSideways) {
  const std::vector<std::string> keys = {"fastener.root_diameter", "lateral.main_bearing_length", "lateral.side_bearing_length", "member.bearing_strength",
                                         "side.bearing_strength", "fastener.bending_yield"};
  expect_monotone("wood.lag_screw.lateral_yield", "Z", [](Random& r) { return lateral(r, 0); }, keys, +1);
  expect_monotone("wood.lag_screw.lateral_yield", "Z", [](Random& r) { return lateral(r, between(r, 0.05, 2)); }, keys, +1);
}

TEST(LagScrew, AWiderGapNeverHelps) {
  expect_monotone("wood.lag_screw.lateral_yield", "Z", [](Random& r) { return lateral(r, between(r, 0.01, 2)); }, {"side.gap"}, -1);
  Random random(3);
  for (int n = 0; n < 100; ++n) {
    Texts touching = lateral(random, 0), apart = touching;
    apart["side.gap"] = "1e-9 in";
    const double a = value("wood.lag_screw.lateral_yield", "Z", touching), b = value("wood.lag_screw.lateral_yield", "Z", apart);
    EXPECT_NEAR(a, b, 1e-6 * a);
  }
}

TEST(LagScrew, MetricGivesTheSame) {
  Random random(31);
  const auto metric = [](const Texts& inch) {
    Texts out = inch;
    for (auto& [key, text] : out) {
      if (text.ends_with(" in")) text = fmt::format("{} mm", std::stod(text) * 25.4);
      else if (text.ends_with(" psi")) text = fmt::format("{} kPa", std::stod(text) * 6.89475729316836);
    }
    return out;
  };
  for (int n = 0; n < 300; ++n) {
    const Texts w = withdrawal(random), z = lateral(random, between(random, 0, 1));
    const double a = value("wood.lag_screw.withdrawal", "R", w), b = value("wood.lag_screw.withdrawal", "R", metric(w));
    EXPECT_NEAR(a, b, 1e-12 * a);
    const double c = value("wood.lag_screw.lateral_yield", "Z", z), d = value("wood.lag_screw.lateral_yield", "Z", metric(z));
    EXPECT_NEAR(c, d, 1e-12 * c);
  }
}

}  // namespace
}  // namespace jambcheck
