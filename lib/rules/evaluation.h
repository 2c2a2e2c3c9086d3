#pragma once
// Cases worked out again with every value kept, to tell why their checks are as they are.
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "exec/memo.h"
#include "rules/judge.h"

namespace jambcheck::rules {

/// One case worked out with every value kept. Belongs to one thread, as does the memo, which must outlive it.
class Evaluation {
 public:
  Evaluation(std::shared_ptr<const Plan> plan, const Case& values);
  /// Cases of one plan in one go; `memo` (or null) knows what solvers gave before.
  static std::vector<Evaluation> all(const std::shared_ptr<const Plan>& plan, std::span<const std::shared_ptr<const Case>> cases, exec::Memo* memo);
  [[nodiscard]] const Plan& plan() const { return *plan_; }
  [[nodiscard]] double value(program::Value v) const { return block_->read(plan_->replay().slot(v), lane_); }
  [[nodiscard]] double value(const Rule& rule, std::string_view name) const { return value(plan_->value(rule, name)); }
  /// As rules::judge, asking only for what matters: a missing value whose lack alone leaves no answer.
  [[nodiscard]] Judgement judge(const CheckPoint& check) const;
  /// The state of a rule without a check: holds when all its outputs have a value and nothing speaks against it.
  [[nodiscard]] Judgement judge_rule(const Rule& rule) const;
  [[nodiscard]] bool recorded(std::uint32_t site) const { return record_of(site) != 0; }
  [[nodiscard]] const std::vector<double>& columns() const { return columns_; }

 private:
  /// Whether there is no answer in this lane.
  using NoAnswer = std::function<bool(const exec::Scratch&, std::size_t lane)>;
  /// The same case tried with plausible values for what is missing and must be there: with all of them, and for each
  /// missing source with all but that one (or with that one too, where it is optional). All of them in one go, for every
  /// check asks the same.
  struct Trials {
    std::vector<exec::Scratch> blocks;
    std::vector<std::size_t> lane_of;  ///< a source's trial; 0: with all that must be there
    [[nodiscard]] bool tell(const NoAnswer& no_answer, std::size_t lane) const { return no_answer(blocks[lane / exec::kBlock], lane % exec::kBlock); }
  };
  /// The missing values whose lack alone leaves no answer; all that must be there when none does.
  /// `wanted`: the values for want of which there is no answer.
  [[nodiscard]] std::vector<Reason> reasons_to_ask(std::span<const std::uint32_t> sources, std::span<const program::Value> wanted, const NoAnswer& no_answer) const;
  /// Of optional values that are missing: those that the lack of a wanted value comes from, or all where none explains it.
  [[nodiscard]] std::vector<std::uint32_t> on_the_way(const std::vector<std::uint32_t>& optional, std::span<const program::Value> wanted) const;
  /// Of optional values that are missing: those without which there is no answer even with all the others.
  [[nodiscard]] std::vector<std::uint32_t> needed_of(std::vector<std::uint32_t> optional, const NoAnswer& no_answer) const;
  [[nodiscard]] const Trials& trials() const;
  /// The value of source s, or a plausible one when it is missing and must be there or is one of `also`.
  [[nodiscard]] double filled(std::size_t s, std::span<const std::uint32_t> also) const;
  /// Whether there is no answer with those of `also` filled in beside all that must be there.
  [[nodiscard]] bool no_answer_with(std::span<const std::uint32_t> also, const NoAnswer& no_answer) const;
  Evaluation() = default;
  [[nodiscard]] std::uint8_t record_of(std::uint32_t site) const { return block_->site(site)[lane_]; }
  /// Whether there is no answer in this very case.
  [[nodiscard]] bool none_here(const NoAnswer& no_answer) const { return no_answer(*block_, lane_); }

  std::shared_ptr<const Plan> plan_;
  std::vector<double> columns_;
  std::shared_ptr<const exec::Scratch> block_;  ///< shared with the cases that were worked out together
  std::size_t lane_ = 0;
  exec::Memo* memo_ = nullptr;
  mutable std::unique_ptr<Trials> trials_;  ///< made on first need
};

}  // namespace jambcheck::rules
