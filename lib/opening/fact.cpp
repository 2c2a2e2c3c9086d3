#include "opening/model.h"
#include "opening/moot.h"

namespace jambcheck::opening {

bool same_value(const Fact& a, const Fact& b) {
  if (a.unknown || b.unknown) return a.unknown == b.unknown;
  return a.kind == b.kind && a.value == b.value && a.word == b.word && a.list == b.list;
}

std::string_view word(Side side) { return side == Side::left ? "left" : "right"; }

const Fact* fact(const Facts& facts, std::string_view path) {
  const auto it = facts.find(path);
  return it == facts.end() ? nullptr : &it->second;
}

namespace {

std::string_view prefix_of(Side side) { return side == Side::left ? "left." : "right."; }

}  // namespace

bool says_of(const Opening& opening, Side side) {
  const auto prefix = prefix_of(side);
  const auto first = opening.facts.lower_bound(prefix);
  return first != opening.facts.end() && first->first.compare(0, prefix.size(), prefix) == 0;
}

const Fact* fact(const Opening& opening, std::string_view path, Side side) {
  if (!says_of(opening, side)) return fact(opening.facts, path);  // most openings: nothing is said of one side alone
  const std::string prefix(prefix_of(side));
  if (const Fact* own = fact(opening.facts, prefix + std::string(path))) return own;
  const Fact* both = fact(opening.facts, path);
  if (!both) return nullptr;
  for (const auto* decider : deciders_of(path)) {
    const Fact* here = fact(opening.facts, prefix + std::string(decider->field));
    const Fact* there = fact(opening.facts, decider->field);
    if (here && (decider->when == Decider::When::written || !there || !same_value(*here, *there))) return nullptr;
  }
  return both;
}

}  // namespace jambcheck::opening
