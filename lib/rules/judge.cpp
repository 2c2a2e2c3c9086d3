#include "rules/judge.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "rules/reasons.h"

namespace jambcheck::rules {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
// A ratio this near to 1 is 1: the same case in other units must not change its state.
constexpr double kFull = 1 + 1e-9;

/// The NaN of a value that the user called unknown.
const double kUnknown = std::bit_cast<double>(std::uint64_t{0x7ff8000000000a11});

/// The sources of a check that have no value and must have one. An optional one is asked for only where nothing else
/// explains that there is no number.
template <class Sources>
std::vector<std::uint32_t> missing_sources(const Plan& plan, const Sources& sources, std::span<const double> columns, bool no_number) {
  std::vector<std::uint32_t> needed, optional;
  for (const std::uint32_t s : sources) {
    if (!std::isnan(columns[s])) continue;
    if (!plan.sources()[s].optional) needed.push_back(s);
    else if (!plan.sources()[s].key->ask.empty()) optional.push_back(s);
  }
  return needed.empty() && no_number ? optional : needed;
}

}  // namespace

bool is_unknown(double column) { return std::bit_cast<std::uint64_t>(column) == std::bit_cast<std::uint64_t>(kUnknown); }

bool is_open(const Source& source, double column) { return source.optional && is_unknown(column) && !source.key->ask.empty(); }

bool only_tells(const Site& site) { return site.kind == SiteKind::limit || (site.kind == SiteKind::flag && site.outcome == Outcome::note); }

std::string_view word(State state) {
  switch (state) {
    case State::not_applicable: return "not applicable";
    case State::holds: return "HOLDS";
    case State::not_shown: return "NOT SHOWN";
    case State::engineer: return "ENGINEER";
    case State::short_: return "SHORT";
  }
  return "";
}

std::string_view word(ReasonKind kind) {
  switch (kind) {
    case ReasonKind::missing: return "missing";
    case ReasonKind::range: return "range";
    case ReasonKind::limit: return "limit";
    case ReasonKind::table: return "table";
    case ReasonKind::flag: return "flag";
    case ReasonKind::applies: return "applies";
    case ReasonKind::fault: return "fault";
    case ReasonKind::uncovered: return "not covered";
    case ReasonKind::draft: return "draft";
  }
  return "";
}

PlanRequest request_for(const RuleSet& set, const Case& values, std::vector<const Rule*> targets) {
  PlanRequest request;
  request.targets = std::move(targets);
  for (const auto& [key, given] : values) {
    if (given.unknown) {
      // Who says that a value is not known does not get the one that a rule would take for it.
      if (!key.producers.empty()) request.give(key);
      continue;
    }
    request.give(key);
    if (given.is_word && key.decides) request.words[key.name] = std::string(given.word);
  }
  for (const Key* key : set.assumed_words())
    if (!values.find(*key)) request.words[key->name] = key->assumed_word;
  return request;
}

double column_of(const Given& given) { return given.unknown ? kUnknown : given.value; }

std::vector<double> columns_of(const Plan& plan, const Case& values) {
  std::vector<double> out;
  for (const auto& source : plan.sources()) {
    const Given* given = values.find(*source.key);
    out.push_back(given ? column_of(*given) : source.assumed);  // unknown is asked for, not assumed
  }
  return out;
}

State state_by_ratio(const CheckPoint& check, double ratio) {
  const bool gate = check.rule->check->kind == CheckKind::gate;  // its flags alone decide
  const State state = std::isnan(ratio) ? State::engineer : gate || ratio <= kFull ? State::holds : State::short_;
  return check.draft ? worse(state, State::engineer) : state;
}

bool lacks_value(const Source& source, bool no_number) { return !source.optional || (no_number && !source.key->ask.empty()); }

