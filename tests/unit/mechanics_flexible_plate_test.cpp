// Bending plate on tension-only fasteners and a compression-only base.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "mechanics/flexible_plate.h"
#include "mechanics/rigid_plate.h"

namespace jambcheck::mechanics {
namespace {

const std::vector<TensionFastener> kFour = {{{-2, -3}, 150000}, {{2, -3}, 150000}, {{2, 3}, 150000}, {{-2, 3}, 150000}};

// The plate of the reference model: 6 x 8 in, heads spread over 0.5 in, lug 2 x 2 in.
FlexiblePlate plate_of(double thickness, double modulus, double base_modulus) {
  FlexiblePlate p;
  p.outline = {-3, -4, 6, 8};
  p.thickness = thickness;
  p.modulus = modulus;
  p.poisson = 0.3;
  p.base_modulus = base_modulus;
  p.fastener_spread = 0.5;
  p.patch_width = 2;
  p.patch_height = 2;
  return p;
}

struct Solved {
  FlexiblePlateResult result;
  std::vector<double> T;
};

Solved solve(const FlexiblePlate& plate, const std::vector<TensionFastener>& fasteners, const PlateLoad& load,
             Status wanted = Status::ok) {
  static FlexiblePlateScratch scratch;  // one for all on purpose: nothing of an earlier plate may show
  Solved s;
  s.T.assign(fasteners.size(), -1);
  s.result = solve_flexible_plate(plate, fasteners, load, s.T, scratch);
  EXPECT_EQ(static_cast<int>(s.result.status), static_cast<int>(wanted));
  return s;
}

// Source: a general-purpose finite-element solver (solid elements with incompatible modes, 0.25 in, two through the
// thickness); computed values, not read from any publication.
struct Reference {
  const char* id;
  PlateLoad load;
  double base_modulus;
  double thickness;
  double modulus;
  std::vector<double> T;
  double compression;
};

constexpr double kSteel = 29.0e6;
constexpr double kNearlyRigid = 2.9e11;

const std::vector<Reference> kReferences = {
    {"p_M_x_500_rigid", {0, 4000, 0, {}}, 5e5, 0.25, kNearlyRigid, {2.75, 2.75, 300.17, 300.17}, 605.84},
    {"p_M_x_500_t0.25", {0, 4000, 0, {}}, 5e5, 0.25, kSteel, {0, 0, 482.6, 482.6}, 965.21},
    {"p_M_x_40_rigid", {0, 4000, 0, {}}, 4e4, 0.25, kNearlyRigid, {0, 0, 334.69, 334.69}, 669.37},
    {"p_M_x_40_t0.50", {0, 4000, 0, {}}, 4e4, 0.5, kSteel, {0, 0, 348.59, 348.59}, 697.18},
    {"p_N_500_rigid", {1000, 0, 0, {}}, 5e5, 0.25, kNearlyRigid, {250, 250, 250, 250}, 0},
    {"p_N_500_t0.25", {1000, 0, 0, {}}, 5e5, 0.25, kSteel, {404.4, 404.4, 404.4, 404.4}, 617.58},
    {"p_N_40_rigid", {1000, 0, 0, {}}, 4e4, 0.25, kNearlyRigid, {250, 250, 250, 250}, 0},
    {"p_N_40_t0.25", {1000, 0, 0, {}}, 4e4, 0.25, kSteel, {337.98, 337.98, 337.98, 337.98}, 351.92},
    {"p_N_40_t0.50", {1000, 0, 0, {}}, 4e4, 0.5, kSteel, {250, 250, 250, 250}, 0},
    {"p_N_Mx_My_500_rigid", {500, 3000, 1000, {}}, 5e5, 0.25, kNearlyRigid, {1.18, 85.65, 407.72, 310.67}, 305.22},
    {"p_N_Mx_My_500_t0.50", {500, 3000, 1000, {}}, 5e5, 0.5, kSteel, {0, 84.17, 464.71, 257.74}, 306.62},
    {"p_N_Mx_My_40_t0.25", {500, 3000, 1000, {}}, 4e4, 0.25, kSteel, {0, 102.16, 540.45, 307.48}, 450.08},
    {"p_N_Mx_My_40_t0.50", {500, 3000, 1000, {}}, 4e4, 0.5, kSteel, {0, 54.44, 489.1, 255.81}, 299.36},
};

void expect_reference(const Reference& r, const FlexiblePlate& plate) {
  SCOPED_TRACE(r.id);
  const double share = r.modulus == kNearlyRigid ? 0.005 : 0.05;
  const Solved s = solve(plate, kFour, r.load);
  const double largest = *std::max_element(r.T.begin(), r.T.end());
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR(s.T[i], r.T[i], share * (r.T[i] > 0.05 * largest ? r.T[i] : largest));
  }
  EXPECT_NEAR(s.result.compression, r.compression, share * std::max(largest, r.compression));
  EXPECT_LE(s.result.residual, 1e-9);
}

TEST(FlexiblePlate, MeetsComputedReferences) {
  for (const Reference& r : kReferences) expect_reference(r, plate_of(r.thickness, r.modulus, r.base_modulus));
}

TEST(FlexiblePlate, MeetsThemOnOtherMeshesToo) {
  for (double size : {0.5, 1.5}) {
    for (const Reference& r : kReferences) {
      FlexiblePlate plate = plate_of(r.thickness, r.modulus, r.base_modulus);
      plate.element_size = size;
      expect_reference(r, plate);
    }
  }
}

// Source: the same solver with the mesh halved to 0.125 in; computed values.
TEST(FlexiblePlate, FineMeshMeetsTheFineReference) {
  FlexiblePlate plate = plate_of(0.25, kSteel, 5e5);
  plate.element_size = 0.5;
  EXPECT_NEAR(solve(plate, kFour, {1000, 0, 0, {}}).T[0], 409.77, 0.01 * 409.77);
  EXPECT_NEAR(solve(plate, kFour, {0, 4000, 0, {}}).T[2], 484.56, 0.01 * 484.56);
}

// Source: own rigid unilateral solve on the same grid of springs; computed values. Elements of 1 in put the base points
// on that grid of 0.25 in, with the same shares of area.
TEST(FlexiblePlate, StiffPlateIsTheRigidPlateOnTheSameSprings) {
  struct Case {
    PlateLoad load;
    double base_modulus;
    std::vector<double> T;
    double compression;
  };
  for (const Case& c : std::vector<Case>{{{0, 4000, 0, {}}, 5e5, {2.77, 2.77, 300.15, 300.15}, 605.84},
                                         {{0, 4000, 0, {}}, 4e4, {0, 0, 334.67, 334.67}, 669.35},
                                         {{1000, 0, 0, {}}, 5e5, {250, 250, 250, 250}, 0},
                                         {{500, 3000, 1000, {}}, 5e5, {1.19, 85.71, 407.6, 310.79}, 305.29}}) {
    FlexiblePlate plate = plate_of(0.25, 1e13, c.base_modulus);
    plate.element_size = 1;
    const Solved s = solve(plate, kFour, c.load);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(s.T[i], c.T[i], 0.1);
    EXPECT_NEAR(s.result.compression, c.compression, 0.1);
  }
}

TEST(FlexiblePlate, TendsToTheRigidPlate) {
  for (const PlateLoad& load :
       {PlateLoad{0, 4000, 0, {}}, PlateLoad{500, 3000, 1000, {}}, PlateLoad{-800, 2500, 0, {}}}) {
    std::vector<double> rigid(4);
    ASSERT_EQ(solve_rigid_plate({{-3, -4, 6, 8}, 1e5}, kFour, load, rigid).status, Status::ok);
    FlexiblePlate plate = plate_of(0.25, 1e12, 1e5);
    plate.fastener_spread = 0;
    plate.element_size = 0.5;
    const Solved s = solve(plate, kFour, load);
    const double largest = *std::max_element(rigid.begin(), rigid.end());
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(s.T[i], rigid[i], 0.003 * largest);
  }
}

// Closed form: a narrow plate held at both ends, Poisson 0, is a simply supported beam: M = P L / 4 less the spread of
// the load, carried by the width.
TEST(FlexiblePlate, BendsLikeABeam) {
  FlexiblePlate plate;
  plate.outline = {0, 0, 1, 12};
  plate.thickness = 0.25;
  plate.modulus = kSteel;
  plate.base_modulus = 1e-3;  // as good as none
  plate.fastener_spread = 0;
  plate.patch_width = 1;
  plate.patch_height = 1;
  const std::vector<TensionFastener> ends = {{{0, 1}, 1e7},  {{0.5, 1}, 2e7},  {{1, 1}, 1e7},
                                             {{0, 11}, 1e7}, {{0.5, 11}, 2e7}, {{1, 11}, 1e7}};
  const Solved s = solve(plate, ends, {40, 0, 0, {0.5, 6}});
  EXPECT_NEAR(s.T[0] + s.T[1] + s.T[2], 20, 1e-5);
  // Nine equal loads over 1 in: mean distance from the middle 2 (1 + 2 + 3 + 4) / 8 / 9 in.
  const double moment = 20 * 5 - 20 * (2.0 * (1 + 2 + 3 + 4) / 8 / 9);
  EXPECT_NEAR(s.result.largest_moment, moment, 0.02 * moment);
  EXPECT_NEAR(s.result.largest_stress, 6 * moment / (0.25 * 0.25), 0.02 * 6 * moment / (0.25 * 0.25));
  EXPECT_NEAR(s.result.largest_stress_at.z, 6, 0.5);
}

TEST(FlexiblePlate, TurnedPlateGivesTheSame) {
  const FlexiblePlate upright = plate_of(0.25, kSteel, 2e5);
  FlexiblePlate lying = upright;
  lying.outline = {-4, -3, 8, 6};
  std::vector<TensionFastener> turned = kFour;
  for (TensionFastener& f : turned) std::swap(f.at.x, f.at.z);
  const Solved a = solve(upright, kFour, {300, 2000, 900, {0.2, -0.3}});
  const Solved b = solve(lying, turned, {300, 900, 2000, {-0.3, 0.2}});
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(a.T[i], b.T[i], 1e-6);
  EXPECT_NEAR(a.result.largest_stress, b.result.largest_stress, 1e-5 * a.result.largest_stress);
  EXPECT_NEAR(a.result.compression_centre.x, b.result.compression_centre.z, 1e-7);
}

TEST(FlexiblePlate, ResultsFollowSmoothlyThicknessBaseLoadAndPlace) {
  const auto T = [](double thickness, double base, double N, double shift) {
    FlexiblePlate plate = plate_of(thickness, kSteel, base);
    std::vector<TensionFastener> moved = kFour;
    moved[2].at.x += shift;
    return solve(plate, moved, {N, 1500, 600, {}}).T[2];
  };
  // A jump would stay as large however small the steps are; a quarter of the step leaves about a quarter of the change.
  const auto largest_change = [&](int series, int steps) {
    double largest = 0;
    double before = 0;
    for (int i = 0; i <= steps; ++i) {
      const double u = static_cast<double>(i) / steps;
      const double now = series == 0   ? T(0.1 + 0.5 * u, 2e5, 500, 0)
                         : series == 1 ? T(0.25, 1e4 * std::pow(10, 2 * u), 500, 0)
                         : series == 2 ? T(0.25, 2e5, -1000 + 2000 * u, 0)
                                       : T(0.25, 2e5, 500, -0.8 + u);
      if (i > 0) largest = std::max(largest, std::abs(now - before));
      before = now;
    }
    return largest;
  };
  for (int series = 0; series < 4; ++series) {
    SCOPED_TRACE(series);
    const double coarse = largest_change(series, 50);
    EXPECT_GT(coarse, 1);
    EXPECT_LT(largest_change(series, 200), 0.32 * coarse);
  }
}

TEST(FlexiblePlate, RandomPlatesKeepStaticsScaleAndMirror) {
  std::mt19937 random(77);
  const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<>(lo, hi)(random); };
  for (int i = 0; i < 150; ++i) {
    SCOPED_TRACE(i);
    FlexiblePlate plate = plate_of(between(0.06, 1), kSteel, std::pow(10, between(3, 7)));
    plate.outline = {between(-5, 5), between(-5, 5), between(3, 12), between(3, 12)};
    plate.fastener_spread = between(0, 1);
    const Rectangle o = plate.outline;
    std::vector<TensionFastener> fasteners;
    const int n = std::uniform_int_distribution<>(1, 8)(random);
    for (int f = 0; f < n; ++f) {
      fasteners.push_back({{o.left + o.width * between(0.02, 0.98), o.bottom + o.height * between(0.02, 0.98)},
                           std::pow(10, between(4, 6))});
    }
    const PlateLoad load{between(-1000, 1000), between(-3000, 3000), between(-3000, 3000), o.centre()};
    const Solved s = solve(plate, fasteners, load);
    EXPECT_LE(s.result.residual, 1e-9);

    double N = load.N + s.result.compression;
    double Mx = load.Mx + load.N * load.at.z + s.result.compression * s.result.compression_centre.z;
    double largest = s.result.compression;
    for (std::size_t f = 0; f < s.T.size(); ++f) {
      EXPECT_GE(s.T[f], 0);
      N -= s.T[f];
      Mx -= s.T[f] * fasteners[f].at.z;
      largest = std::max(largest, s.T[f]);
    }
    EXPECT_LE(std::abs(N), 1e-8 * largest);
    // A head pulls off its centre by less than half its spread.
    EXPECT_LE(std::abs(Mx), plate.fastener_spread / 2 * largest * n + 1e-6);

    const Solved twice = solve(plate, fasteners, {2 * load.N, 2 * load.Mx, 2 * load.Mz, load.at});
    FlexiblePlate mirror = plate;
    mirror.outline.bottom = -o.bottom - o.height;
    std::vector<TensionFastener> mirrored = fasteners;
    for (TensionFastener& f : mirrored) f.at.z = -f.at.z;
    const Solved other = solve(mirror, mirrored, {load.N, -load.Mx, load.Mz, {load.at.x, -load.at.z}});
    for (std::size_t f = 0; f < s.T.size(); ++f) {
      EXPECT_NEAR(twice.T[f], 2 * s.T[f], 1e-5 * largest);
      EXPECT_NEAR(other.T[f], s.T[f], 1e-5 * largest);
    }
  }
}

