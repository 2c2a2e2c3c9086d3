// Many cases at once give the bits of each case alone, in any block, on any thread, in any order.
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>
#include <thread>

#include "rules/judge.h"
#include "support/built_in.h"

namespace jambcheck {
namespace {

using rules::CheckPoint;
using rules::Plan;

/// What a check gives for one case; without a value the bits are those of one kind of NaN.
struct Answer {
  std::uint64_t demand = 0, capacity = 0, ratio = 0;
  rules::State state = rules::State::engineer;
  bool operator==(const Answer&) const = default;
};

std::uint64_t bits(double value) { return std::isnan(value) ? ~std::uint64_t{0} : std::bit_cast<std::uint64_t>(value); }

Answer answer(const Plan& plan, const exec::Compiled& compiled, const CheckPoint& check, const exec::Scratch& scratch, std::size_t lane,
              const std::vector<double>& values) {
  Answer out;
  out.demand = bits(scratch.read(compiled.slot(check.demand), lane));
  out.capacity = bits(scratch.read(compiled.slot(check.capacity), lane));
  double ratio = 0;
  out.state = rules::state_of(plan, compiled, check, scratch, lane, values, ratio);
  out.ratio = bits(ratio);
  return out;
}

using Columns = std::vector<std::vector<double>>;

/// Cases first..last-1 in blocks; answers by case, checks of a case side by side.
void run(const Plan& plan, const exec::Compiled& compiled, const Columns& columns, std::size_t first, std::size_t last, std::size_t block,
         std::vector<Answer>& answers) {
  std::vector<exec::Column> data;
  for (const auto& column : columns) data.push_back({column.data(), false});
  exec::Scratch scratch(compiled);
  std::vector<double> values(columns.size());
  for (std::size_t at = first; at < last; at += block) {
    const std::size_t count = std::min(block, last - at);
    exec::run_block(compiled, data, at, count, scratch);
    for (std::size_t lane = 0; lane < count; ++lane) {
      for (std::size_t s = 0; s < columns.size(); ++s) values[s] = columns[s][at + lane];
      for (std::size_t c = 0; c < plan.checks().size(); ++c)
        answers[(at + lane) * plan.checks().size() + c] = answer(plan, compiled, plan.checks()[c], scratch, lane, values);
    }
  }
}

std::vector<Answer> batch(const Plan& plan, const Columns& columns, std::size_t cases, std::size_t block) {
  std::vector<Answer> answers(cases * plan.checks().size());
  run(plan, plan.batch(), columns, 0, cases, block, answers);
  return answers;
}

std::vector<Answer> one_by_one(const Plan& plan, const Columns& columns, std::size_t cases) {
  std::vector<Answer> answers(cases * plan.checks().size());
  run(plan, plan.replay(), columns, 0, cases, 1, answers);
  return answers;
}

/// Every lag-screw rule by itself, and all limit states together from what a user gives.
std::vector<std::shared_ptr<const Plan>> plans() {
  std::vector<std::shared_ptr<const Plan>> out;
  const auto& set = test::built_in();
  for (const auto& words : test::lag_screw_words()) {
    rules::PlanRequest whole;
    whole.words = words;
    for (const rules::Rule* rule : test::rules_below("wood.lag_screw.")) {
      if (!rule->check || rules::applies(*rule, set, words, nullptr) == rules::Truth::no) continue;
      out.push_back(test::plan_alone(*rule, words));
      whole.targets.push_back(rule);
    }
    for (const auto& [name, key] : set.keys())
      if (key.declared && key.producers.empty()) whole.give(key);
    out.push_back(std::make_shared<const Plan>(set, whole));
  }
  return out;
}

TEST(Batch, EveryBlockGivesTheBitsOfTheCaseAlone) {
  std::mt19937_64 random(2018);
  constexpr std::size_t kCases = 300;
  std::size_t values = 0;
  for (const auto& plan : plans()) {
    const auto columns = test::random_columns(*plan, kCases, random);
    const auto alone = one_by_one(*plan, columns, kCases);
    for (const std::size_t block : {std::size_t{1}, std::size_t{7}, std::size_t{8}, std::size_t{256}})
      ASSERT_EQ(batch(*plan, columns, kCases, block), alone) << plan->checks().front().rule->id << " in blocks of " << block;
    for (const auto& a : alone) values += a.ratio != ~std::uint64_t{0} ? 1U : 0U;
  }
  EXPECT_GT(values, 1000U) << "the random cases hardly ever give a ratio";
}

TEST(Batch, ThreadsDoNotMatter) {
  std::mt19937_64 random(1);
  constexpr std::size_t kCases = 4000, kBlock = 256;
  const auto plan = plans().back();
  const auto columns = test::random_columns(*plan, kCases, random);
  const auto one = batch(*plan, columns, kCases, kBlock);
  for (const std::size_t threads : {std::size_t{2}, std::size_t{3}}) {
    std::vector<Answer> answers(one.size());
    std::vector<std::jthread> workers;
    for (std::size_t t = 0; t < threads; ++t)
      workers.emplace_back([&, t] {
        for (std::size_t at = t * kBlock; at < kCases; at += threads * kBlock)
          run(*plan, plan->batch(), columns, at, std::min(at + kBlock, kCases), kBlock, answers);
      });
    workers.clear();
    EXPECT_EQ(answers, one) << threads << " threads";
  }
}

TEST(Batch, OrderDoesNotMatter) {
  std::mt19937_64 random(7);
  constexpr std::size_t kCases = 1000;
  for (const auto& plan : plans()) {
    const auto columns = test::random_columns(*plan, kCases, random);
    std::vector<std::size_t> order(kCases);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::shuffle(order.begin(), order.end(), random);
    Columns shuffled = columns;
    for (std::size_t s = 0; s < columns.size(); ++s)
      for (std::size_t i = 0; i < kCases; ++i) shuffled[s][i] = columns[s][order[i]];
    const auto straight = batch(*plan, columns, kCases, 256), mixed = batch(*plan, shuffled, kCases, 256);
    const std::size_t width = plan->checks().size();
    for (std::size_t i = 0; i < kCases; ++i)
      for (std::size_t c = 0; c < width; ++c) ASSERT_EQ(mixed[i * width + c], straight[order[i] * width + c]) << plan->checks()[c].rule->id;
  }
}

TEST(Batch, MissingIsNeverAYes) {
  for (const auto& plan : plans()) {
    const std::vector<double> nothing(plan->sources().size(), std::numeric_limits<double>::quiet_NaN());
    Columns columns;
    for (const double value : nothing) columns.push_back({value});
    for (const auto& a : one_by_one(*plan, columns, 1)) EXPECT_NE(a.state, rules::State::holds);
  }
}

}  // namespace
}  // namespace jambcheck
