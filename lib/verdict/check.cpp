#include "verdict/check.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

#include <fmt/format.h>

#include "opening/field.h"
#include "rules/evaluation.h"
#include "text/number.h"
#include "threads/share_out.h"
#include "verdict/answers.h"
#include "verdict/demand.h"
#include "verdict/link_run.h"
#include "verdict/questions.h"
#include "verdict/say.h"

namespace jambcheck::verdict {
namespace {

using rules::Case;
using rules::CheckPoint;
using rules::Judgement;
using rules::Plan;
using rules::Reason;
using rules::ReasonKind;
using rules::Rule;
using rules::RuleSet;
using rules::State;
using rules::Truth;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

Reason uncovered(const Connection& connection) {
  const auto word = [&](const char* key) {
    const auto* given = connection.common.find(key);
    std::string w(given ? given->word : "?");
    std::replace(w.begin(), w.end(), '_', ' ');
    return w;
  };
  Reason r;
  r.kind = ReasonKind::uncovered;
  r.code = "not_covered";
  r.text = fmt::format("no rule here covers this fastening: {} in {}", word("fastener.kind"), word("base.material"));
  r.leads_to = State::engineer;
  return r;
}

void add_assumed(OpeningResult& out, const std::string& what, const std::string& value, const std::string& why, const std::string& where) {
  for (auto& a : out.assumed)
    if (a.what == what && a.value == value && a.why == why) {
      if (std::find(a.where.begin(), a.where.end(), where) == a.where.end()) a.where.push_back(where);
      return;
    }
  out.assumed.push_back({what, value, why, {where}, {}});
}

/// The comparisons that the rules of a worked-out case ask for. Given and worked out alike 0 say nothing.
void add_cross_checks(const rules::Evaluation& replay, const std::string& where, std::vector<CrossCheck>& out) {
  for (const Rule* rule : replay.plan().rules())
    for (const auto& c : rule->compare) {
      const double given = replay.value(*rule, c.given), against = replay.value(*rule, c.against);
      if (std::isnan(given) || std::isnan(against) || against == 0) continue;
      const units::Unit unit = rule->unit_of(c.given);
      const CrossCheck check{where, c.say, units::show(given, unit), units::show(against, unit), given / against};
      if (std::find(out.begin(), out.end(), check) == out.end()) out.push_back(check);
    }
}

/// Rules that only compare stand outside of every check: they are worked out beside them, where the case has what they want.
void compare_beside(const RuleSet& set, rules::PlanCache& plans, const Connection& connection, std::vector<CrossCheck>& out) {
  const Case values = merged(connection, connection.cases.front());
  const auto words = rules::request_for(set, values, {}).words;
  for (const auto& rule : set.rules())
    if (!rule->compare.empty() && rule->outputs.empty() && !rule->check && rules::applies(*rule, set, words, nullptr) == Truth::yes)
      add_cross_checks(rules::Evaluation(plans.get(rules::request_for(set, values, {rule.get()})), values), "door", out);
}

/// Raises state and ratio of a whole to those of a part that is worse.
template <class Whole>
void raise(Whole& whole, State state, double ratio, const std::string& governs) {
  const bool first = whole.governs.empty();
  if (!first && !decides(state, ratio, whole.state, whole.ratio)) return;
  whole.state = state;
  whole.ratio = ratio;
  whole.governs = governs;
}

void raise_by_checks(ConnectionResult& connection) {
  for (const bool others : {false, true})
    for (const auto& c : connection.checks)
      if (is_no_strength(*c.rule) == others && !(others && c.judgement.state == State::holds && !connection.governs.empty()))
        raise(connection, c.judgement.state, c.judgement.ratio, c.address);
}

void copy_facts(const opening::Opening& opening, OpeningResult& out) {
  for (const auto& [path, fact] : opening.facts)
    if (fact.origin == opening::Origin::copied) out.copied.emplace_back(path, fact.from);
}

std::string why_of(const OpeningResult& opening) {
  for (const auto& connection : opening.connections) {
    for (const auto& check : connection.checks)
      if (check.address == opening.governs) {
        const std::string out = why_it_governs(connection.name, *check.rule, check.load_case);
        if (opening.state == State::holds || opening.state == State::short_) return out;
        for (const auto& r : check.judgement.reasons)
          if (r.leads_to == opening.state) return r.text;
        return out;
      }
    if (opening.governs == opening.mark + "/" + connection.id && !connection.reasons.empty()) return connection.name + ": " + connection.reasons.front().text;
  }
  return "";
}

/// The next link of the same connection: the chain is as weak as its weakest link.
void join(ConnectionResult& chain, ConnectionResult&& next) {
  raise(chain, next.state, next.ratio, next.governs);
  chain.links.insert(chain.links.end(), next.links.begin(), next.links.end());
  for (auto& check : next.checks) chain.checks.push_back(std::move(check));
  for (auto& reason : next.reasons) chain.reasons.push_back(std::move(reason));
  if (!next.fastener.empty()) chain.fastener += "; board: " + next.fastener;
}

/// Load cases worked out again with every value kept, all in one go; several checks may have one of them as their worst.
class Replays {
 public:
  Replays(const std::shared_ptr<const Plan>& plan, const Connection& connection, const std::vector<std::size_t>& load_cases, exec::Memo& solved) {
    for (const std::size_t i : load_cases)
      if (place_.emplace(i, values_.size()).second) values_.push_back(std::make_shared<const Case>(merged(connection, connection.cases[i])));
    runs_ = rules::Evaluation::all(plan, values_, &solved);
  }
  [[nodiscard]] const std::vector<rules::Evaluation>& all() const { return runs_; }
  [[nodiscard]] const rules::Evaluation& run(std::size_t load_case) const { return runs_[place_.at(load_case)]; }
  [[nodiscard]] const std::shared_ptr<const Case>& values(std::size_t load_case) const { return values_[place_.at(load_case)]; }

