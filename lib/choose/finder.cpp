#include "choose/finder.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "choose/change.h"
#include "opening/choices.h"
#include "text/number.h"

namespace jambcheck::choose {
namespace {

using opening::Opening;
using opening::Project;
using opening::Side;
using rules::State;
using verdict::Brief;
using verdict::Part;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

bool is_worse(State a, double x, State b, double y) {
  if (a != b) return a > b;
  if (std::isnan(x) || std::isnan(y)) return std::isnan(x) && !std::isnan(y);
  return x > y;
}

/// The sides to be checked: one stands for both where nothing tells them apart.
std::vector<Part> parts_of(const Opening& o, bool bracket, Sides sides) {
  if (sides == Sides::left) return {{Side::left, bracket}};
  if (sides == Sides::right) return {{Side::right, bracket}};
  return verdict::sides_that_differ(o, bracket);
}

void take_worse(std::vector<Brief>& worst, std::vector<Brief>&& other) {
  if (worst.empty()) worst = std::move(other);
  else
    for (std::size_t k = 0; k < worst.size(); ++k)
      if (is_worse(other[k].state, other[k].ratio, worst[k].state, worst[k].ratio)) worst[k] = other[k];
}

/// A spacing of the guide is also an area of wind on the coil that the brackets carry. Of each layout of the guide: whether
/// the brackets, which hold as the file has it, no longer do.
std::vector<bool> harms_to_brackets(verdict::Briefs& briefs, const Project& project, const Opening& o, const std::vector<Layout>& layouts) {
  const std::size_t as_given = layouts.size();
  Opening spaced = o;
  for (const char* side : {"left.", "right."}) spaced.facts.erase(std::string(side) + "guide.spacing");
  const auto candidate = [&](std::size_t i, std::size_t) -> const Opening& {
    if (i == as_given || layouts[i].spacing == 0) return o;
    spaced.facts["guide.spacing"] = number(layouts[i].spacing);
    return spaced;
  };
  std::vector<Brief> worst;
  for (const Part part : parts_of(o, true, Sides::both)) take_worse(worst, briefs.candidates(project, part, layouts.size() + 1, 1, candidate));
  std::vector<bool> out;
  for (std::size_t i = 0; i < layouts.size(); ++i) out.push_back(worst[as_given].state == State::holds && worst[i].state != State::holds);
  return out;
}

void try_all(verdict::Briefs& briefs, const Project& project, const Opening& o, Found& found) {
  const auto& space = found.space;
  Place place(o, space.bracket, space.sides);
  const auto candidate = [&](std::size_t item, std::size_t layout) -> const Opening& { return place.with(space.items[item], space.layouts[layout]); };
  const std::size_t items = space.items.size();
  std::vector<Brief> worst;
  for (const Part part : parts_of(o, space.bracket, space.sides)) take_worse(worst, briefs.candidates(project, part, items, space.layouts.size(), candidate));
  std::vector<bool> harms;
  for (std::size_t k = 0; k < space.candidates.size(); ++k) {
    const auto& c = space.candidates[k];
    const Brief& brief = worst[c.layout * items + c.item];
    Tried& tried = found.tried[k];
    const bool first = tried.candidate == space.candidates.size();
    if (first || is_worse(brief.state, brief.ratio, tried.state, tried.ratio)) tried = {k, brief.state, brief.ratio, brief.rule, brief.link, tried.harms_brackets};
    if (space.bracket || brief.state != State::holds) continue;
    if (harms.empty()) harms = harms_to_brackets(briefs, project, o, space.layouts);
    if (harms[c.layout]) tried.harms_brackets = true;
  }
}

void rank(Found& found, By by, const Prices& prices) {
  const auto& s = found.space;
  const auto key = [&](std::size_t t) {
    const auto& c = s.candidates[t];
    const double ratio = std::isnan(found.tried[t].ratio) ? 0 : found.tried[t].ratio;
    const double price = by == By::cost ? found.price_of(t, prices) : 0;
    const double first = by == By::margin ? ratio : by == By::cost ? (std::isnan(price) ? std::numeric_limits<double>::infinity() : price) : by == By::size ? s.items[c.item].diameter : static_cast<double>(s.layouts[c.layout].holes);
    const double second = by == By::size ? static_cast<double>(s.layouts[c.layout].holes) : s.items[c.item].diameter;
    return std::make_tuple(first, second, s.items[c.item].length, static_cast<double>(s.layouts[c.layout].holes), -s.layouts[c.layout].spacing, t);
  };
  std::sort(found.holding.begin(), found.holding.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
}

/// The first reason of what decides, in words.
std::string reason_of(verdict::Checker& checker, const Project& project, const Opening& o, const Tried& tried, const std::vector<Part>& parts) {
  const std::string board = tried.link == "L2" ? "the board's own fastening: " : "";
  if (tried.state == State::short_ && tried.rule) return board + tried.rule->title;
  for (const Part part : parts) {
    const auto result = checker.check_part(project, o, part.side, part.bracket);
    if (result.state != tried.state) continue;
    for (const auto& check : result.checks) {
      if (check.rule != tried.rule || check.judgement.state != tried.state) continue;
      for (const auto& r : check.judgement.reasons)
        if (r.leads_to == tried.state && tried.state != State::short_) return board + r.text;
      return board + check.rule->title;
    }
    for (const auto& r : result.reasons)
      if (r.leads_to == tried.state) return board + r.text;
  }
  return tried.rule ? tried.rule->title : std::string(rules::word(tried.state));
}

void group_refused(verdict::Checker& checker, const Project& project, const Opening& opening, Found& found) {
  std::map<std::tuple<State, const rules::Rule*, std::string, bool, std::string>, std::vector<std::size_t>> groups;
  for (std::size_t t = 0; t < found.tried.size(); ++t) {
    const auto& one = found.tried[t];
    if (one.state == State::holds && !one.harms_brackets) continue;
    // Other states than SHORT may have another reason for each kind of fastener.
    const std::string kind = one.state == State::short_ ? "" : found.space.items[found.space.candidates[t].item].kind;
    groups[{one.state, one.rule, one.link, one.state == State::holds, kind}].push_back(t);
  }
  for (auto& [key, list] : groups) {
    Refused group;
    group.tried = list;
    group.least = group.most = kNone;
    for (const std::size_t t : list) {
      const double ratio = found.tried[t].ratio;
      if (std::isnan(ratio)) continue;
      group.least = std::isnan(group.least) ? ratio : std::min(group.least, ratio);
      group.most = std::isnan(group.most) ? ratio : std::max(group.most, ratio);
    }
    const Tried& front = found.tried[list.front()];
    if (front.harms_brackets) {
      group.reason = "it holds, but with this spacing of the guide the brackets no longer do";
    } else {
      const Opening o = with(opening, found, list.front());
      std::string text;
      for_each_answer(project, o, [&](const Project& p, const Opening& one) {
        if (text.empty()) text = reason_of(checker, p, one, front, parts_of(one, found.space.bracket, found.space.sides));
      });
      group.reason = fmt::format("{}: {}", rules::word(front.state), text);
    }
    const auto same = std::find_if(found.refused.begin(), found.refused.end(), [&](const Refused& r) { return r.reason == group.reason; });
    if (same == found.refused.end()) found.refused.push_back(std::move(group));
    else {
      same->tried.insert(same->tried.end(), group.tried.begin(), group.tried.end());
      same->least = std::isnan(same->least) ? group.least : std::isnan(group.least) ? same->least : std::min(same->least, group.least);
      same->most = std::isnan(same->most) ? group.most : std::isnan(group.most) ? same->most : std::max(same->most, group.most);
    }
  }
  std::stable_sort(found.refused.begin(), found.refused.end(), [](const auto& a, const auto& b) { return a.tried.size() > b.tried.size(); });
}

/// Where nothing holds: the nearest of the refused, and the smallest single changes that let it in.
void add_help(verdict::Checker& checker, verdict::Briefs& briefs, const rules::RuleSet& set, const Project& project, const Opening& opening, Found& found) {
  std::size_t best = found.tried.size();
  for (std::size_t t = 0; t < found.tried.size(); ++t) {
    const auto& a = found.tried[t];
    if (std::isnan(a.ratio)) continue;
    if (best == found.tried.size() || is_worse(found.tried[best].state == State::short_ ? State::holds : found.tried[best].state, found.tried[best].ratio, a.state == State::short_ ? State::holds : a.state, a.ratio)) best = t;
  }
  if (best == found.tried.size()) {
    if (!found.refused.empty()) found.help.push_back("first of all: " + found.refused.front().reason);
    return;
  }
  const auto& c = found.space.candidates[best];
  found.help.push_back(fmt::format("nearest: {}, {}: {} {:.2f}", found.space.items[c.item].text, found.space.layouts[c.layout].text, rules::word(found.tried[best].state), found.tried[best].ratio));
  Opening o = with(opening, found, best);
  if (!o.choices.empty() || !project.choices.empty()) return;
  for (const auto& change : smallest_changes(checker, briefs, set, project, o, found.space.bracket, found.space.sides))
    found.help.push_back(fmt::format("it holds with {} {} -> {}", change.field, change.now, change.to));
  if (found.help.size() == 1) found.help.push_back("no single change of edge, end, spacing, size or number lets it in: the reasons above say what stands in the way");
}

}  // namespace

double Found::price_of(std::size_t t, const Prices& prices) const {
  const auto& c = space.candidates[t];
  return choose::price_of(prices, space.items[c.item]) * static_cast<double>(space.layouts[c.layout].holes);
}

void for_each_answer(const Project& project, const Opening& opening, const std::function<void(const Project&, const Opening&)>& each) {
  if (project.choices.empty() && opening.choices.empty()) return each(project, opening);
  std::vector<const opening::Choice*> choices;
  for (const auto& c : project.choices) choices.push_back(&c);
  const std::size_t shared = choices.size();
  for (const auto& c : opening.choices) choices.push_back(&c);
  std::vector<std::size_t> at(choices.size(), 0);
  for (;;) {
    Project p;
    p.facts = project.facts;
    p.anchors = project.anchors;
    Opening o = opening;
    o.choices.clear();
    for (std::size_t i = 0; i < choices.size(); ++i) opening::pick(*choices[i], at[i], i < shared ? p.facts : o.facts);
    each(p, o);
    std::size_t i = 0;
    while (i < at.size() && ++at[i] == choices[i]->options.size()) at[i++] = 0;
    if (i == at.size()) return;
  }
}

Opening with(const Opening& opening, const Found& found, std::size_t tried) {
  const auto& c = found.space.candidates[tried];
  return Place(opening, found.space.bracket, found.space.sides).with(found.space.items[c.item], found.space.layouts[c.layout]);
}

Found find(verdict::Checker& checker, const rules::RuleSet& set, const Project& project, const Opening& opening, const Wish& wish, const Prices& prices) {
  verdict::Briefs briefs(set, checker.plans());
  return find(checker, briefs, set, project, opening, wish, prices);
}

Found find(verdict::Checker& checker, verdict::Briefs& briefs, const rules::RuleSet& set, const Project& project, const Opening& opening, const Wish& wish, const Prices& prices) {
  Found found;
  found.space = space_of(project, opening, set, wish.bracket, wish.sides);
  narrow(found.space, wish.narrow, prices);
  found.tried.assign(found.space.candidates.size(), {found.space.candidates.size(), State::holds, kNone, nullptr, "", false});
  if (found.tried.empty()) return found;
  // Lists of values for the very things that are chosen are no question any more: Place takes them away.
  const Opening bare = with(opening, found, 0);
  Opening asked = opening;
  asked.choices = bare.choices;
  const std::size_t before = briefs.evaluations();
  for_each_answer(project, asked, [&](const Project& p, const Opening& o) { try_all(briefs, p, o, found); });
  found.evaluations = briefs.evaluations() - before;
  for (std::size_t t = 0; t < found.tried.size(); ++t)
    if (found.tried[t].state == State::holds && !found.tried[t].harms_brackets) found.holding.push_back(t);
  rank(found, wish.by, prices);
  if (!wish.reasons) return found;
  group_refused(checker, project, opening, found);
  if (found.holding.empty()) add_help(checker, briefs, set, project, opening, found);
  return found;
}

}  // namespace jambcheck::choose
