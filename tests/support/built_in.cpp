#include "support/built_in.h"

#include <cmath>
#include <limits>

#include "mechanics/solvers.h"
#include "support/program.h"

namespace jambcheck::test {
namespace {

const program::NativeRegistry& solvers() {
  static const auto* registry = [] {
    auto* made = new program::NativeRegistry;
    mechanics::add_solvers(*made);
    return made;
  }();
  return *registry;
}

/// The widest of the ranges that the readers of a key allow.
std::pair<double, double> range_of(const rules::Key& key) {
  double lo = std::numeric_limits<double>::infinity(), hi = -lo;
  for (const auto& [rule, input] : key.consumers)
    if (input->range) {
      lo = std::min(lo, input->range->lo);
      hi = std::max(hi, input->range->hi);
    }
  if (!(lo <= hi)) return {0, 10};
  return {lo, std::min(hi, lo + 1e5)};
}

double random_value(const rules::Source& source, const rules::RuleSet& set, std::mt19937_64& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  const double kind = unit(random);
  if (kind < 0.02) return std::numeric_limits<double>::quiet_NaN();
  if (source.key->is_word) {
    const auto& words = source.key->words;
    if (words.empty()) return std::numeric_limits<double>::quiet_NaN();
    return static_cast<double>(set.symbols().find(words[random() % words.size()]));
  }
  const auto [lo, hi] = range_of(*source.key);
  if (kind < 0.05) return lo;
  if (kind < 0.08) return hi;
  return lo - 0.02 * (hi - lo) + 1.04 * (hi - lo) * unit(random);
}

}  // namespace

std::unique_ptr<Loaded> load_with(const std::string& rules_folder) {
  auto loaded = std::make_unique<Loaded>();
  rules::Folders folders{{{source_dir() + "/rules", "rules"}}, {{source_dir() + "/tables", "tables"}}};
  if (!rules_folder.empty()) folders.rules.push_back({rules_folder, "added"});
  loaded->set = rules::load(folders, solvers(), loaded->sources, loaded->diagnostics);
  return loaded;
}

const rules::RuleSet& built_in() {
  static const auto loaded = load_with("");
  if (!loaded->set) throw std::runtime_error(text::render(loaded->diagnostics));
  return *loaded->set;
}

std::vector<const rules::Rule*> rules_below(const std::string& prefix) {
  std::vector<const rules::Rule*> out;
  for (const auto& rule : built_in().rules())
    if (rule->id.starts_with(prefix)) out.push_back(rule.get());
  return out;
}

std::vector<std::vector<double>> random_columns(const rules::Plan& plan, std::size_t cases, std::mt19937_64& random) {
  std::vector<std::vector<double>> columns;
  for (const auto& source : plan.sources()) {
    auto& column = columns.emplace_back(cases);
    for (double& value : column) value = random_value(source, plan.set(), random);
  }
  return columns;
}

std::vector<rules::Words> lag_screw_words() {
  std::vector<rules::Words> out;
  for (const char* method : {"ASD", "LRFD"})
    for (const char* capacity : {"formula", "table"})
      for (const char* side : {"steel", "wood"})
        out.push_back({{"base.material", "wood"}, {"fastener.kind", "lag_screw"}, {"basis.method", method}, {"basis.capacity", capacity}, {"side.material", side}});
  return out;
}

std::shared_ptr<const rules::Plan> plan_alone(const rules::Rule& rule, const rules::Words& words) {
  rules::PlanRequest request;
  request.words = words;
  for (const auto& input : rule.inputs) request.give(*input.info);
  request.targets = {&rule};
  return std::make_shared<const rules::Plan>(built_in(), request);
}

}  // namespace jambcheck::test
