#include "verdict/demand.h"

#include <tuple>

namespace jambcheck::verdict {

using rules::Case;
using rules::Rule;
using rules::Truth;

Demanded demanded(const rules::RuleSet& set, const rules::Words& words) {
  Demanded out;
  const auto add = [&](const Rule* rule) {
    if (std::find(out.rules.begin(), out.rules.end(), rule) == out.rules.end()) out.rules.push_back(rule);
  };
  for (const auto& line : set.required()) {
    std::vector<std::string> open;
    const Truth truth = rules::decide(line.when, nullptr, words, &open);
    if (truth == Truth::yes) {
      for (const Rule* rule : line.rules) add(rule);
      out.covered = out.covered || !line.beside;
    }
    if (truth == Truth::open) out.open.insert(out.open.end(), open.begin(), open.end());
  }
  for (std::size_t i = 0; i < out.rules.size(); ++i)
    for (const auto& also : out.rules[i]->also) add(set.rule(also.rule));
  std::sort(out.open.begin(), out.open.end());
  out.open.erase(std::unique(out.open.begin(), out.open.end()), out.open.end());
  return out;
}

Case merged(const Connection& connection, const LoadCase& load_case) {
  Case values = connection.common;
  values.set(load_case.values);
  return values;
}

bool is_no_strength(const Rule& rule) {
  if (rule.check->kind != rules::CheckKind::strength) return true;
  units::Dimension length;
  length.of[units::kLength] = units::Exponent(1);
  return rule.unit_of(rule.check->demand).dimension == length;
}

bool code_before(const std::string& a, const std::string& b) {
  const auto parts = [](const std::string& code) {
    const auto digit = code.find_first_of("0123456789");
    return std::make_tuple(code.substr(0, digit), digit == std::string::npos ? 0 : std::stoi(code.substr(digit)), code);
  };
  return parts(a) < parts(b);
}

}  // namespace jambcheck::verdict