State state_of(const Plan& plan, const CheckPoint& check, const Told& told, const std::function<bool(bool)>& lacks) {
  State state = state_by_ratio(check, told.ratio);
  bool undecided = std::isnan(told.ratio), reasons = false;
  for (std::size_t k = 0; k < told.sites.size(); ++k) {
    const Site& site = plan.sites()[told.sites[k]];
    if (told.records[k] == 0 || only_tells(site)) continue;
    if (undecided_flag(site, told.records[k])) {
      undecided = true;
      continue;
    }
    reasons = true;
    state = worse(state, State::engineer);
  }
  if (undecided) {
    if (!lacks(std::isnan(told.ratio) && !reasons)) state = worse(state, State::engineer);
    else if (!reasons && std::isnan(told.ratio)) state = State::not_shown;
    else state = worse(state, State::not_shown);
  }
  if (told.open) state = worse(state, State::not_shown);
  if (check.draft) state = worse(state, State::engineer);
  return state;
}

State state_of(const Plan& plan, const exec::Compiled& compiled, const CheckPoint& check, const exec::Scratch& scratch,
               std::size_t lane, std::span<const double> columns, double& ratio) {
  ratio = scratch.read(compiled.slot(check.ratio), lane);
  std::vector<std::uint32_t> sites;
  std::vector<std::uint8_t> records;
  for (const std::uint32_t s : check.sites)
    if (const std::uint8_t record = scratch.site(s)[lane]; record != 0) {
      sites.push_back(s);
      records.push_back(record);
    }
  const auto any = [&](const auto& is) { return std::any_of(check.sources.begin(), check.sources.end(), [&](std::uint32_t s) { return is(plan.sources()[s], columns[s]); }); };
  const bool open = any([](const Source& source, double column) { return is_open(source, column); });
  return state_of(plan, check, {ratio, sites, records, open}, [&](bool no_number) {
    return any([&](const Source& source, double column) { return std::isnan(column) && lacks_value(source, no_number); });
  });
}

Judgement judge(const Plan& plan, const exec::Compiled& compiled, const CheckPoint& check, const exec::Scratch& scratch,
                std::size_t lane, std::span<const double> columns) {
  Judgement j;
  j.demand = scratch.read(compiled.slot(check.demand), lane);
  j.capacity = scratch.read(compiled.slot(check.capacity), lane);
  j.state = state_of(plan, compiled, check, scratch, lane, columns, j.ratio);
  bool undecided = std::isnan(j.ratio);
  for (const std::uint32_t s : check.sites) undecided = undecided || undecided_flag(plan.sites()[s], scratch.site(s)[lane]);
  bool recorded = false;
  for (const std::uint32_t s : check.sites) {
    const std::uint8_t record = scratch.site(s)[lane];
    recorded = recorded || (record != 0 && !only_tells(plan.sites()[s]) && !undecided_flag(plan.sites()[s], record));
  }
  bool missing = false;
  if (undecided)
    for (const std::uint32_t s : missing_sources(plan, check.sources, columns, std::isnan(j.ratio) && !recorded)) {
      missing = true;
      Reason r = missing_reason(plan, plan.sources()[s]);
      r.source = static_cast<int>(s);
      if (std::find(j.reasons.begin(), j.reasons.end(), r) == j.reasons.end()) j.reasons.push_back(r);
    }
  for (const std::uint32_t s : check.sources)
    if (is_open(plan.sources()[s], columns[s])) j.reasons.push_back(missing_reason(plan, plan.sources()[s]));
  for (const std::uint32_t s : check.sites) {
    const std::uint8_t record = scratch.site(s)[lane];
    const Site& site = plan.sites()[s];
    if (record == 0 || (missing && undecided_flag(site, record)) || (record == 2 && only_tells(site))) continue;
    double watched = kNone;
    if (site.watched != program::kNoValue && &compiled == &plan.replay()) watched = scratch.read(compiled.slot(site.watched), lane);
    const Reason r = site_reason(site, record, watched);
    if (std::find(j.reasons.begin(), j.reasons.end(), r) == j.reasons.end()) j.reasons.push_back(r);
  }
  if (check.draft) {
    Reason r;
    r.kind = ReasonKind::draft;
    r.code = "draft";
    r.text = "rests on a rule that is still a draft";
    j.reasons.push_back(r);
  }
  if (std::isnan(j.ratio) && j.reasons.empty()) {
    j.reasons.push_back(fault(*check.rule));
  }
  return j;
}

}  // namespace jambcheck::rules
