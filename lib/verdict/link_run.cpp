#include "verdict/link_run.h"

#include <algorithm>
#include <functional>
#include <map>

namespace jambcheck::verdict {

using exec::Extent;
using rules::CheckPoint;
using rules::Plan;
using rules::State;

namespace {

constexpr std::size_t kMostCases = 256;   // a block: its columns stay near the processor
constexpr std::size_t kMostPairs = 1024;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

}  // namespace

CaseColumns columns_of_cases(const Plan& plan, const std::vector<LoadCase>& cases) {
  CaseColumns out;
  out.cases = cases.size();
  std::map<int, std::size_t> place;
  for (std::size_t i = 0; i < cases.size(); ++i)
    for (const auto& [key, given] : cases[i].values) {
      const int source = plan.source_of(key);
      if (source < 0) continue;
      const auto [it, is_new] = place.try_emplace(source, out.columns.size());
      if (is_new) out.columns.push_back({static_cast<std::size_t>(source), std::vector<double>(cases.size(), kNone), std::vector<bool>(cases.size(), false), true});
      auto& column = out.columns[it->second];
      column.values[i] = rules::column_of(given);
      column.says[i] = true;
    }
  for (auto& column : out.columns) column.all = std::all_of(column.says.begin(), column.says.end(), [](bool b) { return b; });
  return out;
}

LinkRun::LinkRun(const Plan& plan, exec::Memo* memo) : plan_(plan), pairs_(plan.batch()) { pairs_.remember(memo); }

const std::vector<Worst>& LinkRun::run(std::span<const CheckPoint* const> checks, std::span<const double> common, std::span<const RowColumn> rows, std::size_t row_count,
                                       const CaseColumns& cases, bool next) {
  checks_ = checks;
  common_ = common;
  row_columns_ = rows;
  cases_ = &cases;
  next_ = next;
  worst_.assign(row_count * checks.size(), {});
  const std::size_t case_block = std::min(cases.cases, kMostCases), row_block = std::max<std::size_t>(1, kMostPairs / case_block);
  for (std::size_t row = 0; row < row_count; row += row_block)
    for (std::size_t at = 0; at < cases.cases; at += case_block) {
      const Block block{row, std::min(row_block, row_count - row), at, std::min(case_block, cases.cases - at)};
      make_inputs(block);
      pairs_.run(inputs_, block.rows, block.cases);
      find_gaps();
      find_loud();
      for (std::size_t k = 0; k < checks.size(); ++k) judge(*checks[k], k, block);
    }
  return worst_;
}

void LinkRun::make_inputs(const Block& block) {
  inputs_.clear();
  mixed_.clear();
  for (const double& value : common_) inputs_.push_back({&value, Extent::one});
  for (const auto& column : row_columns_) inputs_[column.source] = {column.values.data() + block.first_row, Extent::rows};
  mixed_.reserve(cases_->columns.size());
  for (const auto& column : cases_->columns) {
    auto& input = inputs_[column.source];
    if (column.all) {
      input = {column.values.data() + block.first_case, Extent::columns};
      continue;
    }
    const bool by_row = input.extent == Extent::rows;
    std::vector<double> values;
    for (std::size_t row = 0; row < (by_row ? block.rows : 1); ++row)
      for (std::size_t i = 0; i < block.cases; ++i) {
        const std::size_t at = block.first_case + i;
        values.push_back(column.says[at] ? column.values[at] : input.data[by_row ? row : 0]);
      }
    mixed_.push_back(std::move(values));
    input = {mixed_.back().data(), by_row ? Extent::both : Extent::columns};
  }
}

/// Which sources have no value somewhere, and which of those may be asked for.
void LinkRun::find_gaps() {
  missing_.assign(inputs_.size(), false);
  open_.assign(inputs_.size(), false);
  for (std::size_t s = 0; s < inputs_.size(); ++s) {
    const auto extent = static_cast<unsigned>(inputs_[s].extent);
    const std::size_t n = ((extent & 1U) != 0 ? pairs_.rows() : 1) * ((extent & 2U) != 0 ? pairs_.columns() : 1);
    for (std::size_t i = 0; i < n; ++i) {
      const double v = inputs_[s].data[i];
      if (!std::isnan(v)) continue;
      missing_[s] = true;
      open_[s] = open_[s] || rules::is_open(plan_.sources()[s], v);
    }
  }
}

void LinkRun::find_loud() {
  is_loud_.assign(plan_.sites().size(), false);
  for (std::uint32_t s = 0; s < is_loud_.size(); ++s) is_loud_[s] = !rules::only_tells(plan_.sites()[s]) && pairs_.any_record(s);
}

double LinkRun::column(std::uint32_t source, std::size_t row, std::size_t at) const {
  const auto& input = inputs_[source];
  switch (input.extent) {
    case Extent::one: return input.data[0];
    case Extent::rows: return input.data[row];
    case Extent::columns: return input.data[at];
    case Extent::both: return input.data[row * pairs_.columns() + at];
  }
  return kNone;
}

void LinkRun::judge(const CheckPoint& check, std::size_t k, const Block& block) {
  heard_.clear();
  for (const std::uint32_t s : check.sites)
    if (is_loud_[s]) heard_.push_back(s);
  lacking_.clear();
  for (const std::uint32_t s : check.sources)
    if (missing_[s]) lacking_.push_back(s);
  const bool open = std::any_of(lacking_.begin(), lacking_.end(), [&](std::uint32_t s) { return open_[s]; });
  const auto ratios = pairs_.values(plan_.batch().slot(check.ratio));
  for (std::size_t row = 0; row < block.rows; ++row) {
    Worst& worst = worst_[(block.first_row + row) * checks_.size() + k];
    const bool silent = std::none_of(heard_.begin(), heard_.end(), [&](std::uint32_t s) {
      const auto records = pairs_.records(s);
      for (std::size_t i = 0; i < (records.column_step == 0 ? 1 : block.cases); ++i)
        if (records.at(row, i) != 0) return true;
      return false;
    });
    // Where nothing was recorded and nothing is open, a ratio alone says the state.
    const std::size_t cases = ratios.column_step == 0 && !next_ ? 1 : block.cases;
    bool by_ratio = silent && !open;
    for (std::size_t i = 0; by_ratio && i < cases; ++i) by_ratio = !std::isnan(ratios.at(row, i));
    if (!by_ratio) {
      judge_row(check, row, block, worst);
      continue;
    }
    for (std::size_t i = 0; i < cases; ++i) {
      const double ratio = ratios.at(row, i);
      if (next_ || !worst.any || ratio > worst.ratio || worst.state != State::holds) worst.take(block.first_case + i, rules::state_by_ratio(check, ratio), ratio);
    }
  }
}

/// Load case by load case: something was recorded, is open or has no value.
void LinkRun::judge_row(const CheckPoint& check, std::size_t row, const Block& block, Worst& worst) {
  worst.by_ratio = false;
  const auto ratios = pairs_.values(plan_.batch().slot(check.ratio));
  records_.resize(heard_.size());
  std::size_t i = 0;
  const auto any = [&](const auto& is) {
    return std::any_of(lacking_.begin(), lacking_.end(), [&](std::uint32_t s) { return is(plan_.sources()[s], column(s, row, i)); });
  };
  const std::function<bool(bool)> lacks = [&](bool no_number) {
    return any([&](const rules::Source& source, double v) { return std::isnan(v) && rules::lacks_value(source, no_number); });
  };
  for (; i < block.cases; ++i) {
    for (std::size_t h = 0; h < heard_.size(); ++h) records_[h] = pairs_.records(heard_[h]).at(row, i);
    const bool open = any([](const rules::Source& source, double v) { return rules::is_open(source, v); });
    const rules::Told told{ratios.at(row, i), heard_, records_, open};
    const State state = rules::state_of(plan_, check, told, lacks);
    worst.take(block.first_case + i, state, told.ratio);
  }
}

}  // namespace jambcheck::verdict
