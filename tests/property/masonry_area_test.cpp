// Areas of masonry at an anchor: against points counted one by one, closed forms, symmetry, and more edge never less
// area.
#include "mechanics/masonry_area.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "mechanics/masonry_area_solver.h"

namespace jambcheck::mechanics {
namespace {

using std::numbers::pi;
using Random = std::mt19937_64;

double between(Random& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

/// Part of a circle beyond a chord at distance h from the middle.
double segment(double r, double h) { return h >= r ? 0 : r * r * std::acos(h / r) - h * std::sqrt(r * r - h * h); }

MasonryAnchors single(double embedment, double edge = 50) {
  MasonryAnchors a;
  a.at = {{0, 0}};
  a.embedment = embedment;
  a.edge = edge;
  a.other = a.end = a.open_beside = 50;
  a.depth = 40;
  return a;
}

MasonryAnchors some(Random& random) {
  MasonryAnchors a;
  const auto count = 1 + random() % 8;
  const bool on_a_grid = random() % 2 == 0;  // rows and columns, as brackets have them
  while (a.at.size() < count) {
    Point p{between(random, -8, 8), between(random, -8, 8)};
    if (on_a_grid) p = {4.0 * static_cast<double>(random() % 3), 3.0 * static_cast<double>(random() % 4)};
    const bool taken =
        std::any_of(a.at.begin(), a.at.end(), [&](Point q) { return std::hypot(p.x - q.x, p.z - q.z) < 0.5; });
    if (!taken) a.at.push_back(p);
  }
  a.index = random() % count;
  a.embedment = between(random, 2, 9);
  a.edge = between(random, 1, 12);
  a.other = between(random, 1, 30);
  a.end = between(random, 1, 20);
  a.depth = between(random, 3, 16);
  a.open_beside = random() % 2 ? 100 : between(random, 1, 12);
  return a;
}

MasonryAreas areas_of(const MasonryAnchors& a) {
  MasonryAreas r;
  EXPECT_TRUE(masonry_areas(a, r));
  return r;
}

struct Extent {
  double low, high;
};
Extent x_extent(const MasonryAnchors& a) {
  Extent e{1e9, -1e9};
  for (const Point p : a.at) e = {std::min(e.low, p.x), std::max(e.high, p.x)};
  return {e.low - std::min(a.other, a.open_beside), e.high + std::min(a.edge, a.open_beside)};
}
Extent z_extent(const MasonryAnchors& a) {
  Extent e{1e9, -1e9};
  for (const Point p : a.at) e = {std::min(e.low, p.z), std::max(e.high, p.z)};
  return {e.low - a.end, e.high + a.end};
}

constexpr int kPoints = 500;  // along each side of the square that is counted

/// Share of the square [-r, r] x [v_low, r] about the origin for which `count` speaks, times its area.
template <class Count>
double counted(double r, double v_low, Count count) {
  const double du = 2 * r / kPoints, dv = (r - v_low) / kPoints;
  double sum = 0;
  for (int i = 0; i < kPoints; ++i)
    for (int j = 0; j < kPoints; ++j) sum += count(-r + (i + 0.5) * du, v_low + (j + 0.5) * dv);
  return sum * du * dv;
}

double counted_tension(const MasonryAnchors& a) {
  const Extent x = x_extent(a), z = z_extent(a);
  const Point own = a.at[a.index];
  return counted(a.embedment, -a.embedment, [&](double u, double v) {
    const Point p{own.x + u, own.z + v};
    const double mine = std::hypot(u, v);
    if (mine > a.embedment || p.x < x.low || p.x > x.high || p.z < z.low || p.z > z.high) return 0.0;
    for (const Point q : a.at)
      if (std::hypot(p.x - q.x, p.z - q.z) < mine - 1e-12) return 0.0;  // nearer to another anchor
    return 1.0;
  });
}

double counted_shear(const MasonryAnchors& a) {  // toward the loaded edge
  const Extent x = x_extent(a), z = z_extent(a);
  const Point own = a.at[a.index];
  const double r = x.high - own.x;
  return counted(r, 0, [&](double u, double y) {
    const double at = own.z + u;
    if (std::hypot(u, y) > r || y > a.depth || at < z.low || at > z.high) return 0.0;
    int sharing = 0;
    for (const Point q : a.at) {
      const double theirs = x.high - q.x, apart = std::abs(q.z - own.z);
      if (apart <= 1e-9) {
        sharing += std::hypot(u, y) <= theirs;
        continue;
      }
      const double kept = std::max(apart / 2, apart - theirs);
      if ((q.z - own.z) * u > 0 && std::abs(u) > kept) return 0.0;
    }
    return 1.0 / sharing;
  });
}

TEST(MasonryArea, AgreesWithPointsCountedOneByOne) {
  Random random(11);
  for (int n = 0; n < 60; ++n) {
    const MasonryAnchors a = some(random);
    const MasonryAreas r = areas_of(a);
    ASSERT_NEAR(r.tension, counted_tension(a), 0.006 * pi * a.embedment * a.embedment) << n;
    ASSERT_NEAR(r.toward.area, counted_shear(a), 0.006 * pi * r.toward.distance * r.toward.distance / 2) << n;
  }
}

TEST(MasonryArea, ClosedForms) {
  const auto near = [](double got, double want) { EXPECT_NEAR(got, want, 1e-9 * want); };
  near(areas_of(single(5)).tension, 25 * pi);
  near(areas_of(single(5, 3)).tension, 25 * pi - segment(5, 3));
  MasonryAnchors faces = single(6, 2.5);
  faces.other = 4;
  near(areas_of(faces).tension, 36 * pi - segment(6, 2.5) - segment(6, 4));
  MasonryAnchors middle = single(16, 7.625 / 2);  // in the middle of a wall, deep
  middle.other = 7.625 / 2;
  const double t = 7.625, l = 16, X = std::sqrt(l * l - t * t / 4);
  near(areas_of(middle).tension, t * X + l * l * 2 * std::asin(t / (2 * l)));
  MasonryAnchors pair = single(5);
  pair.at = {{0, 0}, {6, 0}};
  near(areas_of(pair).tension, 25 * pi - segment(5, 3));
  MasonryAnchors line = single(5);
  line.line_spacing = 8;
  near(areas_of(line).tension, 25 * pi - 2 * segment(5, 4));
  line.end = 2;
  near(areas_of(line).tension, 25 * pi - segment(5, 4) - segment(5, 2));
  near(areas_of(single(5, 0)).tension, 12.5 * pi);  // on the edge itself
  near(areas_of(single(5, 4)).toward.area, 16 * pi / 2);
  MasonryAnchors thin = single(5, 9);
  thin.depth = 7.625;
  near(areas_of(thin).toward.area, 81 * pi / 2 - segment(9, 7.625));
  MasonryAnchors rows =
      single(5, 4);  // one behind the other: the inner half disc is shared, the ring is the rear one's
  rows.at = {{0, 0}, {3, 0}};
  rows.edge = 4;
  rows.index = 1;
  near(areas_of(rows).toward.area, 16 * pi / 4);
  rows.index = 0;
  near(areas_of(rows).toward.area, 49 * pi / 2 - 16 * pi / 4);
}

TEST(MasonryArea, NoMasonryCountsTwice) {
  Random random(13);
  for (int n = 0; n < 40; ++n) {
    MasonryAnchors a = some(random);
    double tension = 0, shear = 0, reach = 0;
    for (a.index = 0; a.index < a.at.size(); ++a.index) {
      const MasonryAreas r = areas_of(a);
      tension += r.tension;
      shear += r.toward.area;
      reach = std::max(reach, r.toward.distance);
    }
    const Extent x = x_extent(a), z = z_extent(a);
    const double size = 40;
    const double broken_out = counted(size, -size, [&](double u, double v) {
      const bool there = u >= x.low && u <= x.high && v >= z.low && v <= z.high;
      return there && std::any_of(a.at.begin(), a.at.end(),
                                  [&](Point q) { return std::hypot(u - q.x, v - q.z) <= a.embedment; })
                 ? 1.0
                 : 0.0;
    });
    ASSERT_NEAR(tension, broken_out, 0.01 * broken_out + 1) << n;  // nothing twice, nothing lost
    const double broken_off = counted(size, 0, [&](double u, double y) {
      const bool there = y <= a.depth && u >= z.low && u <= z.high;
      return there && std::any_of(a.at.begin(), a.at.end(),
                                  [&](Point q) { return std::hypot(u - q.z, y) <= x.high - q.x; })
                 ? 1.0
                 : 0.0;
    });
    ASSERT_LE(shear, 1.01 * broken_off + 1) << n;
  }
}

TEST(MasonryArea, MoreMasonryIsNeverLessArea) {
  Random random(17);
  const auto no_less = [](const MasonryAnchors& less, const MasonryAnchors& more) {
    const MasonryAreas a = areas_of(less), b = areas_of(more);
    const double tiny = 1e-9;
    EXPECT_GE(b.tension, a.tension - tiny);
    EXPECT_GE(b.toward.area, a.toward.area - tiny);
    EXPECT_GE(b.away.area, a.away.area - tiny);
  };
  for (int n = 0; n < 400; ++n) {
    const MasonryAnchors a = some(random);
    for (double MasonryAnchors::*length : {&MasonryAnchors::edge, &MasonryAnchors::other, &MasonryAnchors::end,
                                           &MasonryAnchors::depth, &MasonryAnchors::open_beside}) {
      // One anchor alone: more edge for a neighbour too can cost the other its share.
      MasonryAnchors less = a;
      less.at = {a.at[a.index]};
      less.index = 0;
      MasonryAnchors more = less;
      more.*length += between(random, 0, 5);
      no_less(less, more);
    }
    MasonryAnchors line = a;
    line.at = {{0, 0}};
    line.index = 0;
    line.line_spacing = between(random, 1, 20);
    MasonryAnchors wide = line;
    wide.line_spacing += between(random, 0, 5);
    no_less(line, wide);
    MasonryAnchors apart = a;
    for (Point& p : apart.at) p = {p.x * 1.3, p.z * 1.3};
    EXPECT_GE(areas_of(apart).tension, areas_of(a).tension - 1e-9);
  }
}

TEST(MasonryArea, MirroredIsTheSame) {
  Random random(19);
  const auto same = [](ShearArea a, ShearArea b) {
    EXPECT_NEAR(a.distance, b.distance, 1e-9);
    EXPECT_NEAR(a.area, b.area, 1e-9 * (1 + b.area));
  };
  for (int n = 0; n < 200; ++n) {
    const MasonryAnchors a = some(random);
    MasonryAnchors b = a;
    for (Point& p : b.at) p = {-p.x, -p.z};
    std::swap(b.edge, b.other);
    const MasonryAreas r = areas_of(a), m = areas_of(b);
    EXPECT_NEAR(r.tension, m.tension, 1e-9 * (1 + m.tension));
    same(r.toward, m.away);
    same(r.away, m.toward);
    same(r.down, m.up);
    same(r.up, m.down);
  }
}

TEST(MasonryArea, WhatMakesNoSenseHasNoValue) {
  MasonryAreas r;
  MasonryAnchors a = single(5);
  a.at = {{0, 0}, {0, 0}};
  EXPECT_FALSE(masonry_areas(a, r));
  a = single(5, -1);
  EXPECT_FALSE(masonry_areas(a, r));
  a = single(std::nan(""));
  EXPECT_FALSE(masonry_areas(a, r));
  a = single(5);
  a.index = 1;
  EXPECT_FALSE(masonry_areas(a, r));
  EXPECT_EQ(areas_of(single(0)).tension, 0);
  EXPECT_EQ(areas_of(single(5, 0)).toward.area, 0);
  MasonryAnchors line = single(5);
  line.line_spacing = 8;
  EXPECT_TRUE(std::isnan(areas_of(line).down.area));
}

TEST(MasonryArea, TheSolverReadsGuidesAndBrackets) {
  const auto solver = masonry_area_solver();
  std::vector<double> in(solver->inputs().size(), std::nan("")), out(solver->outputs().size());
  const auto set = [&](std::string_view name, double value) {
    for (std::size_t i = 0; i < in.size(); ++i)
      if (solver->inputs()[i].name == name) in[i] = value;
  };
  const auto pull = [&] {
    solver->solve(in, out);
    return out[0];
  };
  EXPECT_TRUE(std::isnan(pull()));  // nothing known
  for (const std::string_view name : {"edge", "edge_other", "end", "open_beside", "h_m"}) set(name, 50);
  set("l_b", 5);
  EXPECT_TRUE(std::isnan(pull()));  // neither a count nor a spacing
  set("s_line", 8);
  EXPECT_NEAR(pull(), 25 * pi - 2 * segment(5, 4), 1e-9);
  set("hole_count", 2);
  set("hole_index", 2);
  set("x_1", 0);
  set("z_1", 0);
  set("x_2", 0);
  EXPECT_TRUE(std::isnan(pull()));  // a hole without its place
  set("z_2", 6);
  EXPECT_NEAR(pull(), 25 * pi - segment(5, 3), 1e-9);
  EXPECT_GE(solver->explain(in).size(), 4U);
  set("hole_index", 3);
  EXPECT_TRUE(std::isnan(pull()));
  EXPECT_EQ(solver->explain(in).size(), 1U);
}

}  // namespace
}  // namespace jambcheck::mechanics