TEST(FlexiblePlate, WholePlateInContactNeedsNoFastener) {
  const Solved s = solve(plate_of(1, 1e12, 1e4), {}, {-1000, 0, 0, {}});
  EXPECT_NEAR(s.result.compression, 1000, 1e-6);
  EXPECT_NEAR(s.result.largest_pressure, 1000.0 / 48, 0.01);
}

TEST(FlexiblePlate, OneFastenerInLineOrOnTheEdge) {
  const FlexiblePlate plate = plate_of(0.375, kSteel, 1e5);
  EXPECT_NEAR(solve(plate, {{{0, 0}, 1e5}}, {100, 0, 0, {}}).T[0], 100, 2);
  EXPECT_GT(solve(plate, {{{0, 0}, 1e5}}, {0, 800, 0, {}}).T[0], 100);
  FlexiblePlate sharp = plate;
  sharp.fastener_spread = 0;
  EXPECT_NEAR(solve(sharp, {{{0, 0}, 1e5}}, {100, 0, 0, {}}).T[0], 100, 2);
  // On the upper edge: the base can press at most a whole height away.
  EXPECT_GT(solve(plate, {{{0, 4}, 1e5}}, {0, 400, 0, {}}).T[0], 400.0 / 8);
  solve(plate, {{{0, 4}, 1e5}}, {0, -400, 0, {}}, Status::no_equilibrium);
}

