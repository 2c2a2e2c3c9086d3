// Windlocks: closed forms of the parabola, the limits, and that nothing jumps.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "mechanics/windlock.h"

namespace jambcheck::mechanics {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// 12 ft, 20 psf, half an inch of travel: limp, no stretch, rigid jambs.
WindlockCurtain twelve_feet() {
  WindlockCurtain c;
  c.pressure = 20.0 / 144;
  c.width = 144;
  c.gap = 0.5;
  return c;
}

WindlockResult ok(const WindlockCurtain& c) {
  const auto r = solve_windlock(c);
  EXPECT_EQ(r.status, Status::ok);
  EXPECT_LT(r.residual, 1e-9);
  return r;
}

TEST(Windlock, RigidJambClosedForm) {
  const auto c = twelve_feet();
  const auto r = ok(c);
  EXPECT_NEAR(r.sag, std::sqrt(3 * c.width * c.gap / 4), 1e-12);
  EXPECT_NEAR(r.pull, c.pressure * std::pow(c.width, 1.5) / (8 * std::sqrt(0.75 * c.gap)), 1e-12);
  EXPECT_NEAR(r.pull * 12, 587.8775, 1e-4);
}

TEST(Windlock, TwiceTheGapPullsLessByRootTwo) {
  auto c = twelve_feet();
  const double tight = ok(c).pull;
  c.gap *= 2;
  EXPECT_NEAR(tight / ok(c).pull, std::sqrt(2), 1e-12);
}

TEST(Windlock, StretchAloneClosedForm) {
  // No gap, rigid jambs, limp: 8 f^2 / (3 W) = p W^3 / (8 f EA).
  auto c = twelve_feet();
  c.gap = 0;
  c.axial = 6000;
  EXPECT_NEAR(ok(c).sag, std::cbrt(3 * c.pressure * std::pow(c.width, 4) / (64 * c.axial)), 1e-10);
}

TEST(Windlock, GiveAlwaysLowersThePull) {
  const double rigid = ok(twelve_feet()).pull;
  double last = rigid;
  for (double k = 1e4; k > 1e-4; k /= 3) {
    auto c = twelve_feet();
    c.jamb = k;
    const double pull = ok(c).pull;
    EXPECT_LT(pull, last);
    last = pull;
  }
  EXPECT_LT(last, 0.05 * rigid);
}

TEST(Windlock, NoPullWhereTheJambGivesWithoutEnd) {
  auto c = twelve_feet();
  c.jamb = 0;
  c.bending = 1e5;
  const auto r = ok(c);
  EXPECT_EQ(r.pull, 0);
  EXPECT_NEAR(r.sag, 5 * c.pressure * std::pow(c.width, 4) / (384 * c.bending), 1e-9);
  c.bending = 0;
  EXPECT_TRUE(std::isinf(solve_windlock(c).sag));
}

TEST(Windlock, StraightCurtainOnRigidJambsIsRefused) {
  auto c = twelve_feet();
  c.gap = 0;
  const auto r = solve_windlock(c);
  EXPECT_EQ(r.status, Status::no_equilibrium);
  EXPECT_EQ(r.pull, 0);
}

TEST(Windlock, NoPressureNoPull) {
  auto c = twelve_feet();
  c.pressure = 0;
  EXPECT_EQ(ok(c).pull, 0);
  EXPECT_EQ(ok(c).sag, 0);
}

TEST(Windlock, StiffCurtainDoesNotReachItsLocks) {
  auto c = twelve_feet();
  const double free_sag = std::sqrt(3 * c.width * c.gap / 4);
  c.bending = 5 * c.pressure * std::pow(c.width, 4) / (384 * free_sag);  // bends just to the gap
  EXPECT_NEAR(ok(c).pull, 0, 1e-9);
  c.bending *= 0.999;
  const double little = ok(c).pull;
  EXPECT_GT(little, 0);
  EXPECT_LT(little, 0.05);  // one thousandth of what the curtain carries by itself
  c.bending *= 2;
  EXPECT_EQ(ok(c).pull, 0);
}

TEST(Windlock, PullGrowsWithThePressureButSlowerWhereThingsGive) {
  auto c = twelve_feet();
  c.jamb = 200.0 / 12;
  const double full = ok(c).pull;
  c.pressure *= 0.6;
  const double part = ok(c).pull;
  EXPECT_GT(part, 0.6 * full);
  EXPECT_LT(part, full);
}

TEST(Windlock, BadNumbersHaveAStatus) {
  auto c = twelve_feet();
  c.gap = kNone;
  EXPECT_EQ(solve_windlock(c).status, Status::not_finite);
  c = twelve_feet();
  c.width = 0;
  EXPECT_EQ(solve_windlock(c).status, Status::wrong_size);
  c = twelve_feet();
  c.jamb = -1;
  EXPECT_EQ(solve_windlock(c).status, Status::wrong_size);
}

}  // namespace
}  // namespace jambcheck::mechanics
