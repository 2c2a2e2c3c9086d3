// A beam on springs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <vector>

#include "mechanics/beam_on_fasteners.h"

namespace jambcheck::mechanics {
namespace {

constexpr double kHard = std::numeric_limits<double>::infinity();

struct Case {
  double length = 96;
  double rigidity = 906250;
  std::vector<BeamSupport> supports;
  std::vector<UniformLoad> uniform;
  std::vector<PointLoad> points;
};

struct Solved {
  BeamResult result;
  std::vector<double> R;
  std::vector<double> w;
};

Solved solve(const Case& c, std::optional<std::size_t> missing = std::nullopt, Status wanted = Status::ok) {
  static BeamScratch scratch;
  Solved s;
  s.R.assign(c.supports.size(), -1);
  s.w.assign(c.supports.size(), -1);
  s.result = solve_beam({c.length, c.rigidity, c.supports, c.uniform, c.points}, {s.R, s.w}, scratch, missing);
  EXPECT_EQ(static_cast<int>(s.result.status), static_cast<int>(wanted));
  EXPECT_LE(s.result.residual, 1e-9);
  return s;
}

Case loaded(const std::vector<double>& at, double stiffness) {
  Case c;
  for (double z : at) c.supports.push_back({z, stiffness});
  c.uniform = {{0, 96, 10}};
  return c;
}

const std::vector<double> kFive = {0, 24, 48, 72, 96};
const std::vector<double> kSix = {3, 21, 39, 57, 75, 93};

// Source: beam theory, and a general-purpose finite-element solver (solid elements) beside it within 0.02 lbf; computed
// values, not read from any publication.
TEST(Beam, MeetsComputedReferences) {
  struct Reference {
    std::vector<double> at;
    double k;
    std::vector<double> finite_elements, theory;
  };
  for (const Reference& r : std::vector<Reference>{
           {kFive, 20000, {95.633, 270.496, 227.742, 270.496, 95.633}, {95.629, 270.507, 227.728, 270.507, 95.629}},
           {kFive, 1e6, {94.319, 274.19, 222.982, 274.19, 94.319}, {94.315, 274.204, 222.964, 274.204, 94.315}},
           {kSix,
            1000,
            {115.759, 176.447, 187.794, 187.794, 176.447, 115.759},
            {115.759, 176.446, 187.795, 187.795, 176.446, 115.759}},
           {kSix,
            1e6,
            {104.245, 199.655, 176.099, 176.099, 199.655, 104.245},
            {104.241, 199.666, 176.093, 176.093, 199.666, 104.241}},
           {kFive, kHard, {}, {94.286, 274.286, 222.857, 274.286, 94.286}},
           {kSix, kHard, {}, {104.211, 199.737, 176.053, 176.053, 199.737, 104.211}}}) {
    const Solved s = solve(loaded(r.at, r.k));
    for (std::size_t i = 0; i < r.theory.size(); ++i) {
      EXPECT_NEAR(s.R[i], r.theory[i], 0.00051);
      EXPECT_NEAR(s.w[i], std::isinf(r.k) ? 0 : s.R[i] / r.k, 1e-15);
    }
    for (std::size_t i = 0; i < r.finite_elements.size(); ++i) {
      EXPECT_NEAR(s.R[i], r.finite_elements[i], 0.0005 * r.finite_elements[i]);
    }
  }
}

// Closed form of four equal spans on unyielding supports: 11/28, 8/7 and 26/28 of w L; largest moment 3/28 w L^2 over
// the second support.
TEST(Beam, FourEqualSpansOnHardSupports) {
  const Solved s = solve(loaded(kFive, kHard));
  const double wL = 240;
  for (std::size_t i : {0, 4}) EXPECT_NEAR(s.R[i], 11.0 / 28 * wL, 1e-10 * wL);
  for (std::size_t i : {1, 3}) EXPECT_NEAR(s.R[i], 8.0 / 7 * wL, 1e-10 * wL);
  EXPECT_NEAR(s.R[2], 26.0 / 28 * wL, 1e-10 * wL);
  EXPECT_NEAR(s.result.largest_moment, -3.0 / 28 * wL * 24, 1e-8);
  EXPECT_TRUE(std::abs(s.result.largest_moment_at - 24) < 1e-9 || std::abs(s.result.largest_moment_at - 72) < 1e-9);
}

// Closed forms of single spans.
TEST(Beam, SingleSpans) {
  Case span;
  span.length = 100;
  span.supports = {{0, kHard}, {100, kHard}};
  span.uniform = {{0, 100, 3}};
  Solved s = solve(span);
  EXPECT_NEAR(s.result.largest_moment, 3.0 * 100 * 100 / 8, 1e-8);
  EXPECT_NEAR(s.result.largest_moment_at, 50, 1e-9);

  span.uniform.clear();
  span.points = {{30, 50}};
  s = solve(span);
  EXPECT_NEAR(s.R[0], 35, 1e-10);
  EXPECT_NEAR(s.result.largest_moment, 50.0 * 30 * 70 / 100, 1e-8);
  EXPECT_NEAR(s.result.largest_moment_at, 30, 1e-9);

  // Overhangs: loaded end turns the moment over the support, far support pulls.
  span.supports = {{20, kHard}, {80, kHard}};
  span.points = {{0, 50}};
  s = solve(span);
  EXPECT_NEAR(s.R[0], 50.0 * 80 / 60, 1e-9);
  EXPECT_NEAR(s.R[1], -50.0 * 20 / 60, 1e-9);
  EXPECT_NEAR(s.result.largest_moment, -1000, 1e-8);
  EXPECT_NEAR(s.result.largest_moment_at, 20, 1e-9);
}

// Closed form: two equal spans, load on one only: 7/16, 5/8, -1/16 of w L; propped middle.
TEST(Beam, PartlyLoadedTwoSpans) {
  Case c;
  c.length = 60;
  c.supports = {{0, kHard}, {30, kHard}, {60, kHard}};
  c.uniform = {{0, 30, 4}};
  const Solved s = solve(c);
  EXPECT_NEAR(s.R[0], 7.0 / 16 * 120, 1e-9);
  EXPECT_NEAR(s.R[1], 5.0 / 8 * 120, 1e-9);
  EXPECT_NEAR(s.R[2], -1.0 / 16 * 120, 1e-9);
}

TEST(Beam, MissingFastenerIsASpanWithoutIt) {
  const Case all = loaded(kFive, 5e4);
  for (std::size_t gone = 0; gone < 5; ++gone) {
    Case without = all;
    without.supports.erase(without.supports.begin() + static_cast<std::ptrdiff_t>(gone));
    const Solved a = solve(all, gone);
    const Solved b = solve(without);
    EXPECT_EQ(a.R[gone], 0);
    EXPECT_GT(a.w[gone], a.w[gone == 0 ? 1 : gone - 1]);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(a.R[i < gone ? i : i + 1], b.R[i], 1e-9);
  }
  // Closed form: middle support of two spans gone, 5 w L^4 / 384 E I over the double span.
  Case two = loaded({0, 48, 96}, kHard);
  EXPECT_NEAR(solve(two, 1).w[1], 5.0 * 10 * std::pow(96, 4) / 384 / 906250, 1e-9);
}

TEST(Beam, StiffBeamSharesByStaticsSoftSpringsEqually) {
  // A beam that can't bend on like springs: reactions vary along a straight line.
  Case c;
  c.rigidity = 1e18;
  c.supports = {{0, 1e4}, {48, 1e4}, {96, 1e4}};
  c.points = {{72, 90}};
  Solved s = solve(c);
  EXPECT_NEAR(s.R[0], 30 - 90.0 * 24 / 96 * 1.0, 1e-6);
  EXPECT_NEAR(s.R[1], 30, 1e-6);
  // One spring a million times softer than hard supports beside it carries next to nothing.
  c = loaded({0, 48, 96}, kHard);
  c.supports[1].stiffness = 1e-3;
  s = solve(c);
  EXPECT_NEAR(s.R[0], 480, 0.01);
}

TEST(Beam, RandomBeamsKeepStaticsScaleMirrorAndSum) {
  std::mt19937 random(5);
  const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<>(lo, hi)(random); };
  for (int i = 0; i < 500; ++i) {
    SCOPED_TRACE(i);
    Case c;
    c.length = between(20, 300);
    c.rigidity = std::pow(10, between(4, 8));
    const int n = std::uniform_int_distribution<>(2, 14)(random);
    for (int k = 0; k < n; ++k) {
      // One in each share of the length: as in a row of fasteners, not all in a heap.
      const double at = c.length * (k + between(0.1, 0.9)) / n;
      c.supports.push_back({at, k % 3 == 0 ? kHard : std::pow(10, between(2, 6))});
    }
    const double from = between(0, c.length);
    c.uniform = {{from, between(from, c.length), between(-10, 10)}, {0, c.length, 2}};
    c.points = {{between(0, c.length), between(-100, 100)}};
    const Solved s = solve(c);
    double sum = 0;
    double size = 0;
    for (double r : s.R) {
      sum += r;
      size = std::max(size, std::abs(r));
    }
    const double load = c.uniform[0].per_length * (c.uniform[0].to - from) + 2 * c.length + c.points[0].force;
    EXPECT_NEAR(sum, load, 1e-9 * n * std::max(size, std::abs(load)));

    Case twice = c;
    for (UniformLoad& u : twice.uniform) u.per_length *= 2;
    twice.points[0].force *= 2;
    Case mirror = c;
    for (BeamSupport& b : mirror.supports) b.at = c.length - b.at;
    for (UniformLoad& u : mirror.uniform) u = {c.length - u.to, c.length - u.from, u.per_length};
    mirror.points[0].at = c.length - mirror.points[0].at;
    Case first = c, second = c;
    first.points.clear();
    second.uniform.clear();
    const Solved doubled = solve(twice), other = solve(mirror), one = solve(first), two = solve(second);
    for (std::size_t k = 0; k < s.R.size(); ++k) {
      EXPECT_NEAR(doubled.R[k], 2 * s.R[k], 1e-6 * size);
      EXPECT_NEAR(other.R[k], s.R[k], 1e-6 * size);
      EXPECT_NEAR(one.R[k] + two.R[k], s.R[k], 1e-6 * size);
    }
    EXPECT_NEAR(other.result.largest_moment, s.result.largest_moment, 1e-6 * std::abs(s.result.largest_moment) + 1e-6);
  }
}

TEST(Beam, BadInputIsNamed) {
  solve(loaded({}, 1), std::nullopt, Status::no_fastener);
  solve(loaded({48}, 1e4), std::nullopt, Status::unstable);
  solve(loaded({48, 48}, 1e4), std::nullopt, Status::unstable);
  solve(loaded({10, 80}, 1e4), 1, Status::unstable);
  solve(loaded({10, 80}, 1e4), 2, Status::wrong_size);
  solve(loaded({10, 80, 80}, kHard), std::nullopt, Status::indeterminate);
  solve(loaded({10, 80, 80}, 1e5));
  solve(loaded({-1, 80}, 1e5), std::nullopt, Status::wrong_size);
  solve(loaded({1, 97}, 1e5), std::nullopt, Status::wrong_size);
  solve(loaded({1, 80}, 0), std::nullopt, Status::wrong_size);
  solve(loaded({1, 80}, std::nan("")), std::nullopt, Status::not_finite);
  Case c = loaded({1, 80}, 1e5);
  c.uniform[0].to = 97;
  solve(c, std::nullopt, Status::wrong_size);
  c.uniform = {{50, 40, 1}};
  solve(c, std::nullopt, Status::wrong_size);
  c.uniform.clear();
  c.points = {{5, std::nan("")}};
  solve(c, std::nullopt, Status::not_finite);
  c.points.clear();
  EXPECT_EQ(solve(c).R, (std::vector<double>{0, 0}));
}

}  // namespace
}  // namespace jambcheck::mechanics
