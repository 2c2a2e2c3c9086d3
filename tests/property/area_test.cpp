// Areas of concrete that break out with anchors: random layouts against integration line by line, mirrored, moved apart.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "mechanics/edge_breakout.h"
#include "mechanics/projected_area.h"

namespace jambcheck {
namespace {

using namespace mechanics;

constexpr int kLayouts = 10000, kLines = 8000;
constexpr double kNear = 1e-3;

struct Loads {
  std::array<double, kMostAnchors> pull{}, across{}, down{};
};

class Random {
 public:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine_); }
  std::size_t whole(std::size_t low, std::size_t high) { return std::uniform_int_distribution<std::size_t>(low, high)(engine_); }
  AnchorLayout layout() {
    AnchorLayout a;
    a.count = whole(1, kMostAnchors);
    a.own = whole(0, a.count - 1);
    for (std::size_t i = 0; i < a.count; ++i) a.at[i] = {between(-8, 8), between(-12, 12)};
    a.edge = between(0.5, 12);
    a.other = between(0.5, 12);
    a.end = between(0.5, 12);
    return a;
  }
  Loads loads() {
    Loads l;
    for (std::size_t i = 0; i < kMostAnchors; ++i) {
      l.pull[i] = between(0, 1) < 0.25 ? 0 : between(10, 500);
      l.across[i] = between(-300, 500);
      l.down[i] = between(-300, 500);
    }
    return l;
  }

 private:
  std::mt19937_64 engine_{20240611};
};

/// Everything linked to `own`, by squaring the table of links until nothing is new.
template <typename Linked>
std::vector<std::size_t> linked_to(std::size_t own, std::size_t count, Linked linked) {
  std::vector<std::vector<bool>> table(count, std::vector<bool>(count));
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t j = 0; j < count; ++j) table[i][j] = linked(i, j);
  for (std::size_t k = 0; k < count; ++k)
    for (std::size_t i = 0; i < count; ++i)
      for (std::size_t j = 0; j < count; ++j)
        if (table[i][k] && table[k][j]) table[i][j] = true;
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < count; ++i)
    if (i == own || table[own][i]) out.push_back(i);
  return out;
}

/// Length of the line x = const within at least one square and within the surface: the ends counted up and down.
double covered(const AnchorLayout& a, const std::vector<std::size_t>& group, const ConcreteSurface& s, double r, double x) {
  std::array<std::pair<double, int>, 2 * kMostAnchors> ends;
  std::size_t n = 0;
  for (const std::size_t i : group) {
    const double low = std::max(s.z_low, a.at[i].z - r), high = std::min(s.z_high, a.at[i].z + r);
    if (std::abs(x - a.at[i].x) > r || high <= low) continue;
    ends[n++] = {low, 1};
    ends[n++] = {high, -1};
  }
  std::sort(ends.begin(), ends.begin() + static_cast<std::ptrdiff_t>(n));
  double length = 0;
  int depth = 0;
  for (std::size_t k = 0; k < n; ++k) {
    if (depth > 0) length += ends[k].first - ends[k - 1].first;
    depth += ends[k].second;
  }
  return length;
}

double integrated(const AnchorLayout& a, const std::vector<std::size_t>& group, double r) {
  const ConcreteSurface s = surface_of(a);
  double low = s.x_high, high = s.x_low;
  for (const std::size_t i : group) {
    low = std::min(low, std::max(s.x_low, a.at[i].x - r));
    high = std::max(high, std::min(s.x_high, a.at[i].x + r));
  }
  const double step = (high - low) / kLines;
  double area = 0;
  for (int k = 0; k < kLines; ++k) area += covered(a, group, s, r, low + (k + 0.5) * step) * step;
  return area;
}

ReachRule reach(double depth) { return {depth, 1.5, 0, 3, 6}; }

TEST(ProjectedArea, IsTheUnionOfSquaresOfTheGroup) {
  Random random;
  int together = 0;
  for (int n = 0; n < kLayouts; ++n) {
    const AnchorLayout a = random.layout();
    const Loads l = random.loads();
    const double depth = random.between(1, 6);
    ProjectedArea r;
    ASSERT_TRUE(projected_area(a, l.pull, reach(depth), r));
    std::vector<std::size_t> group{a.own};
    if (l.pull[a.own] > 0)
      group = linked_to(a.own, a.count, [&](std::size_t i, std::size_t j) {
        return l.pull[i] > 0 && l.pull[j] > 0 && std::max(std::abs(a.at[i].x - a.at[j].x), std::abs(a.at[i].z - a.at[j].z)) < 3 * depth;
      });
    EXPECT_EQ(r.count, static_cast<double>(group.size()));
    together += group.size() > 1;
    const double area = integrated(a, group, 1.5 * depth);
    EXPECT_NEAR(r.area, area, kNear * area) << "layout " << n;
    EXPECT_LE(r.area, r.count * 9 * depth * depth * (1 + 1e-12));
  }
  EXPECT_GT(together, kLayouts / 4);
}

