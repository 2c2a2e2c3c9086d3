// Random formulas: what is printed reads back as the same tree. Random bytes: every reader refuses, none falls over.
#include <gtest/gtest.h>

#include <random>

#include "expr/print.h"
#include "expr/tree.h"
#include "support/built_in.h"
#include "support/program.h"
#include "units/quantity.h"

namespace jambcheck {
namespace {

using Random = std::mt19937_64;

std::size_t pick(Random& random, std::size_t below) { return random() % below; }

/// A formula with more brackets and blanks than it needs.
std::string formula(Random& random, int depth) {
  static const std::vector<std::string> leaves = {"a", "b_1", "G", "0", "1.5", "2e-3", "x.y", ".25"};
  static const std::vector<std::string> signs = {" + ", "-", " * ", "/", "^", " <", ">= ", " == ", "!=", " and ", " or "};
  static const std::vector<std::string> comparisons = {"<", ">=", "==", "!=", "<=", ">"};
  if (depth == 0) return leaves[pick(random, leaves.size())];
  const auto inner = [&] { return "(" + formula(random, depth - 1) + ")"; };
  switch (pick(random, 8)) {
    case 0: return "-" + inner();
    case 1: return "not " + inner();
    case 2: return "if(" + formula(random, depth - 1) + ", " + formula(random, depth - 1) + "," + formula(random, depth - 1) + ")";
    case 3: return "min(" + formula(random, depth - 1) + " , " + formula(random, depth - 1) + ")";
    case 4: return "sqrt( " + formula(random, depth - 1) + ")";
    case 5: return leaves[pick(random, leaves.size())] + signs[pick(random, 5)] + leaves[pick(random, leaves.size())];
    default: return inner() + signs[pick(random, signs.size())] + inner();
  }
}

std::string structure(const expr::Tree& tree, expr::NodeId id) {
  const auto& node = tree.at(id);
  std::string out = "(" + std::to_string(static_cast<int>(node.kind)) + " " + node.text;
  for (const auto arg : node.args) out += structure(tree, arg);
  return out + ")";
}

TEST(Formulas, PrintedAndReadAgainAreTheSame) {
  Random random(5);
  std::size_t read = 0;
  for (int n = 0; n < 20000; ++n) {
    const auto text = formula(random, 1 + static_cast<int>(pick(random, 4)));
    const auto tree = expr::parse(text);
    if (!tree) continue;
    ++read;
    const auto printed = expr::print(*tree);
    const auto again = expr::parse(printed);
    ASSERT_TRUE(again) << text << "\n" << printed;
    ASSERT_EQ(structure(*tree, tree->root()), structure(*again, again->root())) << text << "\n" << printed;
    ASSERT_EQ(printed, expr::print(*again));
  }
  EXPECT_GT(read, 15000U);
}

TEST(Formulas, ThoseOfTheRulesPrintAndReadAgain) {
  for (const auto& rule : test::built_in().rules())
    for (const auto& step : rule->steps) {
      const auto again = expr::parse(expr::print(step.formula.tree));
      ASSERT_TRUE(again) << rule->id << " " << step.name;
      EXPECT_EQ(structure(step.formula.tree, step.formula.tree.root()), structure(*again, again->root())) << rule->id << " " << step.name;
    }
}

/// A known text with bytes changed, taken out, put in and doubled.
std::string damaged(std::string text, Random& random) {
  const std::size_t slips = 1 + pick(random, 4);
  for (std::size_t n = 0; n < slips && !text.empty(); ++n) {
    const std::size_t at = pick(random, text.size());
    switch (pick(random, 4)) {
      case 0: text[at] = static_cast<char>(random()); break;
      case 1: text.erase(at, 1 + pick(random, 8)); break;
      case 2: text.insert(at, 1, "{}[]:,\"'\n #&*!|-0"[pick(random, 17)]); break;
      default: text.insert(at, text.substr(at, pick(random, 40))); break;
    }
  }
  return text;
}

TEST(Garbage, NeverBringsAReaderDown) {
  Random random(11);
  const std::vector<std::string> seeds = {"if(G > 0.5, k * G^(3/2) * D^(3/4), min(a, b))", "lbf/in^(7/4)", "7'-4 5/8\"", "24.6 psf", "psi^(1/2)*in^(1/2)",
                                          "2251.075 mm", "((((((((a))))))))", "\xef\xbb\xbf" "1/2 in", "not not a == b"};
  for (int n = 0; n < 60000; ++n) {
    const auto text = damaged(seeds[pick(random, seeds.size())], random);
    if (const auto tree = expr::parse(text)) {
      EXPECT_FALSE(expr::print(*tree).empty());
    }
    (void)units::parse_unit(text);
    (void)units::parse_length(text);
    (void)units::parse_quantity(text);
  }
  const std::string deep(100000, '('), flow(100000, '[');
  EXPECT_FALSE(expr::parse(deep));
  EXPECT_FALSE(expr::parse(std::string(100000, '-') + "a"));
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  (void)yaml::parse(*sources.add("flow", flow), diagnostics);
  EXPECT_TRUE(diagnostics.has_errors());
}

TEST(Garbage, DamagedRulesAreRefusedOrRead) {
  Random random(13);
  const std::string rule = test::read_file(test::source_dir() + "/rules/wood/lag_screw/withdrawal.yaml");
  const std::string table = test::read_file(test::source_dir() + "/tables/wood/lag_screw/table_12_2a.yaml");
  program::NativeRegistry none;
  for (int n = 0; n < 400; ++n) {
    const test::ScratchFolder scratch;
    test::write_file(scratch.path() + "/r/wood/lag_screw/withdrawal.yaml", damaged(rule, random));
    test::write_file(scratch.path() + "/t/wood/lag_screw/table_12_2a.yaml", damaged(table, random));
    text::SourceSet sources;
    text::Diagnostics diagnostics;
    (void)rules::load({{{scratch.path() + "/r", "r"}}, {{scratch.path() + "/t", "t"}}}, none, sources, diagnostics);
    EXPECT_FALSE(text::render(diagnostics).empty());  // the keys are missing at least
  }
}

}  // namespace
}  // namespace jambcheck
