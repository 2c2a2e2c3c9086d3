#include "support/rule_values.h"

#include <stdexcept>

#include <fmt/format.h>

#include "rules/evaluation.h"
#include "rules/given.h"
#include "support/built_in.h"

namespace jambcheck::test {
namespace {

rules::Case case_of(const Texts& texts) {
  rules::Case out;
  for (const auto& [key, text] : texts) {
    const auto given = rules::parse_given(built_in(), key, text);
    if (!given) throw std::runtime_error(key + ": " + text);
    out.set(*built_in().key(key), *given);
  }
  return out;
}

}  // namespace

double value(const char* rule_id, const char* name, const Texts& texts) {
  const auto& set = built_in();
  const rules::Rule& rule = *set.rule(rule_id);
  const auto values = case_of(texts);
  static rules::PlanCache plans(set);
  return rules::Evaluation(plans.get(rules::request_for(set, values, {&rule})), values).value(rule, name);
}

double between(Random& random, double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(random); }
std::string in(double x) { return fmt::format("{} in", x); }
std::string psi(double x) { return fmt::format("{} psi", x); }
std::string lbf(double x) { return fmt::format("{} lbf", x); }

}  // namespace jambcheck::test
