#include "verdict/fastener_length.h"

#include <algorithm>
#include <cmath>

#include "rules/evaluation.h"
#include "verdict/demand.h"
#include "verdict/stock.h"

namespace jambcheck::verdict {
namespace {

using rules::Case;
using rules::State;

constexpr double kSameLength = 1e-6;  // in

Case with_length(const rules::RuleSet& set, Case values, double length) {
  values.set(*set.key("fastener.length"), {length, false, false, {}});
  return values;
}

bool is_length(const rules::Rule& rule) {
  units::Dimension length;
  length.of[units::kLength] = units::Exponent(1);
  return rule.check && rule.unit_of(rule.check->demand).dimension == length;
}

/// The checks that ask for depth: lengths of which there is the more, the longer the fastener is.
class DepthChecks {
 public:
  DepthChecks(const rules::RuleSet& set, rules::PlanCache& plans, const Case& values, double shorter, double longer) : set_(set), plans_(plans) {
    const auto words = rules::request_for(set, values, {}).words;
    for (const rules::Rule* rule : demanded(set, words).rules) {
      if (!is_length(*rule)) continue;
      // One that does not even reach the jamb has no depth at all.
      const double less = judged(*rule, with_length(set_, values, shorter)).capacity, more = judged(*rule, with_length(set_, values, longer)).capacity;
      if (!std::isnan(more) && !(less >= more)) rules_.push_back(rule);
    }
  }
  [[nodiscard]] bool any() const { return !rules_.empty(); }
  [[nodiscard]] bool hold(const Case& values, double length) const {
    // The depth alone: what else speaks against the case is no matter of length.
    return std::all_of(rules_.begin(), rules_.end(), [&](const rules::Rule* rule) {
      const auto j = judged(*rule, with_length(set_, values, length));
      return j.capacity * kTie >= j.demand;
    });
  }

 private:
  [[nodiscard]] rules::Judgement judged(const rules::Rule& rule, const Case& values) const {
    const rules::Evaluation run(plans_.get(rules::request_for(set_, values, {&rule})), values);
    const rules::CheckPoint* point = run.plan().check_of(rule);
    return point ? run.judge(*point) : rules::Judgement{State::engineer, kNotKnown, kNotKnown, kNotKnown, {}};
  }
  const rules::RuleSet& set_;
  rules::PlanCache& plans_;
  std::vector<const rules::Rule*> rules_;
};

/// The same opening with another length on this side.
opening::Opening with_length(opening::Opening opening, opening::Side side, const std::string& path, double length) {
  const std::string own = std::string(opening::word(side)) + "." + path + ".length";
  opening::Fact fact;
  if (const auto* given = opening::fact(opening, path + ".length", side)) fact = *given;
  fact.kind = opening::Fact::Kind::number;
  fact.value = length;
  fact.unknown = false;
  opening.facts[own] = fact;
  return opening;
}

}  // namespace

FastenerLength fastener_length(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Checker& checker,
                               const Connection& link, opening::Side side, bool bracket, const std::string& path) {
  FastenerLength out;
  const Case values = merged(link, link.cases.front());
  const auto known = key_values(set, checker.plans(), values, {"fastener.length", "side.thickness", "side.gap", "fastener.length_needed"});
  out.given = known.at("fastener.length");
  out.plate = known.at("side.thickness");
  out.gap = known.at("side.gap");
  out.least = known.at("fastener.length_needed");
  const auto stock = stock_lengths(set, values.word("fastener.kind"));
  if (!std::isnan(out.least) && !std::isnan(out.given)) out.deep_enough = out.given >= out.least - kSameLength;
  if (stock.size() < 2) return out;
  out.longest = stock.back();
  out.in_stock = std::any_of(stock.begin(), stock.end(), [&](double l) { return std::fabs(l - out.given) < kSameLength; });
  const double in_front = (std::isnan(out.plate) ? 0 : out.plate) + (std::isnan(out.gap) ? 0 : out.gap);
  const DepthChecks depth(set, checker.plans(), values, stock.front(), stock.back() + in_front);
  if (!depth.any()) return out;
  if (!std::isnan(out.given)) out.deep_enough = depth.hold(values, out.given);
  const auto deep = std::find_if(stock.begin(), stock.end(), [&](double l) { return depth.hold(values, l); });
  if (deep == stock.end()) return out;
  out.reaches = *deep;
  const auto holds = std::find_if(deep, stock.end(), [&](double l) {
    const auto part = checker.check_part(project, with_length(opening, side, path, l), side, bracket);
    return std::any_of(part.links.begin(), part.links.end(), [&](const LinkResult& r) { return r.id == link.link_id && r.state == State::holds; });
  });
  if (holds != stock.end()) out.holds = *holds;
  return out;
}

}  // namespace jambcheck::verdict
