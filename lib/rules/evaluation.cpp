#include "rules/evaluation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "rules/lack.h"
#include "rules/reasons.h"

namespace jambcheck::rules {

namespace {
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
}

Evaluation::Evaluation(std::shared_ptr<const Plan> plan, const Case& values) {
  const std::shared_ptr<const Case> one(std::shared_ptr<const Case>(), &values);
  *this = std::move(all(plan, std::span(&one, 1), nullptr).front());
}

std::vector<Evaluation> Evaluation::all(const std::shared_ptr<const Plan>& plan, std::span<const std::shared_ptr<const Case>> cases, exec::Memo* memo) {
  std::vector<Evaluation> out;
  for (std::size_t i = 0; i < cases.size(); ++i) out.push_back(Evaluation());
  for (std::size_t from = 0; from < cases.size(); from += exec::kBlock) {
    const std::size_t count = std::min(exec::kBlock, cases.size() - from);
    std::vector<std::vector<double>> values(plan->sources().size(), std::vector<double>(count));
    const auto block = std::make_shared<exec::Scratch>(plan->replay(), count);
    for (std::size_t lane = 0; lane < count; ++lane) {
      Evaluation& one = out[from + lane];
      one.plan_ = plan;
      one.columns_ = columns_of(*plan, *cases[from + lane]);
      one.block_ = block;
      one.lane_ = lane;
      one.memo_ = memo;
      for (std::size_t s = 0; s < values.size(); ++s) values[s][lane] = one.columns_[s];
    }
    std::vector<exec::Column> columns;
    for (const auto& column : values) columns.push_back({column.data(), false});
    block->remember(memo);
    exec::run_block(plan->replay(), columns, 0, count, *block);
    block->remember(nullptr);
  }
  return out;
}

Judgement Evaluation::judge(const CheckPoint& check) const {
  Judgement j = rules::judge(*plan_, plan_->replay(), check, *block_, lane_, columns_);
  const auto lacks = [](const Reason& r) { return r.kind == ReasonKind::missing && r.source >= 0; };
  if (std::none_of(j.reasons.begin(), j.reasons.end(), lacks)) return j;
  j.reasons.erase(std::remove_if(j.reasons.begin(), j.reasons.end(), lacks), j.reasons.end());
  const auto no_answer = [&](const exec::Scratch& scratch, std::size_t lane) {
    const auto undecided = [&](std::uint32_t site) { return undecided_flag(plan_->sites()[site], scratch.site(site)[lane]); };
    return std::isnan(scratch.read(plan_->replay().slot(check.ratio), lane)) || std::any_of(check.sites.begin(), check.sites.end(), undecided);
  };
  std::vector<program::Value> wanted = {check.ratio};
  for (const std::uint32_t site : check.sites)
    if (undecided_flag(plan_->sites()[site], record_of(site))) wanted.push_back(plan_->sites()[site].watched);
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
    for (const std::uint32_t s : inputs_lacking(plan_->program(), plan_->replay(), *block_, lane_, value))
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
  exec::Memo own;
  for (std::size_t at = 0; at < lanes; at += exec::kBlock) {
    const std::size_t count = std::min(exec::kBlock, lanes - at);
    exec::Scratch& block = trials_->blocks.emplace_back(plan_->replay(), count);
    block.remember(memo_ ? memo_ : &own);
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
  scratch.remember(memo_);
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
  if (none_here(no_value)) j.reasons = reasons_to_ask(all, wanted, no_value);
  const bool missing = !j.reasons.empty();
  for (std::uint32_t s = 0; s < plan_->sites().size(); ++s) {
    const std::uint8_t record = record_of(s);
    const Site& site = plan_->sites()[s];
    if (record == 0 || (missing && undecided_flag(site, record))) continue;
    j.reasons.push_back(site_reason(site, record, site.watched == program::kNoValue ? kNone : value(site.watched)));
  }
  if (none_here(no_value) && j.reasons.empty()) j.reasons.push_back(fault(rule));
  for (const auto& r : j.reasons) j.state = worse(j.state, r.leads_to);
  return j;
}

}  // namespace jambcheck::rules
