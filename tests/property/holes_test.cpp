// Where holes fall: drawn examples, both sides alike, the same in metric, bits and lengths as the rules have them.
#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "support/shipped.h"
#include "verdict/holes.h"

namespace jambcheck {
namespace {

using verdict::Hole;
using verdict::HoleList;
using verdict::HoleRow;

class Holes : public Shipped {
 protected:
  static HoleList list_of(const opening::Project& project, const std::string& mark, text::Diagnostics* told = nullptr) {
    text::Diagnostics diagnostics;
    verdict::Checker checker(set());
    for (const auto& o : project.openings)
      if (o.mark == mark) {
        auto list = verdict::hole_list(project, o, set(), checker, diagnostics);
        if (told) *told = diagnostics;
        return list;
      }
    ADD_FAILURE() << mark;
    return {};
  }
  static HoleList drawn(const std::string& mark) { return list_of(read("tests/unit/data/layout.yaml"), mark); }
  static HoleList changed(const std::string& what, const std::string& by, const std::string& mark = "A", text::Diagnostics* told = nullptr) {
    return list_of(read_text("layout", with(content_of("tests/unit/data/layout.yaml"), what, by)), mark, told);
  }
  static const HoleRow& row(const HoleList& list, const std::string& id) {
    for (const auto& r : list.rows)
      if (r.id == id) return r;
    ADD_FAILURE() << "no row " << id;
    static const HoleRow none;
    return none;
  }
  static std::vector<double> of(const HoleRow& row, double Hole::*member) {
    std::vector<double> out;
    for (const auto& h : row.holes) out.push_back(h.*member);
    return out;
  }
  static bool says(const text::Diagnostics& told, text::MessageId id) {
    for (const auto& d : told.all())
      if (d.id == id) return true;
    return false;
  }
};

using V = std::vector<double>;

void expect_near(const V& found, const V& wanted) {
  ASSERT_EQ(found.size(), wanted.size());
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(found[i], wanted[i], 1e-9) << i;
}

TEST_F(Holes, PostsByTape) {
  const auto list = drawn("A");
  expect_near(of(row(list, "LG"), &Hole::height), {6, 30, 54, 78});
  expect_near(of(row(list, "LG"), &Hole::edge), {2, 2, 2, 2});
  expect_near(of(row(list, "LG"), &Hole::other_edge), {3.5, 3.5, 3.5, 3.5});
  expect_near(of(row(list, "LG"), &Hole::across), {-2, -2, -2, -2});
  expect_near(of(row(list, "RG"), &Hole::across), {98, 98, 98, 98});
  expect_near(of(row(list, "LG"), &Hole::end_below), {6, 30, 54, 78});
  expect_near(of(row(list, "LB"), &Hole::height), {97, 97, 103, 103});
  expect_near(of(row(list, "LB"), &Hole::edge), {1.5, 4, 1.5, 4});
  expect_near(of(row(list, "LB"), &Hole::other_edge), {4, 1.5, 4, 1.5});
  expect_near(of(row(list, "RB"), &Hole::across), {97.5, 100, 97.5, 100});
  expect_near(of(row(list, "LB"), &Hole::end_above), {14, 14, 8, 8});
  expect_near(of(row(list, "LB"), &Hole::neighbour), {2.5, 2.5, 2.5, 2.5});
  EXPECT_EQ(row(list, "LG").holes.front().name, "LG-1");
  EXPECT_EQ(row(list, "LG").holes.back().neighbour_name, "LB-1");
  EXPECT_NEAR(row(list, "LG").holes.back().neighbour, std::hypot(19, 0.5), 1e-9);
  EXPECT_EQ(row(list, "LB").holes.front().neighbour_name, "LB-2");
}

TEST_F(Holes, BetweenTheJambsInMetric) {
  const auto list = drawn("B");
  EXPECT_TRUE(list.metric);
  expect_near(of(row(list, "RG"), &Hole::height), {150 / 25.4, 1350 / 25.4, 2250 / 25.4});
  expect_near(of(row(list, "LG"), &Hole::edge), V(3, 100 / 25.4));
  expect_near(of(row(list, "RG"), &Hole::edge), V(3, 120 / 25.4));
  expect_near(of(row(list, "LG"), &Hole::across), {0, 0, 0});
  expect_near(of(row(list, "RG"), &Hole::across), V(3, 3000 / 25.4));
  EXPECT_TRUE(std::isnan(list.across.guides_least)) << "the trade's width is one of guides on the face";
}

TEST_F(Holes, BoardOverLayersByTheTradesRule) {
  const auto list = drawn("C");
  EXPECT_NEAR(list.across.curtain, 99.5, 1e-9);
  EXPECT_NEAR(list.across.guides_least, 100.25, 1e-9);
  EXPECT_NEAR(list.across.guides_most, 100.5, 1e-9);
  expect_near(of(row(list, "RG"), &Hole::edge), {1.25, 1.25, 1.25, 1.25});
  expect_near(of(row(list, "LG"), &Hole::edge), {1.25, 1.25, 1.25, 1.25});
  EXPECT_NEAR(list.across.guides, 100.25, 1e-9);
  expect_near(of(row(list, "LK"), &Hole::height), {6, 18, 30, 42, 54, 66, 78, 90, 102});
  expect_near(of(row(list, "LK"), &Hole::other_edge), V(9, 2.75));
  EXPECT_NEAR(row(list, "LG").length.gap, 1.125, 1e-9);
  bool told = false;
  for (const auto& a : list.assumed) told = told || (a.what == "guide.edge" && a.why.find("common practice, no source") != std::string::npos);
  EXPECT_TRUE(told);
}

TEST_F(Holes, TheTapeGoesBeforeTheTrade) {
  const auto list = drawn("A");
  EXPECT_NEAR(list.across.guides, 96 + 2 * (2 + 1), 1e-9);
  for (const auto& a : list.assumed) EXPECT_NE(a.what, "guide.edge");
  const auto measured = changed("axle_projection: 9\"", "axle_projection: 9\", curtain_width: 98\"");
  EXPECT_NEAR(measured.across.guides_least, 98.75, 1e-9);
}

TEST_F(Holes, SidesAreMirrored) {
  for (const char* mark : {"A", "C"}) {
    const auto list = drawn(mark);
    for (const char* part : {"G", "B"}) {
      const auto &left = row(list, std::string("L") + part), &right = row(list, std::string("R") + part);
      ASSERT_EQ(left.holes.size(), right.holes.size());
      for (std::size_t i = 0; i < left.holes.size(); ++i) {
        EXPECT_NEAR(left.holes[i].across + right.holes[i].across, list.across.opening, 1e-9) << mark << part << i;
        EXPECT_NEAR(left.holes[i].height, right.holes[i].height, 1e-9);
        EXPECT_NEAR(left.holes[i].edge, right.holes[i].edge, 1e-9);
        EXPECT_EQ(left.holes[i].name.substr(1), right.holes[i].name.substr(1));
      }
    }
  }
}

TEST_F(Holes, TheSameInMetric) {
  auto metric = content_of("tests/unit/data/layout.yaml");
  metric = with(metric, "size: 8'-0\" x 8'-0\"", "size: 2438.4 mm x 2438.4 mm");
  metric = with(metric, "first: 6\", spacing: 24\", edge: 2\"", "first: 152.4 mm, spacing: 609.6 mm, edge: 50.8 mm");
  metric = with(metric, "across: 2-1/2\", along: 6\"", "across: 63.5 mm, along: 152.4 mm");
  metric = with(metric, "height: 100\"", "height: 2540 mm");
  const auto inch = drawn("A"), mm = list_of(read_text("metric", metric), "A");
  ASSERT_EQ(inch.rows.size(), mm.rows.size());
  for (std::size_t r = 0; r < inch.rows.size(); ++r) {
    ASSERT_EQ(inch.rows[r].holes.size(), mm.rows[r].holes.size());
    for (double Hole::*member : {&Hole::height, &Hole::edge, &Hole::other_edge, &Hole::across, &Hole::neighbour})
      expect_near(of(mm.rows[r], member), of(inch.rows[r], member));
    EXPECT_EQ(inch.rows[r].length.reaches, mm.rows[r].length.reaches);
    EXPECT_EQ(inch.rows[r].length.holds, mm.rows[r].length.holds);
  }
}

TEST_F(Holes, StandInsideTheJambAndInOrder) {
  const auto project = read("cases/boat_lockers/project.yaml");
  for (const auto& o : project.openings) {
    text::Diagnostics told;
    const auto list = list_of(project, o.mark, &told);
    for (const auto& r : list.rows)
      for (std::size_t i = 0; i < r.holes.size(); ++i) {
        if (!says(told, text::MessageId::H004)) {
          EXPECT_FALSE(r.holes[i].edge >= r.jamb_width) << o.mark << " " << r.holes[i].name;
        }
        if (i > 0) { EXPECT_GE(r.holes[i].above_lowest, r.holes[i - 1].above_lowest - 1.0 / 64) << o.mark << " " << r.holes[i].name; }
      }
  }
}

TEST_F(Holes, BitsLieWithinWhatTheRuleAllows) {
  const auto list = drawn("A");
  const auto& bits = row(list, "LG").drill.bits;
  ASSERT_EQ(bits.size(), 2u);
  EXPECT_NEAR(bits[0].diameter, 0.25, 1e-12) << "3/8 lag in DFL, G 0.50: 40 to 70 % are 0.15 to 0.2625 in";
  EXPECT_NEAR(bits[1].diameter, 0.375, 1e-12);
  for (const auto& mark : {"A", "C"})
    for (const auto& r : drawn(mark).rows)
      for (const auto& bit : r.drill.bits) {
        EXPECT_LE(bit.diameter, bit.most + 1e-9);
        EXPECT_GE(bit.diameter, bit.least - 1e-9);
        EXPECT_NEAR(bit.diameter * 64, std::round(bit.diameter * 64), 1e-9);
      }
}

TEST_F(Holes, LengthCountsOnlyWhatHolds) {
  // 4 D of wood, the tip of 7/32 and the guide: 1.79 in, so a 2 in lag; behind 1-1/8 in of layers 2.92 in, so 3 in.
  EXPECT_NEAR(row(drawn("A"), "LG").length.reaches, 2, 1e-9);
  EXPECT_NEAR(row(changed("gap: 0 in", "gap: 1-1/8\""), "LG").length.reaches, 3, 1e-9);
  text::Diagnostics told;
  const auto shorter = changed("guide: {fastener: lag 3/8 x 4,", "guide: {fastener: lag 3/8 x 1-1/2,", "A", &told);
  EXPECT_FALSE(row(shorter, "LG").length.deep_enough);
  EXPECT_TRUE(says(told, text::MessageId::H006));
  EXPECT_FALSE(says(told, text::MessageId::H007) && says(told, text::MessageId::H005));
  // The shortest that holds does hold, and is on the shelf.
  const auto list = drawn("A");
  const double holds = row(list, "LG").length.holds;
  ASSERT_FALSE(std::isnan(holds));
  const auto again = changed("guide: {fastener: lag 3/8 x 4,", "guide: {fastener: {kind: lag screw, diameter: 3/8\", length: " + std::to_string(holds) + " in},");
  EXPECT_TRUE(row(again, "LG").length.in_stock);
  EXPECT_NEAR(row(again, "LG").length.holds, holds, 1e-9);
}

TEST_F(Holes, LayersAreTheGap) {
  const auto base = content_of("cases/first/project.yaml");
  const auto by_gap = check(read_text("gap", with(base, "gap: 0 in", "gap: 1-1/8\""))).front();
  const auto layers = with(with(base, "    gap: 0 in", "    #"), "size: 6x6}", "size: 6x6, layers: [drywall 5/8\", sheathing 1/2\"]}");
  const auto by_layers = check(read_text("layers", layers)).front();
  EXPECT_EQ(by_gap.state, by_layers.state);
  EXPECT_DOUBLE_EQ(by_gap.ratio, by_layers.ratio);
}

TEST_F(Holes, RoomThatIsTooSmallIsTold) {
  text::Diagnostics told;
  (void)list_of(read("tests/unit/data/layout.yaml"), "A", &told);
  for (const auto id : {text::MessageId::H001, text::MessageId::H002, text::MessageId::H003, text::MessageId::H004}) EXPECT_FALSE(says(told, id));
  (void)changed("side_room: 10\"", "side_room: 2\"", "A", &told);
  EXPECT_TRUE(says(told, text::MessageId::H001));
  (void)changed("head_room: 16\"", "head_room: 8\"", "A", &told);
  EXPECT_TRUE(says(told, text::MessageId::H003));
  (void)changed("edge: 2\", lip", "edge: 5\", lip", "A", &told);
  EXPECT_TRUE(says(told, text::MessageId::H002));
}

TEST_F(Holes, ByOthersIsTheGreatestOfTheCases) {
  const auto project = read("cases/first/project.yaml");
  verdict::Checker checker(set());
  checker.list_by_others(true);
  const auto result = checker.check(project, project.openings.front());
  ASSERT_EQ(result.by_others.size(), 4u);
  for (const auto& b : result.by_others) {
    if (b.id.back() != 'G') continue;
    // 17 psf outward is reduced already: half of 8 ft times 17 psf times 8 ft of height presses the guide on.
    EXPECT_NEAR(b.all.push.value, 17.0 * 8 / 2 * 8, 1) << b.id;
    EXPECT_NEAR(b.all.pull.value, 15.0 * 8 / 2 * 8, 1) << b.id;
    EXPECT_EQ(b.all.across.value, 0) << "no windlocks";
    EXPECT_GT(b.one.pull.value, 0);
    EXPECT_NE(b.one.pull.load_case.find("inward"), std::string::npos) << b.one.pull.load_case;
  }
  for (const auto& b : result.by_others) {
    if (b.id.back() == 'B') {
      EXPECT_GE(b.all.pull.value, b.one.pull.value);
      EXPECT_GT(b.moment.value, 0);
    }
  }
}

}  // namespace
}  // namespace jambcheck
