// Rigid plate on tension-only fasteners and a compression-only base.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "mechanics/rigid_plate.h"

namespace jambcheck::mechanics {
namespace {

const Rectangle kOutline{-3, -4, 6, 8};
const std::vector<TensionFastener> kFour = {{{-2, -3}, 150000}, {{2, -3}, 150000}, {{2, 3}, 150000}, {{-2, 3}, 150000}};

struct Solved {
  RigidPlateResult result;
  std::vector<double> T;
};

Solved solve(const RigidPlate& plate, const std::vector<TensionFastener>& fasteners, const PlateLoad& load,
             Status wanted = Status::ok) {
  Solved s;
  s.T.assign(fasteners.size(), -1);
  s.result = solve_rigid_plate(plate, fasteners, load, s.T);
  EXPECT_EQ(static_cast<int>(s.result.status), static_cast<int>(wanted));
  return s;
}

// Sums of forces and of moments about the axes' origin, over the largest force in play.
void expect_statics(const Solved& s, const std::vector<TensionFastener>& fasteners, const PlateLoad& load) {
  double N = load.N + s.result.compression;
  double Mx = load.Mx + load.N * load.at.z + s.result.compression * s.result.compression_centre.z;
  double Mz = load.Mz + load.N * load.at.x + s.result.compression * s.result.compression_centre.x;
  double size = std::max({std::abs(load.N), std::abs(Mx) / 10, std::abs(Mz) / 10, s.result.compression});
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    N -= s.T[i];
    Mx -= s.T[i] * fasteners[i].at.z;
    Mz -= s.T[i] * fasteners[i].at.x;
    size = std::max(size, s.T[i]);
    EXPECT_GE(s.T[i], 0);
  }
  EXPECT_LE(std::abs(N), 1e-9 * size);
  EXPECT_LE(std::abs(Mx), 1e-8 * size);  // levers up to 10 in
  EXPECT_LE(std::abs(Mz), 1e-8 * size);
  EXPECT_LE(s.result.residual, 1e-9);
}

// Source: own rigid unilateral solve on a fine grid beside a general-purpose finite-element solver; computed values,
// not read from any publication. Within 0.5 %.
struct Reference {
  const char* id;
  PlateLoad load;
  double base_modulus;
  std::vector<double> T;
  double compression;
};

const std::vector<Reference> kFineReferences = {
    {"p_M_x_500", {0, 4000, 0, {}}, 5e5, {0, 0, 301.32, 301.32}, 602.64},
    {"p_M_x_40", {0, 4000, 0, {}}, 4e4, {0, 0, 335.5, 335.5}, 670.99},
    {"p_N_500", {1000, 0, 0, {}}, 5e5, {250, 250, 250, 250}, 0},
    {"p_N_40", {1000, 0, 0, {}}, 4e4, {250, 250, 250, 250}, 0},
    {"p_N_Mx_My_500", {500, 3000, 1000, {}}, 5e5, {0, 85.53, 408.62, 311.61}, 305.76},
};

TEST(RigidPlate, MeetsComputedReferences) {
  for (const Reference& r : kFineReferences) {
    SCOPED_TRACE(r.id);
    const Solved s = solve({kOutline, r.base_modulus}, kFour, r.load);
    const double largest = *std::max_element(r.T.begin(), r.T.end());
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(s.T[i], r.T[i], 0.005 * (r.T[i] > 0 ? r.T[i] : largest));
    EXPECT_NEAR(s.result.compression, r.compression, 0.005 * largest);
    expect_statics(s, kFour, r.load);
  }
}

// Source: cracked-section bracket, own arithmetic: 2 + 2 fasteners of 0.11 in^2 in all per row at 2 and 8 in, plate 3 x
// 10 in, 1000 in-lbf, same modulus for fastener and base. Compressed depth 1.0732 in, upper row 63.597 lbf per
// fastener.
TEST(RigidPlate, IsTheCrackedSection) {
  // Solved here on its own: 3 y^2 / 2 = A (2 - y) + A (8 - y) about the neutral axis, A = area of a row.
  const double A = 0.22;
  const double y = (-2 * A + std::sqrt(4 * A * A + 60 * A)) / 3;
  const double I = 3 * std::pow(y, 3) / 3 + A * (std::pow(2 - y, 2) + std::pow(8 - y, 2));
  const double stiffness = 1e5;
  const std::vector<TensionFastener> rows = {{{0.5, 2}, A / 2 * stiffness},
                                             {{2.5, 2}, A / 2 * stiffness},
                                             {{0.5, 8}, A / 2 * stiffness},
                                             {{2.5, 8}, A / 2 * stiffness}};
  const Solved s = solve({{0, 0, 3, 10}, stiffness}, rows, {0, 1000, 0, {}});
  EXPECT_NEAR(s.result.compressed_area / 3, y, 1e-9);
  EXPECT_NEAR(s.T[3], A / 2 * 1000 * (8 - y) / I, 1e-7);
  EXPECT_NEAR(s.result.compressed_area / 3, 1.0732, 1e-4);
  EXPECT_NEAR(s.T[2], 63.597, 0.01);
}

TEST(RigidPlate, HardBaseTendsToAPivotOnTheEdge) {
  // Pivot on the lower edge: T = M h / sum h^2 with h = 1 and 7 in, two fasteners each.
  for (double modulus : {1e12, 1e14, 1e16}) {
    const Solved s = solve({kOutline, modulus}, kFour, {0, 4000, 0, {}});
    EXPECT_NEAR(s.T[3], 280, 300 / std::pow(modulus, 0.25));
    EXPECT_NEAR(s.T[0], 40, 300 / std::pow(modulus, 0.25));
    EXPECT_NEAR(s.result.compression_centre.z, -4, 100 / std::pow(modulus, 0.25));
  }
}

TEST(RigidPlate, DegenerateInputsHaveDefinedResults) {
  const RigidPlate plate{kOutline, 1e5};
  // No load.
  const Solved rest = solve(plate, kFour, {});
  EXPECT_EQ(rest.T, std::vector<double>(4, 0.0));
  EXPECT_EQ(rest.result.compression, 0);
  // Pushed only.
  const Solved pushed = solve(plate, kFour, {-1000, 0, 0, {}});
  EXPECT_EQ(pushed.T, std::vector<double>(4, 0.0));
  EXPECT_NEAR(pushed.result.compression, 1000, 1e-6);
  EXPECT_NEAR(pushed.result.largest_pressure, 1000.0 / 48, 1e-6);
  // Pushed outside the kern, within the plate: triangular pressure three times its distance from the edge.
  const Solved edge = solve(plate, {}, {-1000, 0, 0, {0, 3}});
  EXPECT_NEAR(edge.result.compressed_area, 3 * 1 * 6, 1e-6);
  EXPECT_NEAR(edge.result.compression_centre.z, 3, 1e-9);
  // One fastener, pulled through it.
  const std::vector<TensionFastener> one = {{{1, 1}, 1e5}};
  const Solved straight = solve(plate, one, {100, 0, 0, {1, 1}});
  EXPECT_NEAR(straight.T[0], 100, 1e-7);
  EXPECT_LE(straight.result.compression, 1e-7);
  // One fastener and a moment: the base gives the lever.
  const PlateLoad bent{0, 500, 200, {}};
  expect_statics(solve(plate, one, bent), one, bent);
  // Fasteners on one line, bent across it, and pulled a hair off it.
  const std::vector<TensionFastener> line = {{{-2, 0.5}, 1e5}, {{0, 0.5}, 1e5}, {{2, 0.5}, 1e5}};
  for (const PlateLoad& load : {PlateLoad{0, 500, 0, {}}, PlateLoad{0, -500, 0, {}}, PlateLoad{300, 0, 0, {0, 0.5}},
                                PlateLoad{300, 1e-6, 0, {0, 0.5}}, PlateLoad{300, -900, 400, {0, 0.5}}}) {
    expect_statics(solve(plate, line, load), line, load);
  }
  // The pull acts outside the plate: a plate is a lever.
  const PlateLoad outside{100, 0, 0, {0, 20}};
  expect_statics(solve(plate, kFour, outside), kFour, outside);
}

TEST(RigidPlate, WhatCannotBeBalancedIsSaid) {
  const RigidPlate plate{kOutline, 1e5};
  solve(plate, {}, {100, 0, 0, {}}, Status::no_equilibrium);         // nothing pulls
  solve(plate, {}, {-100, 0, 0, {0, 4.5}}, Status::no_equilibrium);  // pushed beside the plate
  // Fastener on the right edge: it holds that edge down, but nothing holds the left one.
  solve(plate, {{{3, 0}, 1e5}}, {0, 0, 100, {}}, Status::ok);
  solve(plate, {{{3, 0}, 1e5}}, {0, 0, -100, {}}, Status::no_equilibrium);
  solve(plate, {{{3, 0}, 1e5}}, {100, 0, -100, {3, 0}}, Status::no_equilibrium);
  solve(plate, {{{3, 0}, 1e5}}, {100, 0, 0, {3, 0}}, Status::ok);
  solve(plate, {{{3.5, 0}, 1e5}}, {100, 0, 0, {}}, Status::off_plate);
  solve({{0, 0, 0, 8}, 1e5}, {}, {-1, 0, 0, {}}, Status::wrong_size);
  solve({kOutline, 0}, kFour, {1, 0, 0, {}}, Status::wrong_size);
  solve(plate, {{{0, 0}, -1}}, {1, 0, 0, {}}, Status::wrong_size);
  solve({kOutline, std::numeric_limits<double>::infinity()}, kFour, {1, 0, 0, {}}, Status::not_finite);
  solve(plate, kFour, {std::nan(""), 0, 0, {}}, Status::not_finite);
  std::vector<double> three(3);
  EXPECT_EQ(solve_rigid_plate(plate, kFour, {1, 0, 0, {}}, three).status, Status::wrong_size);
}

// A plate, fasteners and a load drawn at random, reproducibly.
struct Draw {
  RigidPlate plate;
  std::vector<TensionFastener> fasteners;
  PlateLoad load;
};

Draw draw(std::mt19937& random) {
  const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<>(lo, hi)(random); };
  Draw d;
  d.plate = {{between(-5, 5), between(-5, 5), between(2, 12), between(2, 12)}, std::pow(10, between(2, 8))};
  const int n = std::uniform_int_distribution<>(1, 8)(random);
  const Rectangle& o = d.plate.outline;
  for (int i = 0; i < n; ++i) {
    d.fasteners.push_back({{o.left + o.width * between(0.05, 0.95), o.bottom + o.height * between(0.05, 0.95)},
                           std::pow(10, between(4, 6))});
  }
  d.load = {between(-1000, 1000), between(-5000, 5000), between(-5000, 5000), {between(-5, 5), between(-5, 5)}};
  return d;
}

