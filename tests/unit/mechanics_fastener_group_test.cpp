// In-plane elastic group: hand statics and recomputed textbook examples.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "mechanics/fastener_group.h"

namespace jambcheck::mechanics {
namespace {

std::vector<Shear> solve(const std::vector<Point>& at, const InPlaneLoad& load, Status wanted = Status::ok) {
  std::vector<Shear> shear(at.size());
  EXPECT_EQ(solve_fastener_group(at, load, shear), wanted);
  return shear;
}

double largest(const std::vector<Shear>& shear) {
  double out = 0;
  for (const Shear& s : shear) out = std::max(out, s.magnitude());
  return out;
}

// Unequal places on purpose: nothing cancels by symmetry.
const std::vector<Point> kScattered = {{0.5, -3}, {2, -2.25}, {1.75, 3}, {-2, 2.5}, {-1.25, 0.375}};

TEST(FastenerGroup, ForceThroughTheCentroidIsSharedEqually) {
  for (const Shear& s : solve(kScattered, {-30, 70, 0, {}})) {
    EXPECT_NEAR(s.x, -6, 1e-12);
    EXPECT_NEAR(s.z, 14, 1e-12);
  }
}

TEST(FastenerGroup, StaticsCloseAboutAnyPoint) {
  const InPlaneLoad load{120, -450, 900, Point{7, 1.5}};
  const auto shear = solve(kScattered, load);
  double x = 0, z = 0, moment = 0;
  for (std::size_t i = 0; i < shear.size(); ++i) {
    x += shear[i].x;
    z += shear[i].z;
    moment += kScattered[i].x * shear[i].z - kScattered[i].z * shear[i].x;
  }
  EXPECT_NEAR(x, load.Fx, 1e-9);
  EXPECT_NEAR(z, load.Fz, 1e-9);
  EXPECT_NEAR(moment, load.My + load.at->x * load.Fz - load.at->z * load.Fx, 1e-9 * 5000);
}

TEST(FastenerGroup, MomentTurnsXTowardZ) {
  const auto shear = solve({{-2, 0}, {2, 0}}, {0, 0, 100, {}});
  EXPECT_NEAR(shear[1].z, 25, 1e-12);
  EXPECT_NEAR(shear[0].z, -25, 1e-12);
  EXPECT_NEAR(shear[1].angle(), std::numbers::pi / 2, 1e-12);
  EXPECT_NEAR(shear[0].angle(), -std::numbers::pi / 2, 1e-12);
}

TEST(FastenerGroup, ForceAwayFromTheCentroidEqualsForceAndMoment) {
  const auto moved = solve({{-2, -3}, {2, -3}, {2, 3}, {-2, 3}}, {0, -100, 0, Point{5, 0}});
  const auto couple = solve({{-2, -3}, {2, -3}, {2, 3}, {-2, 3}}, {0, -100, -500, {}});
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR(moved[i].x, couple[i].x, 1e-12);
    EXPECT_NEAR(moved[i].z, couple[i].z, 1e-12);
  }
}

// Source: Design of Machine Elements (companion examples), Example 7.3, seen: recomputed. 10 kN at 500 mm, bolts 200 x
// 150 mm.
TEST(FastenerGroup, FourBoltsExample73) {
  const auto shear = solve({{-100, -75}, {100, -75}, {100, 75}, {-100, 75}}, {0, -10000, 0, Point{500, 0}});
  EXPECT_NEAR(largest(shear), 12093.39, 0.005);
}

// Source: the same, Example 7.4, seen: recomputed. 5 kN at 305 mm, three bolts in line at 75 mm.
TEST(FastenerGroup, ThreeBoltsInLineExample74) {
  const auto shear = solve({{0, -75}, {0, 0}, {0, 75}}, {5000, 0, 5000.0 * 305, {}});
  // The middle bolt sees no moment, the upper one force against moment, the lower one the sum.
  EXPECT_NEAR(largest(shear), 5000.0 / 3 + 5000.0 * 305 / 150, 1e-9);
  EXPECT_NEAR(largest(shear), 11833.33, 0.01);
}

// Source: Mechanical Engineering Design, Example 8-7, seen: memory (21.0, 14.8 kN to three figures).
TEST(FastenerGroup, FourBoltsExample87) {
  const auto shear = solve({{-75, -60}, {75, -60}, {75, 60}, {-75, 60}}, {0, -16, 0, Point{425, 0}});
  EXPECT_NEAR(shear[1].magnitude(), 21.0, 0.06);
  EXPECT_NEAR(shear[0].magnitude(), 14.8, 0.06);
}

TEST(FastenerGroup, DoubledLoadDoublesShear) {
  const auto one = solve(kScattered, {12, 34, 56, Point{3, 4}});
  const auto two = solve(kScattered, {24, 68, 112, Point{3, 4}});
  for (std::size_t i = 0; i < one.size(); ++i) {
    EXPECT_NEAR(two[i].x, 2 * one[i].x, 1e-10);
    EXPECT_NEAR(two[i].z, 2 * one[i].z, 1e-10);
  }
}

TEST(FastenerGroup, MirroredGroupGivesMirroredShear) {
  std::vector<Point> mirror = kScattered;
  for (Point& p : mirror) p.x = -p.x;
  const auto here = solve(kScattered, {12, 34, 56, Point{3, 4}});
  const auto there = solve(mirror, {-12, 34, -56, Point{-3, 4}});
  for (std::size_t i = 0; i < here.size(); ++i) {
    EXPECT_NEAR(there[i].x, -here[i].x, 1e-10);
    EXPECT_NEAR(there[i].z, here[i].z, 1e-10);
  }
}

TEST(FastenerGroup, OneFastenerCarriesForceButNoMoment) {
  const auto shear = solve({{7.3, -1.1}}, {3, 4, 0, Point{7.3, -1.1}});
  EXPECT_DOUBLE_EQ(shear[0].magnitude(), 5);
  for (const Shear& s : solve({{7.3, -1.1}}, {3, 4, 1, {}}, Status::no_lever)) EXPECT_EQ(s.magnitude(), 0);
  solve({{7.3, -1.1}}, {3, 4, 0, Point{7.4, -1.1}}, Status::no_lever);
  solve({{1, 1}, {1, 1}, {1, 1}}, {0, 0, 10, {}}, Status::no_lever);
}

TEST(FastenerGroup, ThreeFastenersAtOnePlaceCarryAForceThroughIt) {
  // Their mean is not exactly their place in binary: that is rounding, not a lever.
  for (const Shear& s : solve({{0.1, 0.7}, {0.1, 0.7}, {0.1, 0.7}}, {30, 60, 0, Point{0.1, 0.7}})) {
    EXPECT_NEAR(s.x, 10, 1e-12);
    EXPECT_NEAR(s.z, 20, 1e-12);
  }
}

TEST(FastenerGroup, BadCallsAreNamed) {
  std::array<Shear, 1> one;
  EXPECT_EQ(solve_fastener_group({}, {1, 0, 0, {}}, {}), Status::no_fastener);
  const std::array<Point, 2> two = {Point{0, 0}, Point{1, 0}};
  EXPECT_EQ(solve_fastener_group(two, {1, 0, 0, {}}, one), Status::wrong_size);
  solve({{0, 0}, {1, 0}}, {std::numeric_limits<double>::quiet_NaN(), 0, 0, {}}, Status::not_finite);
  solve({{0, 0}, {std::numeric_limits<double>::infinity(), 0}}, {1, 0, 0, {}}, Status::not_finite);
}

}  // namespace
}  // namespace jambcheck::mechanics
