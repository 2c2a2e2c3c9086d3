// Two states of a project side by side.
#include <gtest/gtest.h>

#include "compare/compare.h"
#include "papers/check_report.h"
#include "support/shipped.h"

namespace jambcheck {
namespace {

constexpr const char* kFirst = "cases/first/project.yaml";

class Compare : public Shipped {
 protected:
  static compare::Side side(const std::string& text) {
    const auto project = read_text("plan.yaml", text);
    return compare::side_of(project, check(project));
  }
  static std::string first() { return content_of(kFirst); }
};

TEST_F(Compare, TheSameIsTheSame) {
  const auto c = compare::compare(side(first()), side(first()), 0);
  EXPECT_FALSE(c.worse);
  EXPECT_EQ(c.same, 1U);
  EXPECT_TRUE(c.inputs.empty());
}

TEST_F(Compare, AnotherUnitIsNoChange) {
  const auto c = compare::compare(side(first()), side(with(first(), "spacing: 24\"", "spacing: 609.6 mm")), 0.005);
  EXPECT_TRUE(c.inputs.empty());
  EXPECT_FALSE(c.worse);
}

TEST_F(Compare, WiderSpacingIsWorseAndTheWayBackIsBetter) {
  const auto near = side(first()), far = side(with(first(), "spacing: 24\"", "spacing: 36\""));
  const auto c = compare::compare(near, far, 0.005);
  ASSERT_EQ(c.inputs.size(), 1U);
  EXPECT_EQ(c.inputs[0].field, "guide.spacing");
  ASSERT_EQ(c.results.size(), 1U);
  EXPECT_TRUE(c.worse);
  EXPECT_FALSE(compare::compare(far, near, 0.005).worse);
}

TEST_F(Compare, TheThresholdDecidesWhatMoved) {
  const auto a = side(first()), b = side(with(first(), "edge: 2\"", "edge: 1-15/16\""));
  EXPECT_TRUE(compare::compare(a, b, 10).results.empty());
  EXPECT_FALSE(compare::compare(a, b, 10).worse);
}

TEST_F(Compare, QuestionsComeAndGo) {
  const auto a = side(first()), b = side(with(first(), "species: DFL", "species: unknown"));
  const auto c = compare::compare(a, b, 0.005);
  EXPECT_TRUE(c.worse);
  EXPECT_FALSE(c.questions_new.empty());
  EXPECT_EQ(compare::compare(b, a, 0.005).questions_gone.size(), c.questions_new.size());
}

TEST_F(Compare, OpeningsComeAndGo) {
  const std::string two = first() + "  - {mark: D-2, like: D-1}\n", open = first() + "  - {mark: D-2, like: D-1, jamb: {species: unknown}}\n";
  const auto added = compare::compare(side(first()), side(two), 0.005);
  EXPECT_EQ(added.added.size(), 1U);
  EXPECT_FALSE(added.worse);
  EXPECT_TRUE(compare::compare(side(first()), side(open), 0.005).worse);
  EXPECT_EQ(compare::compare(side(two), side(first()), 0.005).removed.size(), 1U);
}

TEST_F(Compare, AResultStandsForItsProject) {
  const auto project = read_text("plan.yaml", first());
  const auto results = check(project);
  std::string problem;
  const auto from_json = compare::side_of_json(papers::check_json(project, results, set(), {}), problem);
  ASSERT_TRUE(from_json) << problem;
  const auto c = compare::compare(*from_json, side(first()), 1e-9);
  EXPECT_FALSE(c.inputs_known);
  EXPECT_TRUE(c.results.empty());
  EXPECT_TRUE(c.inputs.empty()) << c.inputs[0].field << c.inputs[0].before << c.inputs[0].after;
}

TEST_F(Compare, WhatIsNoResultIsTold) {
  std::string problem;
  for (const char* text : {"{", "{}", "{\"format\": \"rules/1\"}", "{\"format\": \"result/1\"}"}) {
    problem.clear();
    EXPECT_FALSE(compare::side_of_json(text, problem)) << text;
    EXPECT_FALSE(problem.empty()) << text;
  }
}

}  // namespace
}  // namespace jambcheck
