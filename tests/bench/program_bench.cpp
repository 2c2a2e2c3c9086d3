// How fast the block program of two real rules is, beside the same formulas written by hand in C++: with everything
// different in every case, and as a search has them, fasteners times load cases in one jamb. One process, rounds that
// alternate, the least time of each; the ratios are what counts, the times are this machine's.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <random>
#include <span>

#include "lag_formulas.h"
#include "exec/pairs.h"
#include "rules/plan.h"
#include "support/built_in.h"

namespace {

using namespace jambcheck;

constexpr std::size_t kCases = 100000;
constexpr int kRounds = 15;

double seconds(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// One column a source of the plan, by the name of its key.
struct Cases {
  std::map<std::string, std::vector<double>> columns;
  const double* at(const char* key) const { return columns.at(key).data(); }
};

Cases random_cases(const rules::RuleSet& set) {
  std::mt19937_64 random(1);
  Cases out;
  const auto fill = [&](const char* key, double lo, double hi) {
    auto& column = out.columns[key];
    column.resize(kCases);
    for (double& x : column) x = std::uniform_real_distribution<double>(lo, hi)(random);
  };
  fill("fastener.diameter", 0.25, 1.25);
  fill("member.specific_gravity", 0.31, 0.73);
  fill("fastener.thread_in_member", 0.5, 8);
  fill("factor.load_duration", 0.9, 1.6);
  fill("factor.wet_service", 0.7, 1);
  fill("factor.temperature", 0.7, 1);
  fill("fastener.root_diameter", 0.15, 1);
  fill("lateral.main_bearing_length", 0.5, 8);
  fill("lateral.side_bearing_length", 0.05, 3);
  fill("member.bearing_strength", 1500, 9000);
  fill("side.bearing_strength", 3000, 90000);
  fill("fastener.bending_yield", 45000, 90000);
  fill("lateral.reduction_I", 4, 5);
  fill("lateral.reduction_II", 3.6, 4.5);
  fill("lateral.reduction_III", 3.2, 4);
  fill("side.gap", 0, 1);
  for (std::size_t i = 0; i < kCases; i += 2) out.columns["side.gap"][i] = 0;
  fill("demand.tension", 0, 2000);
  auto& grain = out.columns["fastener.into_grain"];
  for (std::size_t i = 0; i < kCases; ++i) grain.push_back(static_cast<double>(set.symbols().find(random() % 8 == 0 ? "end" : "side")));
  auto& end = out.columns["end"];
  for (const double g : grain) end.push_back(g == static_cast<double>(set.symbols().find("end")) ? 1 : 0);
  return out;
}

bench::LagColumns lag_columns(const Cases& cases) {
  return {cases.at("fastener.diameter"), cases.at("member.specific_gravity"), cases.at("fastener.thread_in_member"),
          cases.at("factor.load_duration"), cases.at("factor.wet_service"), cases.at("factor.temperature"), cases.at("end"),
          cases.at("fastener.root_diameter"), cases.at("lateral.main_bearing_length"), cases.at("lateral.side_bearing_length"),
          cases.at("member.bearing_strength"), cases.at("side.bearing_strength"), cases.at("fastener.bending_yield"),
          cases.at("lateral.reduction_I"), cases.at("lateral.reduction_II"), cases.at("lateral.reduction_III"), cases.at("side.gap")};
}

/// What does not change in a jamb, and what changes from load case to load case; all else is the fastener's.
constexpr const char* kOfTheJamb[] = {"member.specific_gravity", "factor.wet_service", "factor.temperature", "fastener.into_grain", "end", "member.bearing_strength",
                                      "lateral.reduction_I", "lateral.reduction_II", "lateral.reduction_III", "side.gap"};
constexpr const char* kOfTheLoad[] = {"factor.load_duration", "demand.tension"};

/// Fasteners x load cases in one jamb: the pairs executor works out once what hangs on one of them; the ordinary loop calls
/// both formulas for every pair.
void as_a_search(const rules::Plan& plan, std::span<const program::Value> wanted, const Cases& random) {
  constexpr std::size_t kRows = 1000, kColumns = 100, kRowsAtOnce = 10;
  const auto is = [](const auto& list, const std::string& name) { return std::find(std::begin(list), std::end(list), name) != std::end(list); };
  const auto extent = [&](const std::string& name) { return is(kOfTheJamb, name) ? exec::Extent::one : is(kOfTheLoad, name) ? exec::Extent::columns : exec::Extent::rows; };
  Cases pairs;  // the same numbers, written out for every pair
  for (const auto& [name, column] : random.columns) {
    auto& out = pairs.columns[name];
    for (std::size_t r = 0; r < kRows; ++r)
      for (std::size_t c = 0; c < kColumns; ++c) out.push_back(column[extent(name) == exec::Extent::one ? 1 : extent(name) == exec::Extent::rows ? r : c]);
  }
  const bench::LagColumns by_name = lag_columns(pairs);
  const exec::Compiled compiled(plan.program(), wanted, exec::Keep::wanted);
  exec::Pairs run(compiled);
  std::vector<double> R[2], Z[2];
  for (int way = 0; way < 2; ++way) {
    R[way].resize(kRows * kColumns);
    Z[way].resize(kRows * kColumns);
  }
  const auto program = [&] {
    std::vector<exec::PairInput> inputs;
    for (std::size_t first = 0; first < kRows; first += kRowsAtOnce) {
      inputs.clear();
      for (const auto& source : plan.sources()) {
        const auto it = random.columns.find(source.key->name);
        const auto e = it == random.columns.end() ? exec::Extent::one : extent(source.key->name);
        inputs.push_back({it == random.columns.end() ? &source.assumed : it->second.data() + (e == exec::Extent::rows ? first : e == exec::Extent::one ? 1 : 0), e});
      }
      run.run(inputs, kRowsAtOnce, kColumns);
      for (std::size_t k = 0; k < 2; ++k) {
        const auto values = run.values(compiled.slot(wanted[k]));
        double* out = (k == 0 ? R[0] : Z[0]).data() + first * kColumns;
        for (std::size_t r = 0; r < kRowsAtOnce; ++r)
          for (std::size_t c = 0; c < kColumns; ++c) *out++ = values.at(r, c);
      }
    }
  };
  double least[2] = {1e9, 1e9}, off = 0;
  for (int round = 0; round < kRounds; ++round) {
    least[0] = std::min(least[0], seconds(program));
    least[1] = std::min(least[1], seconds([&] { bench::by_hand(by_name, R[1].data(), Z[1].data(), kRows * kColumns); }));
  }
  for (std::size_t i = 0; i < kRows * kColumns; ++i) off = std::max({off, std::fabs(R[0][i] / R[1][i] - 1), std::fabs(Z[0][i] / Z[1][i] - 1)});
  std::printf("The same as a search has them: %zu fasteners x %zu load cases in one jamb\n", kRows, kColumns);
  std::printf("  block program over pairs %7.1f ns a pair, by hand, C++ -O3 %7.1f ns a pair     program / by hand -O3: %.2f     largest difference: %.1e\n", 1e9 * least[0] / (kRows * kColumns),
              1e9 * least[1] / (kRows * kColumns), least[0] / least[1], off);
}

}  // namespace

int main() {
  const auto& set = test::built_in();
  const rules::Rule &withdrawal = *set.rule("wood.lag_screw.withdrawal"), &lateral = *set.rule("wood.lag_screw.lateral_yield");
  rules::PlanRequest request;
  request.words = {{"base.material", "wood"}, {"fastener.kind", "lag_screw"}, {"basis.capacity", "formula"}};
  request.targets = {&withdrawal, &lateral};
  for (const auto* rule : request.targets)
    for (const auto& input : rule->inputs) request.given.insert(input.key);
  const rules::Plan plan(set, request);
  const program::Value wanted[] = {plan.value(withdrawal, "R"), plan.value(lateral, "Z")};
  const exec::Compiled compiled(plan.program(), wanted, exec::Keep::wanted);

  Cases cases = random_cases(set);
  std::vector<exec::Column> columns;
  for (const auto& source : plan.sources()) {
    auto& column = cases.columns[source.key->name];
    if (column.empty()) column.assign(kCases, source.assumed == source.assumed ? source.assumed : 0);
    columns.push_back({column.data(), false});
  }
  const bench::LagColumns by_name = lag_columns(cases);

  exec::Scratch scratch(compiled);
  std::vector<double> R[3], Z[3];
  for (int way = 0; way < 3; ++way) {
    R[way].resize(kCases);
    Z[way].resize(kCases);
  }
  const auto program = [&] {
    for (std::size_t at = 0; at < kCases; at += exec::kBlock) {
      const std::size_t count = std::min(exec::kBlock, kCases - at);
      exec::run_block(compiled, columns, at, count, scratch);
      for (std::size_t i = 0; i < count; ++i) {
        R[0][at + i] = scratch.read(compiled.slot(wanted[0]), i);
        Z[0][at + i] = scratch.read(compiled.slot(wanted[1]), i);
      }
    }
  };
  double least[3] = {1e9, 1e9, 1e9};
  for (int round = 0; round < kRounds; ++round) {
    least[0] = std::min(least[0], seconds(program));
    least[1] = std::min(least[1], seconds([&] { bench::by_hand(by_name, R[1].data(), Z[1].data(), kCases); }));
    least[2] = std::min(least[2], seconds([&] { bench::by_hand_vectorised(by_name, R[2].data(), Z[2].data(), kCases); }));
  }
  double off = 0;
  for (std::size_t i = 0; i < kCases; ++i)
    for (int way = 0; way < 2; ++way)
      off = std::max({off, std::fabs(R[way][i] / R[2][i] - 1), std::fabs(Z[way][i] / Z[2][i] - 1)});

  const char* names[] = {"block program (with ranges and reasons)", "by hand, C++ -O3", "by hand, vectorised, -ffast-math"};
  std::printf("Withdrawal and the six yield modes of a lag screw, with and without gap; %zu cases, one thread, least of %d rounds\n", kCases, kRounds);
  for (int way = 0; way < 3; ++way) std::printf("  %-42s %7.1f ns a case\n", names[way], 1e9 * least[way] / kCases);
  std::printf("  program / by hand -O3: %.2f     program / vectorised: %.2f     largest difference of any two: %.1e\n", least[0] / least[1], least[0] / least[2], off);
  as_a_search(plan, wanted, cases);
  return off < 1e-9 ? 0 : 1;
}
