// Lists and ranges of values: the answer is the worst of all single answers, whatever is varied.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <random>

#include <fmt/format.h>

#include "support/shipped.h"

namespace jambcheck {
namespace {

using Random = std::mt19937_64;

/// A line of the first project, and what may stand in its place.
struct Varied {
  std::string line;
  std::string field;
  std::vector<std::string> values;
};

const std::vector<Varied> kVaried = {
    {"species: DFL", "species", {"SPF", "DFL", "HF", "SP"}},
    {"size: 6x6", "size", {"6x6", "4x6", "2x8", "2x6"}},
    {"edge: 2\"", "edge", {"3/4\"", "1-1/4\"", "2\"", "2-1/2\""}},
    {"spacing: 24\"", "spacing", {"12\"", "18\"", "24\"", "36\""}},
    {"plate: 0.075\"", "plate", {"0.0478\"", "0.075\"", "0.1046\""}},
    {"weight: 190 lbf", "weight", {"150 lbf", "190 lbf", "260 lbf"}},
    {"windlocks: no", "windlocks", {"no", "yes"}},
    {"moisture: dry", "moisture", {"dry", "wet"}},
    {"axle_projection: 9\"", "axle_projection", {"7\"", "9\"", "14\""}},
    {"spring_torque: 52 ft-lb", "spring_torque", {"30 ft-lb", "52 ft-lb", "90 ft-lb"}},
    {"curtain_leaves: wall_side", "curtain_leaves", {"wall_side", "room_side"}},
    {"fastener: lag 3/8 x 4\n      plate", "fastener", {"lag 1/4 x 3", "lag 3/8 x 4", "lag 3/8 x 3"}},
};

std::string quoted(const std::string& value) { return value.find('"') == std::string::npos ? value : "'" + value + "'"; }

class Choices : public Shipped {
 protected:
  static verdict::OpeningResult result_of(const std::string& text) { return check(read_text("choices", text)).front(); }
  struct Single {
    rules::State state;
    double ratio;
  };
  /// Single answers come up again and again: each is worked out once.
  static Single single(const std::string& text) {
    static std::map<std::string, Single> kept;
    const auto it = kept.find(text);
    if (it != kept.end()) return it->second;
    const auto result = result_of(text);
    return kept[text] = {result.state, result.ratio};
  }
  /// The line of `v` with this value, or list of values, in its place.
  static std::string put(const std::string& text, const Varied& v, const std::string& value) {
    const auto rest = v.line.find('\n');
    return with(text, v.line, v.field + ": " + value + (rest == std::string::npos ? "" : v.line.substr(rest)));
  }
};

TEST_F(Choices, ASetOfValuesIsAsBadAsItsWorst) {
  Random random(77);
  const std::string base = content_of("cases/first/project.yaml");
  for (int n = 0; n < 1000; ++n) {
    const auto a = static_cast<std::size_t>(random() % kVaried.size()), b = (a + 1 + random() % (kVaried.size() - 1)) % kVaried.size();
    const auto some = [&](const Varied& v) {
      std::vector<std::string> out = v.values;
      std::shuffle(out.begin(), out.end(), random);
      out.resize(2);
      return out;
    };
    const auto va = some(kVaried[a]), vb = some(kVaried[b]);
    std::string text = put(base, kVaried[a], fmt::format("[{}, {}]", quoted(va[0]), quoted(va[1])));
    text = put(text, kVaried[b], fmt::format("[{}, {}]", quoted(vb[0]), quoted(vb[1])));
    const auto together = result_of(text);
    auto state = rules::State::not_applicable;
    double ratio = 0;
    for (const auto& x : va)
      for (const auto& y : vb) {
        const Single one = single(put(put(base, kVaried[a], x), kVaried[b], y));
        if (one.state > state) ratio = one.ratio;
        else if (one.state == state) ratio = std::isnan(one.ratio) || std::isnan(ratio) ? std::nan("") : std::max(ratio, one.ratio);
        state = std::max(state, one.state);
      }
    ASSERT_EQ(together.state, state) << text;
    if (state == rules::State::holds || state == rules::State::short_) {
      ASSERT_DOUBLE_EQ(together.ratio, ratio) << text;
    }
    ASSERT_EQ(together.answers.size(), 4u) << text;
  }
}

TEST_F(Choices, ARangeHasItsEndsAndPlacesBetween) {
  const std::string base = content_of("cases/first/project.yaml");
  const auto range = result_of(with(base, "spacing: 24\"", "spacing: 12\" .. 24\""));
  ASSERT_EQ(range.answers.size(), 5u);
  EXPECT_DOUBLE_EQ(range.answers.front().ratio, result_of(with(base, "spacing: 24\"", "spacing: 12\"")).ratio);
  EXPECT_DOUBLE_EQ(range.answers.back().ratio, result_of(base).ratio);
  EXPECT_DOUBLE_EQ(range.ratio, result_of(base).ratio);
  EXPECT_LT(range.answers[2].ratio, range.answers[3].ratio);
}

TEST_F(Choices, EveryAnswerMustHoldForTheWholeToHold) {
  const std::string base = content_of("cases/first/project.yaml");
  EXPECT_EQ(result_of(base).state, rules::State::holds);
  const auto mixed = result_of(with(base, "size: 6x6", "size: [6x6, 2x6]"));
  EXPECT_NE(mixed.state, rules::State::holds);
  EXPECT_EQ(mixed.answers.front().state, rules::State::holds);
}

TEST_F(Choices, ACopyTakesTheChoiceUnlessItSaysItsOwn) {
  const std::string base = with(content_of("cases/first/project.yaml"), "species: DFL", "species: [SPF, DFL]") +
                           "  - {mark: D-2, like: D-1}\n  - {mark: D-3, like: D-1, jamb: {species: SP}}\n";
  const auto results = check(read_text("copies", base));
  ASSERT_EQ(results.size(), 3u);
  EXPECT_EQ(results[1].answers.size(), 2u);
  EXPECT_TRUE(results[2].answers.empty());
  EXPECT_EQ(results[2].state, rules::State::holds);
}

}  // namespace
}  // namespace jambcheck