TEST(ProjectedArea, IsTheSameInAMirror) {
  Random random;
  for (int n = 0; n < 2000; ++n) {
    const AnchorLayout a = random.layout();
    const Loads l = random.loads();
    AnchorLayout b = a;
    for (std::size_t i = 0; i < a.count; ++i) b.at[i] = {-a.at[i].x, -a.at[i].z};
    std::swap(b.edge, b.other);
    const ReachRule rule{random.between(1, 6), 1.5, 3, 3, 6};
    ProjectedArea r, m;
    ASSERT_TRUE(projected_area(a, l.pull, rule, r) && projected_area(b, l.pull, rule, m));
    EXPECT_NEAR(r.depth, m.depth, 1e-9);
    EXPECT_NEAR(r.area, m.area, 1e-9 * r.area);
    EXPECT_NEAR(r.c_min, m.c_min, 1e-9);
    EXPECT_NEAR(r.e_x, m.e_x, 1e-9);
    EXPECT_NEAR(r.e_z, m.e_z, 1e-9);
    EXPECT_NEAR(r.row.load, m.row.load, 1e-9 * (1 + r.row.load));
    EXPECT_LE(r.depth, rule.depth);
  }
}

TEST(ProjectedArea, GrowsWithEdgesAndSpacing) {
  Random random;
  for (int n = 0; n < 2000; ++n) {
    AnchorLayout a = random.layout();
    const Loads l = random.loads();
    const double depth = random.between(1, 6);
    ProjectedArea before, after;
    ASSERT_TRUE(projected_area(a, l.pull, reach(depth), before));
    (n % 3 == 0 ? a.edge : n % 3 == 1 ? a.other : a.end) += random.between(0, 6);
    ASSERT_TRUE(projected_area(a, l.pull, reach(depth), after));
    EXPECT_GE(after.area, before.area * (1 - 1e-12));
    EXPECT_GE(after.c_min, before.c_min);
    before = after;
    const double wider = random.between(1, 1.5);
    for (Point& p : a.at) p = {p.x * wider, p.z * wider};
    ASSERT_TRUE(projected_area(a, l.pull, reach(depth), after));
    if (after.count == before.count) {
      EXPECT_GE(after.area, before.area * (1 - 1e-12));
    }
  }
}

TEST(ProjectedArea, ShortensTheDepthForThreeNearEdges) {
  AnchorLayout a;
  a.count = 2;
  a.at[1] = {0, 4};
  a.edge = 3, a.other = 30, a.end = 5;
  const std::array<double, 2> pull = {100, 100};
  const ReachRule rule{8, 1.5, 3, 3, 6};
  ProjectedArea r;
  ASSERT_TRUE(projected_area(a, pull, rule, r));
  EXPECT_DOUBLE_EQ(r.depth, 5 / 1.5);  // edges 3, 5, 5 are near; 30 is not
  a.end = 1;
  ASSERT_TRUE(projected_area(a, pull, rule, r));
  EXPECT_DOUBLE_EQ(r.depth, 2);  // 3 / 1.5 against 4 / 3
  a.at[1].z = 9;
  ASSERT_TRUE(projected_area(a, pull, rule, r));
  EXPECT_DOUBLE_EQ(r.depth, 3);  // a third of the spacing
  a.end = 30;
  ASSERT_TRUE(projected_area(a, pull, rule, r));
  EXPECT_DOUBLE_EQ(r.depth, 8);  // one near edge
}

