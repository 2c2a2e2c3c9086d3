#include "choose/catalogue.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "rules/cell.h"

namespace jambcheck::choose {
namespace {

std::vector<double> arguments(const rules::RuleSet& set, const std::vector<std::string>& words, double n) {
  std::vector<double> at;
  for (const auto& w : words) at.push_back(static_cast<double>(set.symbols().find(w)));
  if (n >= 0) at.push_back(n);
  return at;
}

/// The table whose last axis lists the trade sizes of a kind.
std::string_view sizes_of(std::string_view kind) {
  if (kind == "lag_screw") return "wood.lag_screw.dimensions";
  if (kind == "wood_screw") return "fasteners.wood_screws";
  if (kind == "tapping_screw") return "fasteners.tapping_screws";
  return kind == "bolt" ? "fasteners.bolts" : "";
}

/// The rule that gives numbers of screws their diameters: d_0 + d_1 n.
struct NumberRule {
  double d_0 = 0, d_1 = 0;
};
NumberRule number_rule(const rules::RuleSet& set) {
  NumberRule out;
  if (const rules::Rule* rule = set.rule("steel.screw.number"))
    for (const auto& c : rule->constants) (c.name == "d_0" ? out.d_0 : out.d_1) = c.value;
  return out;
}

}  // namespace

double number_at(const rules::RuleSet& set, std::string_view table, std::string_view column, const std::vector<std::string>& words, double n) {
  for (const auto& w : words)
    if (set.symbols().find(w) < 0) return std::numeric_limits<double>::quiet_NaN();
  return rules::cell(set, table, column, arguments(set, words, n));
}

std::string word_at(const rules::RuleSet& set, std::string_view table, std::string_view column, const std::vector<std::string>& words, double n) {
  const double symbol = number_at(set, table, column, words, n);
  return std::isnan(symbol) ? std::string() : std::string(set.symbols().word(static_cast<std::uint32_t>(symbol)));
}

std::vector<double> column(const rules::RuleSet& set, std::string_view table, std::string_view name, const std::vector<std::string>& words) {
  std::vector<double> out;
  for (double n = 1;; ++n) {
    const double value = number_at(set, table, name, words, n);
    if (std::isnan(value)) return out;
    out.push_back(value);
  }
}

std::vector<std::string> words(const rules::RuleSet& set, std::string_view table, std::string_view name, const std::vector<std::string>& at) {
  std::vector<std::string> out;
  for (const double symbol : column(set, table, name, at)) out.emplace_back(set.symbols().word(static_cast<std::uint32_t>(symbol)));
  return out;
}

std::vector<double> diameters(const rules::RuleSet& set, const std::string& base, const std::string& kind) {
  constexpr double kSame = 1e-9;
  const double least = number_at(set, "choose.kinds", "D_least", {base, kind}), most = number_at(set, "choose.kinds", "D_most", {base, kind});
  const table::Table* sizes = set.table(sizes_of(kind));
  std::vector<double> out;
  if (!sizes || std::isnan(least) || std::isnan(most)) return out;
  for (const double d : sizes->axes.back().at)
    if (d >= least - kSame && d <= most + kSame) out.push_back(d);
  return out;
}

std::vector<std::string> kinds_for(const rules::RuleSet& set, const std::string& base) {
  std::vector<std::string> out;
  const table::Table* kinds = set.table("choose.kinds");
  if (!kinds) return out;
  for (const auto& kind : kinds->axes[1].words)
    if (!std::isnan(number_at(set, "choose.kinds", "D_least", {base, kind}))) out.push_back(kind);
  return out;
}

double diameter_of_number(const rules::RuleSet& set, int number) {
  const NumberRule rule = number_rule(set);
  return rule.d_0 + rule.d_1 * number;
}

int number_of_screw(const rules::RuleSet& set, const std::string& kind, double diameter) {
  const NumberRule rule = number_rule(set);
  if (rule.d_1 == 0 || (kind != "wood_screw" && kind != "tapping_screw")) return 0;
  const double n = (diameter - rule.d_0) / rule.d_1;
  return std::fabs(n - std::round(n)) < 1e-6 ? static_cast<int>(std::lround(n)) : 0;
}

}  // namespace jambcheck::choose
