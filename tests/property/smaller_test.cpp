// A bigger screw may be the weaker one: the tool says so, and what it says is proven by a run.
#include "verdict/smaller.h"

#include <gtest/gtest.h>

#include "support/shipped.h"

namespace jambcheck {
namespace {

const verdict::CheckResult& check_of(const verdict::OpeningResult& result, const std::string& address) {
  for (const auto& c : result.connections)
    for (const auto& check : c.checks)
      if (check.address == address) return check;
  throw std::runtime_error("no check " + address);
}

class Smaller : public Shipped {
 protected:
  /// The first project between the jambs in dense wood, its guide of thin metal: sideways load decides.
  static verdict::OpeningResult with_lag(const std::string& size, const std::string& plate) {
    std::string text = content_of("cases/first/project.yaml");
    text = with(text, "mount: face", "mount: between");
    text = with(text, "species: DFL", "species: SP");
    text = with(text, "fastener: lag 3/8 x 4", "fastener: lag " + size + " x 4");
    text = with(text, "plate: 0.075\"", "plate: " + plate);
    return check(read_text("smaller", text)).front();
  }
};

TEST_F(Smaller, ScrewInThinMetalIsNamedWithTheRatioOfItsOwnRun) {
  const auto larger = with_lag("3/8", "0.1046\""), smaller = with_lag("5/16", "0.1046\"");
  const auto found = verdict::smaller_is_stronger(set(), check_of(larger, "D-1/LG/L1/W2"));
  ASSERT_TRUE(found.has_value());
  EXPECT_DOUBLE_EQ(found->diameter, 0.3125);
  EXPECT_NEAR(found->ratio, check_of(smaller, "D-1/LG/L1/W2").judgement.ratio, 1e-12);
}

TEST_F(Smaller, NothingIsSaidWhereMoreSteelIsMoreStrength) {
  const auto result = with_lag("3/8", "0.1046\"");
  EXPECT_FALSE(verdict::smaller_is_stronger(set(), check_of(result, "D-1/LG/L1/W1")).has_value()) << "pull-out grows with the diameter";
  EXPECT_FALSE(verdict::smaller_is_stronger(set(), check_of(with_lag("1/4", "0.1046\""), "D-1/LG/L1/W2")).has_value()) << "there is no smaller one";
}

}  // namespace
}  // namespace jambcheck
