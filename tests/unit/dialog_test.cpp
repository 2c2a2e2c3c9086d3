// Asking for one opening: driven by streams in place of a terminal.
#include <gtest/gtest.h>

#include <sstream>

#include "dialog/interview.h"
#include "dialog/project_text.h"
#include "dialog/starter.h"
#include "support/shipped.h"

namespace jambcheck {
namespace {

using opening::Written;

std::vector<Written> post_with_lags() {
  return {{"project.method", "ASD", {}}, {"site.wind.inward", "15 psf", {}}, {"site.wind.outward", "17 psf", {}}, {"site.wind.level", "asd", {}}, {"site.moisture", "dry", {}},
          {"size", "8'-0\" x 8'-0\"", {}}, {"mount", "face", {}}, {"face", "inside", {}}, {"gap", "0 in", {}}, {"door.weight", "190 lbf", {}}, {"door.barrel_weight", "70 lbf", {}},
          {"door.windlocks", "no", {}}, {"door.axle_projection", "9\"", {}}, {"door.spring_torque", "52 ft-lb", {}}, {"door.spring_torque_open", "18 ft-lb", {}},
          {"door.curtain_leaves", "wall_side", {}}, {"jamb.kind", "wood", {}}, {"jamb.species", "DFL", {}}, {"jamb.size", "6x6", {}}, {"guide.fastener", "lag 3/8 x 4", {}},
          {"guide.plate", "0.075\"", {}}, {"guide.steel", "A653 SS Gr 33", {}}, {"guide.first", "6\"", {}}, {"guide.spacing", "24\"", {}}, {"guide.edge", "2\"", {}}, {"guide.lip", "1-1/4\"", {}},
          {"guide.toe", "1\"", {}}, {"bracket.fastener", "lag 3/8 x 4", {}}, {"bracket.count", "4", {}}, {"bracket.across", "2-1/2\"", {}}, {"bracket.along", "6\"", {}},
          {"bracket.plate", "4\" x 9\"", {}}, {"bracket.plate_thickness", "3/16\"", {}}, {"bracket.steel", "A36", {}}, {"bracket.axle_offset", "1-1/2\"", {}}, {"bracket.edge", "1-1/2\"", {}},
          {"bracket.end", "8\"", {}}};
}

std::vector<Written> without(std::vector<Written> values, std::initializer_list<std::string_view> paths) {
  for (const auto path : paths)
    values.erase(std::remove_if(values.begin(), values.end(), [&](const Written& v) { return v.path == path; }), values.end());
  return values;
}

class Dialog : public Shipped {
 protected:
  static std::string talk(dialog::Interview& interview, const std::string& answers) {
    std::istringstream in(answers);
    std::ostringstream out;
    interview.run(in, out);
    return out.str();
  }
  static std::string value_of(const dialog::Interview& interview, const std::string& path) {
    for (const auto& v : interview.values())
      if (v.path == path) return v.text;
    return "not given";
  }
};

TEST_F(Dialog, AsksNothingWhenNothingIsOpen) {
  dialog::Interview interview(set(), post_with_lags());
  talk(interview, "");
  EXPECT_EQ(interview.asked(), 0U);
  EXPECT_EQ(interview.result().state, rules::State::holds) << interview.result().why;
}

TEST_F(Dialog, AsksWhatIsMissingAndShowsWhatAnswersGive) {
  dialog::Interview interview(set(), without(post_with_lags(), {"jamb.species"}));
  const std::string said = talk(interview, "DFL\n");
  EXPECT_EQ(interview.asked(), 1U) << said;
  EXPECT_NE(said.find("Which wood is the jamb"), std::string::npos) << said;
  EXPECT_EQ(interview.result().state, rules::State::holds) << said;
}

TEST_F(Dialog, AWrongAnswerIsToldAndAskedAgain) {
  dialog::Interview interview(set(), without(post_with_lags(), {"door.weight"}));
  const std::string said = talk(interview, "190\n190 lb\n");
  EXPECT_EQ(value_of(interview, "door.weight"), "190 lb") << said;
  EXPECT_EQ(interview.asked(), 1U) << said;
  EXPECT_NE(said.find("190"), std::string::npos);
}

TEST_F(Dialog, AWordMayBePickedByItsNumber) {
  dialog::Interview interview(set(), without(post_with_lags(), {"mount"}));
  const std::string said = talk(interview, "1\n");
  EXPECT_EQ(value_of(interview, "mount"), "face") << said;
}

TEST_F(Dialog, UnknownIsAnAnswerAndIsNotAskedTwice) {
  dialog::Interview interview(set(), without(post_with_lags(), {"door.weight"}));
  talk(interview, "unknown\nstop\n");
  EXPECT_EQ(value_of(interview, "door.weight"), "unknown");
  EXPECT_NE(interview.result().state, rules::State::holds);
}

TEST_F(Dialog, TheEndOfTheInputEndsTheTalk) {
  dialog::Interview interview(set(), {});
  talk(interview, "");
  EXPECT_EQ(interview.asked(), 1U);
  EXPECT_NE(interview.result().state, rules::State::holds);
}

TEST_F(Dialog, StopsAtOnceWhenItIsShort) {
  auto values = without(post_with_lags(), {"site.moisture"});
  for (auto& v : values)
    if (v.path == "site.wind.inward") v.text = "80 psf";
  dialog::Interview interview(set(), values);
  const std::string said = talk(interview, "wet\nwet\nwet\n");
  EXPECT_EQ(interview.result().state, rules::State::short_) << said;
  EXPECT_EQ(interview.asked(), 0U) << said;
}

TEST_F(Dialog, WhatWasSaidIsSavedAndGivesTheSame) {
  auto values = post_with_lags();
  values.push_back({"mark", "D-7", {}});
  values.push_back({"guide.fastener.coating", "hot_dip", {}});
  values.push_back({"remarks", "a: b # c, \"d\"", {}});
  dialog::Interview interview(set(), values);
  const auto project = read_text("saved.yaml", dialog::write_project({interview.values(), "remark", true}, set()));
  const auto again = check(project);
  ASSERT_EQ(again.size(), 1U);
  EXPECT_EQ(again[0].mark, "D-7");
  EXPECT_EQ(again[0].state, interview.result().state);
  EXPECT_DOUBLE_EQ(again[0].ratio, interview.result().ratio);
  EXPECT_EQ(project.openings[0].facts.at("remarks").word, "a: b # c, \"d\"");
}

TEST_F(Dialog, TheFileToBeginWithReadsAndAsks) {
  for (const char* kind : {"", "wood", "block", "concrete", "steel"}) {
    dialog::Starter starter(set());
    std::istringstream in(std::string("Row\nD-9\n8'-0\" x 8'-0\"\n") + kind + "\nface\ninside\nno\n165 lb\nlag 3/8 x 4\n24 in\n\n4\n");
    std::ostringstream out;
    starter.ask(in, out);
    const auto project = read_text("start.yaml", starter.text());
    ASSERT_EQ(project.openings.size(), 1U) << starter.text();
    EXPECT_EQ(project.openings[0].mark, "D-9");
    const auto result = check(project);
    EXPECT_NE(result[0].state, rules::State::holds) << kind;
    EXPECT_FALSE(result[0].questions.empty()) << kind;
  }
}

}  // namespace
}  // namespace jambcheck