 private:
  std::map<std::size_t, std::size_t> place_;
  std::vector<std::shared_ptr<const Case>> values_;
  std::vector<rules::Evaluation> runs_;
};

}  // namespace

/// What is the same for every link with the same case: checks without their addresses, comparisons without a place.
struct JudgedLink {
  std::vector<Reason> reasons;
  std::vector<CheckResult> checks;
  std::vector<CrossCheck> cross_checks, beside;
  std::shared_ptr<const Plan> plan;  ///< null: no check was asked for
};

std::shared_ptr<const JudgedLink> Checker::judged(const Connection& connection) {
  const std::string key = LinkMemory::key_of(connection);
  if (auto known = memory_.find(key)) return known;
  auto out = std::make_shared<const JudgedLink>(judge(connection));
  memory_.keep(key, out);
  return out;
}

JudgedLink Checker::judge(const Connection& connection) {
  JudgedLink out;
  const Case first = merged(connection, connection.cases.front());
  const Demanded need = demanded(set_, rules::request_for(set_, first, {}).words);
  for (const auto& key : need.open) {
    Reason r;
    r.kind = ReasonKind::missing;
    r.code = key;
    r.text = question_of(set_, key).ask;
    r.leads_to = State::not_shown;
    out.reasons.push_back(r);
  }
  if (!need.covered && need.open.empty()) out.reasons.push_back(uncovered(connection));
  if (!need.rules.empty()) judge_checks(connection, first, need.rules, out);
  compare_beside(set_, plans_, connection, out.beside);
  return out;
}

void Checker::judge_checks(const Connection& connection, const Case& first, const std::vector<const Rule*>& wanted, JudgedLink& out) {
  const auto plan = plans_.get(rules::request_for(set_, first, wanted));
  std::vector<const CheckPoint*> points;
  for (const auto& point : plan->checks()) points.push_back(&point);
  exec::Memo solved;
  LinkRun all_cases(*plan, &solved);
  const auto& worst = all_cases.run(points, rules::columns_of(*plan, connection.common), {}, 1, columns_of_cases(*plan, connection.cases), true);
  std::vector<std::size_t> asked, load_cases;
  for (std::size_t k = 0; k < points.size(); ++k) {
    if (std::find(wanted.begin(), wanted.end(), points[k]->rule) == wanted.end()) continue;
    asked.push_back(k);
    load_cases.push_back(worst[k].lane);
  }
  const Replays replays(plan, connection, load_cases, solved);
  for (const auto& run : replays.all()) add_cross_checks(run, "", out.cross_checks);
  for (const std::size_t k : asked) {
    const CheckPoint& point = *points[k];
    CheckResult check;
    check.rule = point.rule;
    check.clause = point.rule->clauses.empty() ? "" : table::to_string(point.rule->clauses.front());
    check.load_case = connection.cases[worst[k].lane].say;
    check.unit = point.rule->unit_of(point.rule->check->demand);
    check.evidence = point.evidence;
    check.weakest = point.weakest;
    check.plan = plan;
    check.values = replays.values(worst[k].lane);
    check.judgement = replays.run(worst[k].lane).judge(point);
    if (!std::isnan(worst[k].next_ratio)) {
      check.runner_up = connection.cases[worst[k].next].say;
      check.runner_up_ratio = worst[k].next_ratio;
    }
    out.checks.push_back(std::move(check));
  }
  std::sort(out.checks.begin(), out.checks.end(), [](const CheckResult& a, const CheckResult& b) { return code_before(a.rule->code, b.rule->code); });
  out.plan = plan;
}

namespace {
void add_cross_check(CrossCheck check, const std::string& where, std::vector<CrossCheck>& out) {
  check.where = where;
  if (std::find(out.begin(), out.end(), check) == out.end()) out.push_back(std::move(check));
}
}  // namespace

ConnectionResult Checker::check_connection(const opening::Opening& opening, const Connection& connection, OpeningResult& out) {
  const auto link_judged = judged(connection);
  ConnectionResult result;
  result.id = connection.id;
  result.name = connection.name;
  result.fastener = connection.fastener;
  result.reasons = connection.reasons;
  result.reasons.insert(result.reasons.end(), link_judged->reasons.begin(), link_judged->reasons.end());
  result.ratio = kNone;
  const std::string base = opening.mark + "/" + connection.id;
  result.checks = link_judged->checks;
  for (auto& check : result.checks) check.address = base + "/" + connection.link_id + "/" + check.rule->code;
  for (const auto& c : link_judged->cross_checks) add_cross_check(c, connection.name, out.cross_checks);
  if (link_judged->plan) {
    raise_by_checks(result);
    for (const auto& [what, value, why] : assumed_by(*link_judged->plan, set_, connection)) add_assumed(out, what, value, why, connection.name);
  }
  for (const auto& r : result.reasons) raise(result, r.leads_to, kNone, base);
  result.links.push_back({connection.link_id, connection.link, result.state, result.ratio});
  for (const auto& [what, why] : connection.assumed) add_assumed(out, what, "", why, connection.name);
  for (const auto& c : link_judged->beside) add_cross_check(c, "door", out.cross_checks);
  return result;
}

ConnectionResult Checker::check_part(const opening::Project& project, const opening::Opening& opening, opening::Side side, bool bracket) {
  OpeningResult beside;
  ConnectionResult out;
  for (const auto& connection : links_of(project, opening, set_, side, bracket)) {
    ConnectionResult link = check_connection(opening, connection, beside);
    if (out.id.empty()) out = std::move(link);
    else join(out, std::move(link));
  }
  return out;
}

OpeningResult Checker::check(const opening::Project& project, const opening::Opening& opening) {
  const CheckOne one = [this](const opening::Project& p, const opening::Opening& o) { return check_one(p, o); };
  const CheckOne with_forces = [this](const opening::Project& p, const opening::Opening& o) { return check_one_with_forces(p, o); };
  if (!project.choices.empty() || !opening.choices.empty()) return check_each(project, opening, with_forces);
  OpeningResult out = check_one_with_forces(project, opening);
  if (try_answers_) verdict::try_answers(project, opening, set_, one, out);
  if (try_assumed_) verdict::try_assumed(project, opening, set_, one, out);
  return out;
}

OpeningResult Checker::check_one_with_forces(const opening::Project& project, const opening::Opening& opening) {
  OpeningResult out = check_one(project, opening);
  if (list_by_others_) out.by_others = by_others(set_, plans_, connections(project, opening, set_));
  return out;
}

void Checker::judge_ahead(const std::vector<Connection>& links) {
  std::vector<const Connection*> all;
  std::set<std::string> seen;
  for (const auto& link : links)
    if (seen.insert(LinkMemory::key_of(link)).second) all.push_back(&link);
  // A guide beside a bracket first: two brackets would wait for each other's plan.
  std::set<std::pair<char, std::string>> parts;
  std::stable_partition(all.begin(), all.end(), [&](const Connection* link) { return parts.emplace(link->id.back(), link->link_id).second; });
  if (all.size() > 1) threads::for_each_index(all.size(), 2, [&](std::size_t i) { (void)judged(*all[i]); });
}

OpeningResult Checker::check_one(const opening::Project& project, const opening::Opening& opening) {
  OpeningResult out;
  out.mark = opening.mark;
  out.state = State::holds;
  out.ratio = kNone;
  const auto links = connections(project, opening, set_);
  if (spare_threads_) judge_ahead(links);
  for (const auto& connection : links) {
    ConnectionResult link = check_connection(opening, connection, out);
    take_reasons(set_, link, connection.asker, out);
    if (!out.connections.empty() && out.connections.back().id == link.id) join(out.connections.back(), std::move(link));
    else out.connections.push_back(std::move(link));
  }
  for (const auto& c : out.connections) raise(out, c.state, c.ratio, c.governs);
  leave_out_what_follows(out.questions);
  out.why = out.state == State::not_shown && !out.questions.empty() ? out.questions.front().ask : why_of(out);
  copy_facts(opening, out);
  return out;
}

std::vector<OpeningResult> Checker::check_all(const opening::Project& project, const std::vector<const opening::Opening*>& openings, int jobs) {
  std::vector<OpeningResult> out(openings.size());
  spare_threads_ = openings.size() == 1 && threads::threads_for(2, jobs) > 1;
  threads::for_each_index(openings.size(), jobs, [&](std::size_t i) { out[i] = check(project, *openings[i]); });
  spare_threads_ = false;
  return out;
}

}  // namespace jambcheck::verdict
