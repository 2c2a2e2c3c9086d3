#include "compare/compare.h"

#include <algorithm>
#include <cmath>

#include "units/quantity.h"

namespace jambcheck::compare {
namespace {

using opening::Fact;
using rules::State;

/// Place on the ladder; what was not read stands above all, for nothing is known of it.
int rank(const std::string& state) {
  for (const State s : {State::not_applicable, State::holds, State::not_shown, State::engineer, State::short_})
    if (rules::word(s) == state) return static_cast<int>(s);
  return static_cast<int>(State::short_) + 1;
}
bool holds(const std::string& state) { return rank(state) <= static_cast<int>(State::holds); }

/// 609.6 mm is 24 in, though not to the last bit.
bool same(const Value& a, const Value& b) {
  if (!a.fact || !b.fact) return a.text == b.text;
  const bool numbers = a.fact->kind == Fact::Kind::number && b.fact->kind == Fact::Kind::number && !a.fact->unknown && !b.fact->unknown;
  if (!numbers) return opening::same_value(*a.fact, *b.fact);
  return std::abs(a.fact->value - b.fact->value) <= 1e-9 * std::max(std::abs(a.fact->value), std::abs(b.fact->value));
}

void compare_values(const std::string& mark, const Values& before, const Values& after, std::vector<InputChange>& out) {
  constexpr const char* kNone = "not given";
  for (const auto& [path, value] : before) {
    const auto it = after.find(path);
    if (it == after.end()) out.push_back({mark, path, value.text, kNone});
    else if (!same(value, it->second)) out.push_back({mark, path, value.text, it->second.text});
  }
  for (const auto& [path, value] : after)
    if (before.count(path) == 0) out.push_back({mark, path, kNone, value.text});
}

bool same_ratio(double a, double b, double threshold) {
  if (std::isnan(a) || std::isnan(b)) return std::isnan(a) == std::isnan(b);
  return a == b || std::abs(a - b) <= threshold;
}

/// A ratio that appears beside one state is news, but only a greater one is worse.
bool is_worse(const ResultChange& c, double threshold) {
  if (rank(c.state_after) != rank(c.state_before)) return rank(c.state_after) > rank(c.state_before);
  return c.ratio_after > c.ratio_before + threshold;
}

ResultChange change_of(const std::string& mark, const OpeningSide& before, const OpeningSide& after) {
  return {mark, before.state, after.state, before.ratio, after.ratio, before.governs, after.governs, after.why, false};
}

void compare_questions(const std::string& mark, const OpeningSide& before, const OpeningSide& after, Comparison& out) {
  for (const auto& [key, ask] : before.questions)
    if (after.questions.count(key) == 0) out.questions_gone.push_back({mark, ask});
  for (const auto& [key, ask] : after.questions)
    if (before.questions.count(key) == 0) out.questions_new.push_back({mark, ask});
}

void compare_opening(const std::string& mark, const OpeningSide& before, const OpeningSide& after, double threshold, Comparison& out) {
  const std::size_t inputs = out.inputs.size(), asked = out.questions_new.size() + out.questions_gone.size();
  if (out.inputs_known) compare_values(mark, before.values, after.values, out.inputs);
  compare_questions(mark, before, after, out);
  ResultChange change = change_of(mark, before, after);
  const bool moved = before.state != after.state || !same_ratio(before.ratio, after.ratio, threshold);
  if (moved) {
    change.worse = is_worse(change, threshold);
    out.worse = out.worse || change.worse;
    out.results.push_back(change);
  }
  if (!moved && inputs == out.inputs.size() && asked == out.questions_new.size() + out.questions_gone.size()) ++out.same;
}

}  // namespace

Comparison compare(const Side& before, const Side& after, double threshold) {
  Comparison out;
  out.inputs_known = before.has_values && after.has_values;
  if (!before.shared.empty() || !after.shared.empty()) compare_values("", before.shared, after.shared, out.inputs);
  for (const auto& mark : before.marks) {
    const auto it = after.openings.find(mark);
    if (it == after.openings.end()) out.removed.push_back(change_of(mark, before.openings.at(mark), {}));
    else compare_opening(mark, before.openings.at(mark), it->second, threshold, out);
  }
  for (const auto& mark : after.marks) {
    if (before.openings.count(mark) != 0) continue;
    ResultChange added = change_of(mark, {}, after.openings.at(mark));
    added.worse = !holds(added.state_after);
    out.worse = out.worse || added.worse;
    out.added.push_back(added);
  }
  return out;
}

}  // namespace jambcheck::compare