TEST(ProjectedArea, GivesALineItsShare) {
  AnchorLayout a;
  a.count = 1;
  a.line_spacing = 4;
  a.edge = 2, a.other = 50, a.end = 50;
  ProjectedArea r;
  ASSERT_TRUE(projected_area(a, std::array{100.0}, {3, 1.5, 3, 3, 6}, r));
  EXPECT_DOUBLE_EQ(r.area, (2 + 4.5) * 4);
  EXPECT_DOUBLE_EQ(r.row.factor, 4.0 / 12);
  // Many anchors of a bracket in the same line: the one in the middle of a long row gets the same on average.
  AnchorLayout many = a;
  many.line_spacing = 0;
  many.count = 8;
  for (std::size_t i = 0; i < 8; ++i) many.at[i] = {0, 4.0 * static_cast<double>(i)};
  ProjectedArea m;
  ASSERT_TRUE(projected_area(many, std::array<double, 8>{1, 1, 1, 1, 1, 1, 1, 1}, {3, 1.5, 3, 3, 6}, m));
  EXPECT_DOUBLE_EQ(m.area, 8 * r.area + 2 * (4.5 - 2) * 6.5);
}

TEST(ProjectedArea, WantsSensibleNumbers) {
  AnchorLayout a;
  a.count = 2;
  a.edge = a.other = a.end = 5;
  ProjectedArea r;
  EXPECT_FALSE(projected_area(a, std::array{1.0, 1.0}, reach(3), r));  // two anchors at one place
  a.at[1] = {0, 3};
  EXPECT_TRUE(projected_area(a, std::array{1.0, 1.0}, reach(3), r));
  EXPECT_FALSE(projected_area(a, std::array{1.0, std::nan("")}, reach(3), r));
  a.edge = std::nan("");
  EXPECT_FALSE(projected_area(a, std::array{1.0, 1.0}, reach(3), r));
}

// ---- toward an edge

struct OnEdge {
  double distance, along, load;
};

std::vector<OnEdge> seen_from(const AnchorLayout& a, const Loads& l, ConcreteEdge e) {
  const ConcreteSurface s = surface_of(a);
  std::vector<OnEdge> out;
  for (std::size_t i = 0; i < a.count; ++i) {
    const Point p = a.at[i];
    if (e == ConcreteEdge::loaded) out.push_back({s.x_high - p.x, p.z, l.across[i]});
    if (e == ConcreteEdge::other) out.push_back({p.x - s.x_low, p.z, -l.across[i]});
    if (e == ConcreteEdge::top) out.push_back({s.z_high - p.z, p.x, -l.down[i]});
    if (e == ConcreteEdge::bottom) out.push_back({p.z - s.z_low, p.x, l.down[i]});
  }
  return out;
}

TEST(EdgeBreakout, IsTheUnionAlongTheEdge) {
  Random random;
  int rows = 0;
  for (int n = 0; n < kLayouts; ++n) {
    AnchorLayout a = random.layout();
    if (n % 2 == 0)  // columns, so that rows hold several anchors
      for (Point& p : a.at) p.x = 4 * std::round(p.x / 4);
    if (!sensible(a)) continue;
    const Loads l = random.loads();
    const EdgeReachRule rule{static_cast<ConcreteEdge>(1 + n % 4), random.between(4, 40), 1.5, 3, 0, 1};
    EdgeBreakout toward, along;
    ASSERT_TRUE(edge_breakout(a, l.across, l.down, rule, toward, along));
    const auto seen = seen_from(a, l, rule.toward);
    if (seen[a.own].load <= 0) {
      EXPECT_EQ(toward.load, 0);
      continue;
    }
    const auto group = linked_to(a.own, a.count, [&](std::size_t i, std::size_t j) {
      return seen[i].load > 0 && seen[j].load > 0 && std::abs(seen[i].along - seen[j].along) < 1.5 * (seen[i].distance + seen[j].distance);
    });
    const ConcreteSurface s = surface_of(a);
    const bool upright = rule.toward == ConcreteEdge::loaded || rule.toward == ConcreteEdge::other;
    const double low = upright ? s.z_low : s.x_low, high = upright ? s.z_high : s.x_high;
    double nearest = 1e9, load = 0;
    for (const std::size_t i : group) {
      nearest = std::min(nearest, seen[i].distance);
      load += seen[i].load;
    }
    EXPECT_NEAR(toward.load, load, 1e-9 * load);
    EXPECT_LE(toward.front.distance, nearest * (1 + 1e-12));
    rows += toward.rows_apart > 0;
    const double half = 1.5 * toward.front.distance, step = (high - low) / kLines;
    double width = 0;
    for (int k = 0; k < kLines; ++k) {
      const double at = low + (k + 0.5) * step;
      for (const std::size_t i : group)
        if (seen[i].distance - nearest <= 1e-6 && std::abs(seen[i].along - at) <= half) {
          width += step;
          break;
        }
    }
    const double area = width * std::min(half, rule.thickness);
    EXPECT_NEAR(toward.front.area, area, kNear * area + 2 * step * std::min(half, rule.thickness)) << "layout " << n;
    EXPECT_LE(toward.front.area, static_cast<double>(group.size()) * 4.5 * toward.front.distance * toward.front.distance * (1 + 1e-12));
  }
  EXPECT_GT(rows, kLayouts / 10);
}

