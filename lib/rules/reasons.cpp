#include "rules/reasons.h"

#include <fmt/format.h>

#include "text/number.h"

namespace jambcheck::rules {

bool undecided_flag(const Site& site, std::uint8_t record) {
  return record == 2 && !only_tells(site) && (site.kind == SiteKind::flag || site.kind == SiteKind::applies);
}

namespace {

State state_of_outcome(Outcome outcome) {
  if (outcome == Outcome::note) return State::holds;
  return outcome == Outcome::not_applicable ? State::not_applicable : State::engineer;
}

std::string range_text(const Site& site, double value) {
  const Input& input = *site.input;
  const std::string what = input.say.empty() ? input.name : input.say;
  return fmt::format("{} is {}, the rule covers {} to {}", what, units::show(value, input.unit),
                     text::rounded(input.unit.from_canonical(input.range->lo), 4), units::show(input.range->hi, input.unit));
}

}  // namespace

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

}  // namespace jambcheck::rules
