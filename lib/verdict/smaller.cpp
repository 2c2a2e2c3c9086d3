#include "verdict/smaller.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "rules/evaluation.h"

namespace jambcheck::verdict {
namespace {

constexpr double kClearly = 1 - 1e-6;

/// Where the sizes of a kind of fastener stand.
constexpr std::array<std::pair<const char*, const char*>, 4> kSizes = {{
    {"lag_screw", "wood.lag_screw.dimensions"},
    {"wood_screw", "fasteners.wood_screws"},
    {"tapping_screw", "fasteners.tapping_screws"},
    {"bolt", "fasteners.bolts"},
}};

/// Diameters of this kind below `diameter`, largest first.
std::vector<double> below(const rules::RuleSet& set, std::string_view kind, double diameter) {
  std::vector<double> out;
  for (const auto& [name, table_id] : kSizes) {
    const table::Table* table = name == kind ? set.table(table_id) : nullptr;
    if (!table || table->axes.empty() || table->axes.front().is_word) continue;
    for (const double at : table->axes.front().at)
      if (at < diameter * kClearly) out.push_back(at);
  }
  std::sort(out.rbegin(), out.rend());
  return out;
}

/// As given, or by its number; NaN where neither is known.
double diameter_of(const CheckResult& check) {
  if (const auto* given = check.values->find("fastener.diameter")) return given->value;
  const auto [rule, name] = check.plan->definition("fastener.diameter");
  return rule ? rules::Evaluation(check.plan, *check.values).value(*rule, name) : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

std::optional<Smaller> smaller_is_stronger(const rules::RuleSet& set, const CheckResult& check) {
  const auto* kind = check.values->find("fastener.kind");
  if (!kind || !kind->is_word || std::isnan(check.judgement.ratio)) return {};
  if (check.rule->check->kind != rules::CheckKind::strength) return {};
  for (const char* measured : {"fastener.root_diameter", "fastener.head_diameter"})
    if (check.values->says(measured)) return {};
  rules::Case values = *check.values;
  values.erase(*set.key("fastener.number"));
  rules::PlanCache plans(set);
  for (const double smaller : below(set, kind->word, diameter_of(check))) {
    values.set(*set.key("fastener.diameter"), {smaller, false, false, {}});
    const rules::Evaluation replay(plans.get(rules::request_for(set, values, {check.rule})), values);
    const rules::CheckPoint* point = replay.plan().check_of(*check.rule);
    if (!point) continue;
    const auto judged = replay.judge(*point);
    const bool sound = judged.state == rules::State::holds || judged.state == rules::State::short_;
    if (sound && judged.ratio < check.judgement.ratio * kClearly) return Smaller{smaller, judged.ratio};
  }
  return {};
}

}  // namespace jambcheck::verdict
