#include "rules/judge.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include <fmt/format.h>

#include "expr/print.h"
#include "rules/lack.h"
#include "text/number.h"

namespace jambcheck::rules {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
// A ratio this near to 1 is 1: the same case in other units must not change its state.
constexpr double kFull = 1 + 1e-9;

/// The NaN of a value that the user called unknown.
const double kUnknown = std::bit_cast<double>(std::uint64_t{0x7ff8000000000a11});
bool is_unknown(double column) { return std::bit_cast<std::uint64_t>(column) == std::bit_cast<std::uint64_t>(kUnknown); }

State state_of_outcome(Outcome outcome) {
  if (outcome == Outcome::note) return State::holds;
  return outcome == Outcome::not_applicable ? State::not_applicable : State::engineer;
}

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

bool is_open(const Source& source, double column) { return source.optional && is_unknown(column) && !source.key->ask.empty(); }

bool only_tells(const Site& site) { return site.kind == SiteKind::limit || (site.kind == SiteKind::flag && site.outcome == Outcome::note); }

namespace {

bool undecided_flag(const Site& site, std::uint8_t record) {
  return record == 2 && !only_tells(site) && (site.kind == SiteKind::flag || site.kind == SiteKind::applies);
}

std::string range_text(const Site& site, double value) {
  const Input& input = *site.input;
  const std::string what = input.say.empty() ? input.name : input.say;
  return fmt::format("{} is {}, the rule covers {} to {}", what, units::show(value, input.unit),
                     text::rounded(input.unit.from_canonical(input.range->lo), 4), units::show(input.range->hi, input.unit));
}

Reason site_reason(const Site& site, std::uint8_t record, double watched) {
  Reason r;
  r.code = site.name;
  r.rule = site.rule->id;
  r.clause = site.rule->clause_text(site.clause);
  switch (site.kind) {
    case SiteKind::range:
      r.kind = ReasonKind::range;
      r.text = range_text(site, watched);
      break;
    case SiteKind::limit:
      r.kind = ReasonKind::limit;
      r.text = "a bound decided: " + site.say;
      r.leads_to = State::holds;
      break;
    case SiteKind::lookup:
      r.kind = ReasonKind::table;
      r.text = "table " + site.say + " has no value for this case";
      break;
    case SiteKind::flag:
    case SiteKind::applies:
      r.kind = site.kind == SiteKind::flag ? ReasonKind::flag : ReasonKind::applies;
      r.text = record == 2 ? "could not be decided: " + site.say : site.say;
      r.leads_to = state_of_outcome(site.outcome);
      break;
  }
  return r;
}

Reason missing_reason(const Plan& plan, const Source& source) {
  Reason r;
  r.kind = ReasonKind::missing;
  r.leads_to = State::not_shown;
  // When a word must be known before it is known who defines this key, the question is about the word.
  const Key* key = source.key;
  if (!source.open_words.empty())
    if (const Key* word = plan.set().key(source.open_words.front())) key = word;
  r.code = key->name;
  r.text = !key->ask.empty() ? key->ask : (key->say.empty() ? key->name : key->say) + " is not given";
  return r;
}

Reason fault(const Rule& rule) {
  Reason r;
  r.kind = ReasonKind::fault;
  r.code = "fault";
  r.rule = rule.id;
  r.text = "the arithmetic gives no value for this case";
  return r;
}

}  // namespace

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
    if (given.is_word && key.decides) request.words[key.name] = given.word;
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

Evaluation::Evaluation(std::shared_ptr<const Plan> plan, const Case& values)
    : plan_(std::move(plan)), columns_(columns_of(*plan_, values)), scratch_(plan_->replay(), 1) {
  std::vector<exec::Column> columns;
  for (const double& c : columns_) columns.push_back({&c, true});
  exec::run_block(plan_->replay(), columns, 0, 1, scratch_);
}

Judgement Evaluation::judge(const CheckPoint& check) const {
  Judgement j = rules::judge(*plan_, plan_->replay(), check, scratch_, 0, columns_);
  const auto lacks = [](const Reason& r) { return r.kind == ReasonKind::missing && r.source >= 0; };
  if (std::none_of(j.reasons.begin(), j.reasons.end(), lacks)) return j;
  j.reasons.erase(std::remove_if(j.reasons.begin(), j.reasons.end(), lacks), j.reasons.end());
  const auto no_answer = [&](const exec::Scratch& scratch, std::size_t lane) {
    const auto undecided = [&](std::uint32_t site) { return undecided_flag(plan_->sites()[site], scratch.site(site)[lane]); };
    return std::isnan(scratch.read(plan_->replay().slot(check.ratio), lane)) || std::any_of(check.sites.begin(), check.sites.end(), undecided);
  };
  std::vector<program::Value> wanted = {check.ratio};
  for (const std::uint32_t site : check.sites)
    if (undecided_flag(plan_->sites()[site], scratch_.site(site)[0])) wanted.push_back(plan_->sites()[site].watched);
  const auto asked = reasons_to_ask(check.sources, wanted, no_answer);
  j.reasons.insert(j.reasons.begin(), asked.begin(), asked.end());
  return j;
}

std::vector<Reason> Evaluation::reasons_to_ask(std::span<const std::uint32_t> sources, std::span<const program::Value> wanted, const NoAnswer& no_answer) const {
  std::vector<std::uint32_t> lacking, either, decisive, unknown;
  // With all that must be there filled in, is there an answer? If not, an optional value is the one that lacks.
  const Trials& trial = trials();
  const bool answered = !trial.tell(no_answer, 0);
  for (const std::uint32_t s : sources) {
    const Source& source = plan_->sources()[s];
    if (!std::isnan(columns_[s]) || (source.optional && source.key->ask.empty())) continue;
    (source.optional ? either : lacking).push_back(s);
    if (!source.optional && is_unknown(columns_[s])) unknown.push_back(s);
    const bool lane_answers = !trial.tell(no_answer, trial.lane_of[s]);
    if (source.optional ? !answered && lane_answers : answered && !lane_answers) decisive.push_back(s);
  }
  std::vector<Reason> out;
  // Where no single lack explains it, what the user called unknown is asked first; else all that must be there, else those
  // of which any one would do.
  for (const std::uint32_t s : !decisive.empty() ? decisive : !unknown.empty() ? unknown : !lacking.empty() ? lacking : needed_of(on_the_way(either, wanted), no_answer)) {
    const Reason r = missing_reason(*plan_, plan_->sources()[s]);
    if (std::find(out.begin(), out.end(), r) == out.end()) out.push_back(r);
  }
  return out;
}

std::vector<std::uint32_t> Evaluation::on_the_way(const std::vector<std::uint32_t>& optional, std::span<const program::Value> wanted) const {
  std::vector<std::uint32_t> out;
  for (const program::Value value : wanted)
    for (const std::uint32_t s : inputs_lacking(plan_->program(), plan_->replay(), scratch_, value))
      if (std::find(optional.begin(), optional.end(), s) != optional.end() && std::find(out.begin(), out.end(), s) == out.end()) out.push_back(s);
  return out.empty() ? optional : out;
}

std::vector<std::uint32_t> Evaluation::needed_of(std::vector<std::uint32_t> optional, const NoAnswer& no_answer) const {
  if (no_answer_with(optional, no_answer)) return optional;
  for (std::size_t i = optional.size(); i-- > 0;) {
    std::vector<std::uint32_t> fewer = optional;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    if (!no_answer_with(fewer, no_answer)) optional = std::move(fewer);
  }
  return optional;
}

double Evaluation::filled(std::size_t s, std::span<const std::uint32_t> also) const {
  const Source& source = plan_->sources()[s];
  const bool wanted = !source.optional || std::find(also.begin(), also.end(), s) != also.end();
  return std::isnan(columns_[s]) && wanted ? source.plausible : columns_[s];
}

const Evaluation::Trials& Evaluation::trials() const {
  if (trials_) return *trials_;
  trials_ = std::make_unique<Trials>();
  const auto& sources = plan_->sources();
  std::vector<std::uint32_t> missing;
  for (std::uint32_t s = 0; s < sources.size(); ++s)
    if (std::isnan(columns_[s])) missing.push_back(s);
  const std::size_t lanes = missing.size() + 1;
  trials_->lane_of.assign(sources.size(), 0);
  for (std::size_t k = 0; k < missing.size(); ++k) trials_->lane_of[missing[k]] = k + 1;
  std::vector<std::vector<double>> cases(sources.size());
  std::vector<exec::Column> columns;
  for (std::uint32_t s = 0; s < sources.size(); ++s) {
    const bool differs = std::isnan(columns_[s]);
    cases[s].assign(differs ? lanes : 1, filled(s, {}));
    if (differs) cases[s][trials_->lane_of[s]] = sources[s].optional ? sources[s].plausible : columns_[s];
    columns.push_back({cases[s].data(), !differs});
  }
  exec::Memo memo;
  for (std::size_t at = 0; at < lanes; at += exec::kBlock) {
    const std::size_t count = std::min(exec::kBlock, lanes - at);
    exec::Scratch& block = trials_->blocks.emplace_back(plan_->replay(), count);
    block.remember(&memo);
    exec::run_block(plan_->replay(), columns, at, count, block);
    block.remember(nullptr);
  }
  return *trials_;
}

bool Evaluation::no_answer_with(std::span<const std::uint32_t> also, const NoAnswer& no_answer) const {
  std::vector<double> values(columns_.size());
  std::vector<exec::Column> columns;
  for (std::size_t s = 0; s < values.size(); ++s) {
    values[s] = filled(s, also);
    columns.push_back({&values[s], true});
  }
  exec::Scratch scratch(plan_->replay(), 1);
  exec::run_block(plan_->replay(), columns, 0, 1, scratch);
  return no_answer(scratch, 0);
}

Judgement Evaluation::judge_rule(const Rule& rule) const {
  if (const CheckPoint* check = plan_->check_of(rule)) return judge(*check);
  Judgement j;
  j.demand = j.capacity = j.ratio = kNone;
  j.state = State::holds;
  const auto no_value = [&](const exec::Scratch& scratch, std::size_t lane) {
    return std::any_of(rule.outputs.begin(), rule.outputs.end(), [&](const Output& o) { return std::isnan(scratch.read(plan_->replay().slot(plan_->value(rule, o.step)), lane)); });
  };
  std::vector<std::uint32_t> all(plan_->sources().size());
  std::iota(all.begin(), all.end(), 0U);
  std::vector<program::Value> wanted;
  for (const Output& o : rule.outputs) wanted.push_back(plan_->value(rule, o.step));
  if (no_value(scratch_, 0)) j.reasons = reasons_to_ask(all, wanted, no_value);
  const bool missing = !j.reasons.empty();
  for (std::uint32_t s = 0; s < plan_->sites().size(); ++s) {
    const std::uint8_t record = scratch_.site(s)[0];
    const Site& site = plan_->sites()[s];
    if (record == 0 || (missing && undecided_flag(site, record))) continue;
    j.reasons.push_back(site_reason(site, record, site.watched == program::kNoValue ? kNone : value(site.watched)));
  }
  if (no_value(scratch_, 0) && j.reasons.empty()) j.reasons.push_back(fault(rule));
  for (const auto& r : j.reasons) j.state = worse(j.state, r.leads_to);
  return j;
}

}  // namespace jambcheck::rules
