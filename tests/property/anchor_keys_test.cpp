// What anchor data say in the case of a fastener, and that nothing of them is taken unasked.
#include <fmt/format.h>

#include "support/shipped.h"
#include "verdict/connection.h"

namespace jambcheck {
namespace {

class AnchorKeysTest : public Shipped {
 protected:
  struct Wish {
    std::string jamb = "{kind: concrete, strength: 3000 psi, temperature: 90 degF}";
    std::string fastener = "{kind: screw_anchor, diameter: 1/2\", embedment: 3-1/4\", data: DEMO-SCREW}";
    std::string files = "[screw.yaml, adhesive.yaml, sleeve.yaml]";
    std::string project = "method: LRFD";
  };
  /// The case of the left guide. The files stand in cases/anchor_data.
  static rules::Case keys(const Wish& wish) {
    const std::string content = fmt::format(
        "format: 1\nproject: {{{}}}\nanchor_data: {}\nopenings:\n  - mark: D-1\n    jamb: {}\n    guide:\n      fastener: {}\n", wish.project,
        wish.files, wish.jamb, wish.fastener);
    const auto project = read_text("cases/anchor_data/try.yaml", content);
    for (const auto& c : verdict::connections(project, project.openings.at(0), set()))
      if (c.id == "LG") return c.common;
    ADD_FAILURE() << "no guide";
    return {};
  }
  static std::string word(const rules::Case& values, const std::string& key) {
    const auto* given = values.find(key);
    return given ? std::string(given->word) : "";
  }
  static double number(const rules::Case& values, const std::string& key) {
    const auto* given = values.find(key);
    return given ? given->value : -1;
  }
};

TEST_F(AnchorKeysTest, TheRowOfTheAnchorComesIntoItsCase) {
  const auto c = keys({});
  EXPECT_EQ(word(c, "anchor.data"), "invented");
  EXPECT_EQ(word(c, "anchor.size"), "listed");
  EXPECT_EQ(number(c, "anchor.N_p_cr"), 3000);
  EXPECT_EQ(number(c, "anchor.c_min"), 1.75);
  EXPECT_EQ(word(c, "anchor.pullout"), "given");
}

TEST_F(AnchorKeysTest, DataAreNeverTakenUnasked) {
  Wish wish;
  wish.files = "screw.yaml";
  wish.fastener = "{kind: screw_anchor, diameter: 1/2\", embedment: 3-1/4\"}";
  const auto c = keys(wish);
  EXPECT_FALSE(c.says("anchor.data"));
  EXPECT_FALSE(c.says("anchor.N_p_cr"));
  wish.fastener = "{kind: screw_anchor, diameter: 1/2\", embedment: 3-1/4\", data: none}";
  EXPECT_EQ(word(keys(wish), "anchor.data"), "none");
  EXPECT_FALSE(keys(wish).says("anchor.N_p_cr"));
}

TEST_F(AnchorKeysTest, ASizeBetweenRowsHasNoFigures) {
  Wish wish;
  wish.fastener = "{kind: screw_anchor, diameter: 1/2\", embedment: 3-1/2\", data: DEMO-SCREW}";
  const auto c = keys(wish);
  EXPECT_EQ(word(c, "anchor.size"), "not_listed");
  EXPECT_FALSE(c.says("anchor.N_p_cr"));
}

TEST_F(AnchorKeysTest, WithoutTheEmbedmentNoRowIsChosen) {
  Wish wish;
  for (const char* embedment : {"", ", embedment: unknown"}) {
    wish.fastener = fmt::format("{{kind: screw_anchor, diameter: 1/2\"{}, data: DEMO-SCREW}}", embedment);
    const auto c = keys(wish);
    EXPECT_FALSE(c.says("anchor.size"));
    EXPECT_FALSE(c.says("anchor.N_p_cr"));
  }
}

TEST_F(AnchorKeysTest, MetricSizesFindTheSameRow) {
  Wish wish;
  wish.fastener = "{kind: screw_anchor, diameter: 12.7 mm, embedment: 82.55 mm, data: DEMO-SCREW}";
  EXPECT_EQ(number(keys(wish), "anchor.N_p_cr"), 3000);
}

TEST_F(AnchorKeysTest, TheCellsSettleTheRow) {
  Wish wish;
  wish.fastener = "{kind: sleeve_anchor, diameter: 3/8\", embedment: 1-1/8\", data: DEMO-SLEEVE}";
  wish.jamb = "{kind: block, filled: no}";
  EXPECT_EQ(number(keys(wish), "anchor.masonry_T"), 110);
  EXPECT_EQ(word(keys(wish), "anchor.masonry_fill"), "hollow");
  wish.jamb = "{kind: block, filled: yes}";
  EXPECT_EQ(word(keys(wish), "anchor.size"), "not_listed");
  wish.jamb = "{kind: block, filled: unknown}";
  EXPECT_FALSE(keys(wish).says("anchor.masonry_T")) << "a row for hollow block counts only where it is known to be hollow";
}

TEST_F(AnchorKeysTest, BondStrengthNeedsATemperature) {
  Wish wish;
  wish.fastener = "{kind: adhesive_anchor, diameter: 1/2\", embedment: 4\", data: DEMO-ADHESIVE}";
  EXPECT_EQ(number(keys(wish), "anchor.tau_cr"), 400);
  wish.jamb = "{kind: concrete, temperature: 140 degF}";
  EXPECT_EQ(number(keys(wish), "anchor.tau_cr"), 300);
  wish.jamb = "{kind: concrete, temperature: 160 degF}";
  EXPECT_EQ(word(keys(wish), "anchor.temperature"), "too_hot");
  EXPECT_FALSE(keys(wish).says("anchor.tau_cr"));
  wish.jamb = "{kind: concrete}";
  EXPECT_FALSE(keys(wish).says("anchor.tau_cr"));
  EXPECT_TRUE(keys(wish).find("anchor.temperature")->unknown);
}

TEST_F(AnchorKeysTest, AReportRunsOutByTheDayOfTheProject) {
  Wish wish;
  wish.files = "../../tests/unit/data/anchor_report.yaml";
  wish.fastener = "{kind: screw_anchor, diameter: 1/2\", embedment: 3\", data: TRY-REPORT}";
  wish.project = "method: LRFD, date: 2027-06-30";
  EXPECT_EQ(word(keys(wish), "anchor.data"), "report");
  EXPECT_EQ(word(keys(wish), "anchor.expired"), "no");
  wish.project = "method: LRFD, date: 2027-07-01";
  EXPECT_EQ(word(keys(wish), "anchor.expired"), "yes");
  wish.project = "method: LRFD";
  EXPECT_FALSE(keys(wish).says("anchor.expired")) << "no clock is asked";
}

TEST_F(AnchorKeysTest, TheEditionOfTheJobMustBeAmongThoseOfTheReport) {
  Wish wish;
  wish.fastener = "{kind: sleeve_anchor, diameter: 3/8\", embedment: 1-1/8\", data: DEMO-SLEEVE}";
  wish.jamb = "{kind: block, filled: no}";
  wish.project = "method: ASD, editions: {masonry: tms402-16}";
  EXPECT_EQ(word(keys(wish), "anchor.edition"), "fits");
  wish.project = "method: ASD, editions: {masonry: tms402-22}";
  EXPECT_EQ(word(keys(wish), "anchor.edition"), "other");
}

TEST_F(AnchorKeysTest, InventedFiguresHoldNothingOutsideOfADemonstration) {
  for (const bool demo : {false, true}) {
    const std::string content = fmt::format(
        "format: 1\nproject: {{method: ASD, demo: {}, editions: {{masonry: tms402-16}}}}\nanchor_data: sleeve.yaml\nopenings:\n  - mark: D-1\n    jamb: {{kind: block, filled: no}}\n"
        "    guide: {{fastener: {{kind: sleeve_anchor, diameter: 3/8\", embedment: 1-1/8\", data: DEMO-SLEEVE}}}}\n",
        demo ? "yes" : "no");
    const auto results = check(read_text("cases/anchor_data/try.yaml", content));
    bool seen = false;
    for (const auto& connection : results.at(0).connections)
      for (const auto& c : connection.checks)
        if (c.rule->id == "anchor.data" && connection.id == "LG") {
          seen = true;
          EXPECT_EQ(c.judgement.state, demo ? rules::State::holds : rules::State::engineer);
        }
    EXPECT_TRUE(seen);
  }
}

}  // namespace
}  // namespace jambcheck
