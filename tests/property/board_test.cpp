// The board between hardware and jamb: a link of its own when it is thick, a shim when it is thin.
#include <gtest/gtest.h>

#include <cmath>

#include "support/shipped.h"

namespace jambcheck {
namespace {

using rules::State;

class Boards : public Shipped {
 protected:
  /// The first project with a board under its hardware, on the same post.
  static std::string project(const std::string& buck) {
    return with(content_of("cases/first/project.yaml"), "    guide:\n", "    buck: {" + buck + "}\n    guide:\n");
  }
  static verdict::OpeningResult result_of(const std::string& text) { return check(read_text("board", text)).front(); }
  static constexpr const char* kFastened =
      "kind: wood, size: 2x6, species: SPF, spacing: 12\", first: 6\", edge: 2-3/4\", end: 12\", wall_edge: 2-3/4\", wall_other_edge: 2-3/4\", gap: 0 in, modulus: 1300000 psi, "
      "fastener: {kind: lag screw, diameter: 3/8\", length: 5\", washers: head, washer_diameter: 1\"}";
};

TEST_F(Boards, AThickBoardIsASecondLink) {
  const auto result = result_of(project(kFastened));
  for (const auto& c : result.connections) {
    ASSERT_EQ(c.links.size(), 2u) << c.id;
    EXPECT_EQ(c.links[0].id, "L1");
    EXPECT_EQ(c.links[1].id, "L2");
    EXPECT_EQ(c.links[1].state, State::holds) << c.id << " " << c.links[1].ratio;
  }
  EXPECT_NE(result.state, State::holds) << "a 3/8 lag finds only 1-1/2 in of board";
}

TEST_F(Boards, WithoutFastenersOfItsOwnItNeverHolds) {
  const auto result = result_of(project("kind: wood, size: 2x6, species: SPF"));
  for (const auto& c : result.connections) EXPECT_NE(c.links[1].state, State::holds) << c.id;
}

TEST_F(Boards, AThinBoardIsAShim) {
  const auto bare = result_of(content_of("cases/first/project.yaml"));
  const auto shim = result_of(project("kind: wood, thickness: 3/4\", species: SPF"));
  const auto gap = result_of(with(content_of("cases/first/project.yaml"), "gap: 0 in", "gap: 3/4 in"));
  for (std::size_t i = 0; i < shim.connections.size(); ++i) EXPECT_EQ(shim.connections[i].links.size(), 1u);
  EXPECT_EQ(shim.state, gap.state);
  EXPECT_DOUBLE_EQ(shim.ratio, gap.ratio);
  for (std::size_t k = 0; k < bare.connections[2].checks.size(); ++k)
    if (bare.connections[2].checks[k].rule->id == "wood.lag_screw.penetration_minimum") {
      EXPECT_GT(shim.connections[2].checks[k].judgement.ratio, bare.connections[2].checks[k].judgement.ratio);
    }
}

TEST_F(Boards, TheLeastThicknessOfALinkIsTheTablesOwn) {
  EXPECT_EQ(result_of(project("kind: wood, thickness: 1-1/2\", width: 5-1/2\", species: SPF")).connections[2].links.size(), 2u);
  EXPECT_EQ(result_of(project("kind: wood, thickness: 1-7/16\", width: 5-1/2\", species: SPF")).connections[2].links.size(), 1u);
}

TEST_F(Boards, AnythingUnknownOfItIsAsked) {
  for (const char* field : {"spacing: 12\"", "wall_edge: 2-3/4\"", "size: 2x6", "species: SPF", "end: 12\""}) {
    const std::string name = std::string(field).substr(0, std::string(field).find(':'));
    const auto result = result_of(project(with(kFastened, field, name + ": unknown")));
    EXPECT_NE(result.connections[2].links[1].state, State::holds) << field;
  }
}

TEST_F(Boards, SteelOrUnknownBoardsAreForAnEngineer) {
  EXPECT_GE(result_of(project("kind: steel")).state, State::engineer);
  EXPECT_NE(result_of(project("kind: unknown")).state, State::holds);
}

}  // namespace
}  // namespace jambcheck