TEST(EdgeBreakout, IsTheSameInAMirror) {
  Random random;
  for (int n = 0; n < 2000; ++n) {
    const AnchorLayout a = random.layout();
    const Loads l = random.loads();
    AnchorLayout b = a;
    Loads m = l;
    for (std::size_t i = 0; i < a.count; ++i) {
      b.at[i] = {-a.at[i].x, -a.at[i].z};
      m.across[i] = -l.across[i];
      m.down[i] = -l.down[i];
    }
    std::swap(b.edge, b.other);
    const double thickness = random.between(4, 40);
    for (const auto& [one, two] : {std::pair{ConcreteEdge::loaded, ConcreteEdge::other}, std::pair{ConcreteEdge::top, ConcreteEdge::bottom}}) {
      EdgeBreakout t1, p1, t2, p2;
      ASSERT_TRUE(edge_breakout(a, l.across, l.down, {one, thickness, 1.5, 3, 0, 1}, t1, p1));
      ASSERT_TRUE(edge_breakout(b, m.across, m.down, {two, thickness, 1.5, 3, 0, 1}, t2, p2));
      EXPECT_NEAR(t1.front.area, t2.front.area, 1e-9 * (1 + t1.front.area));
      EXPECT_NEAR(t1.rear.area, t2.rear.area, 1e-9 * (1 + t1.rear.area));
      EXPECT_NEAR(t1.load, t2.load, 1e-9 * (1 + t1.load));
      EXPECT_NEAR(p1.load, p2.load, 1e-9 * (1 + p1.load));
      EXPECT_NEAR(p1.front.e, p2.front.e, 1e-9);
    }
  }
}

TEST(EdgeBreakout, GrowsWithThicknessAndSides) {
  Random random;
  for (int n = 0; n < 2000; ++n) {
    AnchorLayout a = random.layout();
    const Loads l = random.loads();
    EdgeReachRule rule{ConcreteEdge::loaded, 1.5 * (a.edge + random.between(0, 20)), 1.5, 3, 0, 1};  // thick enough for no limit at the front row
    EdgeBreakout before, after, along;
    ASSERT_TRUE(edge_breakout(a, l.across, l.down, rule, before, along));
    a.end += random.between(0, 6);
    ASSERT_TRUE(edge_breakout(a, l.across, l.down, rule, after, along));
    if (after.front.distance == before.front.distance) {
      EXPECT_GE(after.front.area, before.front.area * (1 - 1e-12));
    }
    before = after;
    rule.thickness += random.between(0, 6);
    ASSERT_TRUE(edge_breakout(a, l.across, l.down, rule, after, along));
    if (after.front.distance == before.front.distance) {
      EXPECT_GE(after.front.area, before.front.area * (1 - 1e-12));
    }
  }
}

TEST(EdgeBreakout, ShortensTheDistanceOnlyInNarrowAndThinConcrete) {
  AnchorLayout a;
  a.count = 1;
  a.edge = 6, a.other = 50, a.end = 4;
  EdgeBreakout t, p;
  const std::array<double, 1> across = {100}, down = {0};
  ASSERT_TRUE(edge_breakout(a, across, down, {ConcreteEdge::loaded, 5, 1.5, 3, 0, 1}, t, p));
  EXPECT_DOUBLE_EQ(t.front.distance, 5 / 1.5);
  EXPECT_DOUBLE_EQ(t.front.area, 8 * 5);
  ASSERT_TRUE(edge_breakout(a, across, down, {ConcreteEdge::loaded, 9, 1.5, 3, 0, 1}, t, p));
  EXPECT_DOUBLE_EQ(t.front.distance, 6);  // thick
  a.end = 9;
  ASSERT_TRUE(edge_breakout(a, across, down, {ConcreteEdge::loaded, 5, 1.5, 3, 0, 1}, t, p));
  EXPECT_DOUBLE_EQ(t.front.distance, 6);  // wide
}

}  // namespace
}  // namespace jambcheck