TEST(FlexiblePlate, BadInputIsNamed) {
  const FlexiblePlate good = plate_of(0.25, kSteel, 1e5);
  const PlateLoad pull{100, 0, 0, {}};
  for (double v : solve(good, kFour, {}).T) EXPECT_EQ(v, 0);
  FlexiblePlate p = good;
  p.thickness = 0;
  solve(p, kFour, pull, Status::wrong_size);
  p = good;
  p.poisson = 0.5;
  solve(p, kFour, pull, Status::wrong_size);
  p = good;
  p.modulus = std::numeric_limits<double>::quiet_NaN();
  solve(p, kFour, pull, Status::not_finite);
  p = good;
  p.patch_height = 0;
  solve(p, kFour, {0, 100, 0, {}}, Status::no_lever);
  solve(p, kFour, {0, 0, 100, {}});
  solve(good, kFour, {100, 0, 0, {2.5, 0}}, Status::off_plate);
  solve(good, {{{0, 5}, 1e5}}, pull, Status::off_plate);
  solve(good, {}, pull, Status::no_equilibrium);
  std::vector<double> two(2);
  FlexiblePlateScratch scratch;
  EXPECT_EQ(solve_flexible_plate(good, kFour, pull, two, scratch).status, Status::wrong_size);
}

}  // namespace
}  // namespace jambcheck::mechanics