TEST(RigidPlate, RandomPlatesKeepStaticsScaleAndMirror) {
  std::mt19937 random(20240611);
  for (int i = 0; i < 2000; ++i) {
    SCOPED_TRACE(i);
    const Draw d = draw(random);
    const Solved s = solve(d.plate, d.fasteners, d.load);
    expect_statics(s, d.fasteners, d.load);
    const double largest = *std::max_element(s.T.begin(), s.T.end()) + s.result.compression;

    PlateLoad twice = d.load;
    twice.N *= 2;
    twice.Mx *= 2;
    twice.Mz *= 2;
    const Solved doubled = solve(d.plate, d.fasteners, twice);

    RigidPlate mirror = d.plate;
    mirror.outline.left = -mirror.outline.left - mirror.outline.width;
    std::vector<TensionFastener> mirrored = d.fasteners;
    for (TensionFastener& f : mirrored) f.at.x = -f.at.x;
    const Solved other = solve(mirror, mirrored, {d.load.N, d.load.Mx, -d.load.Mz, {-d.load.at.x, d.load.at.z}});

    for (std::size_t f = 0; f < s.T.size(); ++f) {
      EXPECT_NEAR(doubled.T[f], 2 * s.T[f], 1e-6 * largest);
      EXPECT_NEAR(other.T[f], s.T[f], 1e-6 * largest);
    }
  }
}

TEST(RigidPlate, ChangesLittleWhenTheInputChangesLittle) {
  // Through the places where fasteners and base come to bear or let go.
  double before = 0;
  for (int i = 0; i <= 2000; ++i) {
    const double Mx = -5000 + 5.0 * i;
    const Solved s = solve({kOutline, 2e5}, kFour, {300, Mx, 700, {}});
    if (i > 0) {
      EXPECT_LE(std::abs(s.T[2] - before), 5.0 * 0.2);
    }
    before = s.T[2];
  }
}

}  // namespace
}  // namespace jambcheck::mechanics
