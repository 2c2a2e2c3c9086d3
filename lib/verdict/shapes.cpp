#include "verdict/shapes.h"

#include <algorithm>
#include <numeric>

namespace jambcheck::verdict {

void sign(const rules::Case& values, std::string& out) {
  for (const auto& [key, given] : values) {
    out += std::to_string(key.number);
    out += given.unknown ? '?' : '=';
    if (given.is_word && !given.unknown) out += given.word;
    out += ';';
  }
}

Shape& Shapes::find(const rules::Case& common, const LoadCase& front) {
  std::string signature;
  signature.reserve(4096);
  sign(common, signature);
  signature += '|';
  sign(front.values, signature);
  auto& shape = by_signature_[std::move(signature)];
  if (!shape) shape = made(common, front);
  return *shape;
}

std::shared_ptr<Shape> Shapes::made(const rules::Case& common, const LoadCase& front) {
  rules::Case first = common;
  first.set(front.values);
  auto shape = std::make_shared<Shape>();
  shape->need = demanded(set_, rules::request_for(set_, first, {}).words);
  if (shape->need.rules.empty()) return shape;
  shape->plan = plans_.get(rules::request_for(set_, first, shape->need.rules));
  // A plan is one for its words, keys and rules: what is demanded follows from them.
  if (const auto it = by_plan_.find(shape->plan.get()); it != by_plan_.end()) return it->second;
  for (const auto& point : shape->plan->checks())
    if (std::find(shape->need.rules.begin(), shape->need.rules.end(), point.rule) != shape->need.rules.end()) shape->checks.push_back(&point);
  std::sort(shape->checks.begin(), shape->checks.end(), [](const auto* a, const auto* b) { return code_before(a->rule->code, b->rule->code); });
  for (const auto* point : shape->checks) shape->no_strength.push_back(is_no_strength(*point->rule));
  shape->run = std::make_unique<LinkRun>(*shape->plan, &memo_);
  by_plan_[shape->plan.get()] = shape;
  return shape;
}

}  // namespace jambcheck::verdict
