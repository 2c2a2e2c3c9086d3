// Nothing is hard-coded: a changed number in rules/ changes the answer and turns a published test red, and a rule with
// a slip does not load.
#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include <fmt/format.h>

#include "support/built_in.h"
#include "support/program.h"

namespace jambcheck {
namespace {

const std::string kRules = test::source_dir() + "/rules";

std::unique_ptr<test::Loaded> load_changed(const std::string& path, const std::string& text, const test::ScratchFolder& scratch) {
  test::write_file(scratch.path() + path.substr(kRules.size()), text);
  return test::load_with(scratch.path());
}

std::size_t misses(test::Loaded& loaded) {
  text::Diagnostics diagnostics;
  const auto report = rules::run_selftest(*loaded.set, {test::source_dir() + "/tests/published"}, loaded.sources, diagnostics);
  return report.misses.size();
}

TEST(Mutation, NothingIsMissedUnchanged) {
  auto loaded = test::load_with("");
  ASSERT_TRUE(loaded->set);
  EXPECT_EQ(misses(*loaded), 0U);
}

/// Every constant of the lag-screw rules: a published test notices when it is a little larger, much larger or much
/// smaller. (A bound between two ways of counting is noticed only when it passes a test's value.)
TEST(Mutation, EveryConstantIsHeldByATest) {
  const std::regex constant(R"((\w+): *\{value: *([0-9.e+-]+)(/[0-9.]+)?)");
  const std::size_t unchanged = misses(*test::load_with(""));
  std::size_t tried = 0;
  for (const auto& path : test::files_below(kRules + "/wood/lag_screw", ".yaml")) {
    const std::string text = test::read_file(path);
    for (std::sregex_iterator it(text.begin(), text.end(), constant), end; it != end; ++it) {
      const auto& match = *it;
      const double value = std::stod(match[2]);
      // A zero stands for "none" and has no size; l_12L says beside which cases a printed table stands, no answer.
      if (value == 0 || match[1] == "l_12L") continue;
      bool noticed = false;
      for (const double factor : {1.01, 1.7, 0.5}) {
        std::string changed = text;
        changed.replace(static_cast<std::size_t>(match.position(2)), static_cast<std::size_t>(match.length(2)),
                        match[3].matched ? std::to_string(std::lround(value * factor + 0.5)) : fmt::format("{}", value * factor));
        const test::ScratchFolder scratch;
        auto loaded = load_changed(path, changed, scratch);
        ASSERT_TRUE(loaded->set) << path << "\n" << text::render(loaded->diagnostics);
        noticed = misses(*loaded) > unchanged;
        if (noticed) break;
      }
      EXPECT_TRUE(noticed) << path << ": no test notices that " << match.str(0) << " is changed";
      ++tried;
    }
  }
  EXPECT_GT(tried, 20U);
}

TEST(Mutation, AChangedCoefficientChangesTheAnswer) {
  const test::ScratchFolder scratch;
  const std::string path = kRules + "/wood/lag_screw/withdrawal.yaml";
  const std::string text = test::read_file(path);
  test::write_file(scratch.path() + "/wood/lag_screw/withdrawal.yaml", test::replace_all(text, "value: 1800", "value: 1900"));
  const std::string command = "jambcheck rule wood.lag_screw.withdrawal --given base.material=wood --given fastener.kind=lag_screw --given basis.capacity=formula "
                              "--given fastener.diameter='1/2 in' --given member.specific_gravity=0.5 --given fastener.into_grain=side";
  const auto before = test::run_shell(command), after = test::run_shell(command + " --rules " + scratch.path());
  EXPECT_NE(before.out.find("378.4 lbf/in"), std::string::npos) << before.out << before.err;
  EXPECT_NE(after.out.find("399.4 lbf/in"), std::string::npos) << after.out << after.err;
  EXPECT_EQ(test::run_shell("jambcheck selftest tests/published").exit, 0);
  EXPECT_EQ(test::run_shell("jambcheck selftest tests/published --rules " + scratch.path()).exit, 6);
}

struct Slip {
  const char* what;
  std::string from, to;
  const char* message;
};

TEST(Mutation, ARuleWithASlipDoesNotLoad) {
  const std::string path = kRules + "/wood/lag_screw/withdrawal.yaml";
  const std::string text = test::read_file(path);
  const std::vector<Slip> slips = {{"exponent", "D^(3/4)", "D^(2/3)", "U029"},
                                   {"unit of a constant", "unit: lbf/in^(7/4)", "unit: lbf/in", "U029"},
                                   {"unknown unit", "unit: lbf/in^(7/4)", "unit: lbs/in^(7/4)", "U002"},
                                   {"name", "W * C_D", "W * C_d", "E010"},
                                   {"clause", "k_eg: {value: 0.75, unit: \"1\", cite: c2}", "k_eg: {value: 0.75, unit: \"1\", cite: c8}", "C001"},
                                   {"document", "doc: nds-2018, at: \"12.2.1.1\"", "doc: nds-2081, at: \"12.2.1.1\"", "C003"},
                                   {"cycle", "p_t: {from: fastener.thread_in_member, unit: in", "p_t: {from: withdrawal.loop, unit: in", "G003"},
                                   {"word", "grain == end", "grain == ends", "E011"},
                                   {"number in place of a constant", "k_W * G^(3/2)", "1800 * G^(3/2)", "U029"}};
  for (const auto& slip : slips) {
    ASSERT_NE(text.find(slip.from), std::string::npos) << slip.what;
    std::string changed = test::replace_all(text, slip.from, slip.to);
    if (std::string(slip.what) == "cycle") changed = test::replace_all(changed, "outputs:\n", "outputs:\n  p_t: {to: withdrawal.length}\n");
    const test::ScratchFolder scratch;
    if (std::string(slip.what) == "cycle")
      test::write_file(scratch.path() + "/loop.yaml",
                       "schema: rule/1\nid: loop\ntitle: loop\nstatus: draft\nmethod: any\nclauses: {c1: {doc: own, seen: recomputed}}\n"
                       "inputs: {x: {from: withdrawal.length, unit: in, cite: c1}}\n"
                       "steps: [{let: y, be: x + x, unit: in, cite: c1}]\noutputs: {y: {to: withdrawal.loop}}\n");
    const auto loaded = load_changed(path, changed, scratch);
    EXPECT_FALSE(loaded->set) << slip.what;
    const std::string said = text::render(loaded->diagnostics);
    EXPECT_NE(said.find(std::string(" ") + slip.message + ": "), std::string::npos) << slip.what << "\n" << said;
  }
}

}  // namespace
}  // namespace jambcheck
