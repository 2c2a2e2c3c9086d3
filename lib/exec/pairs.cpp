#include "exec/pairs.h"

#include <algorithm>
#include <cstring>

#include "exec/operations.h"

namespace jambcheck::exec {

using program::Opcode;

Pairs::Pairs(const Compiled& compiled)
    : compiled_(compiled), extent_(compiled.registers(), Extent::one), site_extent_(compiled.sites(), Extent::one), filled_(compiled.registers()), widened_(compiled.registers()) {}

std::size_t Pairs::count(Extent e) const {
  switch (e) {
    case Extent::one: return 1;
    case Extent::rows: return rows_;
    case Extent::columns: return columns_;
    case Extent::both: return rows_ * columns_;
  }
  return 1;
}

/// Room for this many, and nothing left of an earlier run but that room.
void Pairs::fit(std::size_t rows, std::size_t columns) {
  rows_ = rows;
  columns_ = columns;
  const std::size_t narrow = std::max({kLane, padded(Extent::rows), padded(Extent::columns)});
  const std::size_t all = padded(Extent::both);
  const bool two = rows > 1 && columns > 1;
  if (narrow > narrow_width_) {
    narrow_width_ = narrow;
    narrow_.reset(new double[narrow * std::max<std::size_t>(1, extent_.size())]);
  }
  if (two && all > wide_width_) {
    wide_width_ = all;
    wide_.reset(new double[all * std::max<std::size_t>(1, extent_.size())]);
  }
  if (all > site_width_) {
    site_width_ = all;
    sites_.reset(new std::uint8_t[all * std::max<std::size_t>(1, site_extent_.size())]);
  }
  std::fill(filled_.begin(), filled_.end(), std::uint8_t{0});
  std::fill(widened_.begin(), widened_.end(), std::uint8_t{0});
  for (std::uint32_t s = 0; s < site_extent_.size(); ++s) {
    site_extent_[s] = Extent::one;
    sites_[s * site_width_] = 0;
  }
  for (const auto& [r, value] : compiled_.constants()) std::fill_n(into(r, Extent::one), kLane, value);
}

double* Pairs::into(std::uint32_t r, Extent e) {
  extent_[r] = e;
  filled_[r] = widened_[r] = 0;
  return place(r, e);
}

const double* Pairs::as(std::uint32_t r, Extent e) {
  const Extent own = extent_[r];
  if (own == e || e == Extent::one) return place(r, own);
  if (e == Extent::both) {
    if (!widened_[r]) widen(r);
    return wide(r);
  }
  if (!filled_[r]) std::fill_n(narrow(r), std::max(padded(Extent::rows), padded(Extent::columns)), narrow(r)[0]);
  filled_[r] = 1;
  return narrow(r);
}

void Pairs::widen(std::uint32_t r) {
  const double* from = narrow(r);
  double* to = wide(r);
  if (extent_[r] == Extent::one) {
    std::fill_n(to, padded(Extent::both), from[0]);
  } else {
    for (std::size_t i = 0; i < rows_; ++i)
      if (extent_[r] == Extent::rows) std::fill_n(to + i * columns_, columns_, from[i]);
      else std::copy_n(from, columns_, to + i * columns_);
    // The padding repeats the last pair: every lane holds a real one.
    std::fill(to + rows_ * columns_, to + padded(Extent::both), to[rows_ * columns_ - 1]);
  }
  widened_[r] = 1;
}

Extent Pairs::extent_of_args(std::span<const std::uint32_t> args) const {
  Extent e = Extent::one;
  for (const std::uint32_t r : args) e = e | extent_[r];
  return e;
}

double* Pairs::hits(Extent e) {
  if (hits_.size() < padded(e)) hits_.resize(padded(e));
  return hits_.data();
}

void Pairs::load(const Step& step, const PairInput& input) {
  Extent e = input.extent;
  // One row or one column makes no difference between rows or columns.
  if (rows_ == 1) e = static_cast<Extent>(static_cast<std::uint8_t>(e) & 2U);
  if (columns_ == 1) e = static_cast<Extent>(static_cast<std::uint8_t>(e) & 1U);
  double* d = into(step.d, e);
  const std::size_t n = count(e);
  take_limited(d, input.data, n);
  std::fill(d + n, d + padded(e), d[n - 1]);
}

void Pairs::run_unary(const Step& step, Unary kernel) {
  const Extent e = extent_[step.a];
  kernel(into(step.d, e), place(step.a, e), padded(e));
}

void Pairs::run_binary(const Step& step) {
  const BinaryKernels& two = *step.two;
  if (step.scalar_side != 0) {
    const Extent e = extent_[step.a];
    (step.scalar_side == 1 ? two.scalar_b : two.scalar_a)(into(step.d, e), place(step.a, e), step.scalar, padded(e));
    return;
  }
  const Extent a = extent_[step.a], b = extent_[step.b], e = a | b;
  if (two.scalar_b && b == Extent::one) two.scalar_b(into(step.d, e), place(step.a, e), narrow(step.b)[0], padded(e));
  else if (two.scalar_a && a == Extent::one) two.scalar_a(into(step.d, e), place(step.b, e), narrow(step.a)[0], padded(e));
  else {
    const double *x = as(step.a, e), *y = as(step.b, e);
    two.columns(into(step.d, e), x, y, padded(e));
  }
}

void Pairs::run_select(const Step& step) {
  const Extent e = extent_[step.a] | extent_[step.b] | extent_[step.c];
  const double *a = as(step.a, e), *b = as(step.b, e), *c = as(step.c, e);
  select(into(step.d, e), a, b, c, padded(e));
}

void Pairs::mark_none(const Step& step) {
  site_extent_[step.site] = Extent::one;
  sites_[step.site * site_width_] = 0;
}

void Pairs::mark_site(const Step& step, const double* hit, Extent of_hit) {
  std::uint8_t* site = sites_.get() + step.site * site_width_;
  if (!any(hit, padded(of_hit))) return mark_none(step);
  if (!step.has_mask) {
    site_extent_[step.site] = of_hit;
    record(site, hit, padded(of_hit));
    return;
  }
  const Extent e = of_hit | extent_[step.mask];
  site_extent_[step.site] = e;
  const std::size_t n = padded(e);
  if (e != of_hit) {
    if (other_hits_.size() < n) other_hits_.resize(n);
    for (std::size_t i = 0; i < count(e); ++i) {
      const std::size_t row = e == Extent::both ? i / columns_ : e == Extent::rows ? i : 0;
      const std::size_t column = e == Extent::both ? i % columns_ : e == Extent::columns ? i : 0;
      other_hits_[i] = hit[of_hit == Extent::rows ? row : of_hit == Extent::columns ? column : 0];
    }
    std::fill(other_hits_.begin() + static_cast<long>(count(e)), other_hits_.begin() + static_cast<long>(n), other_hits_[count(e) - 1]);
    hit = other_hits_.data();
  }
  record_where(site, hit, as(step.mask, e), n);
}

void Pairs::run_lookup(const Step& step) {
  const auto registers = compiled_.pool(step.a, step.b);
  const Extent e = extent_of_args(registers);
  args_.clear();
  for (const std::uint32_t r : registers) args_.push_back(as(r, e));
  double* hit = hits(e);
  look_up(compiled_.lookup(step.aux), args_, padded(e), into(step.d, e), hit);
  mark_site(step, hit, e);
}

void Pairs::run_native(const Step& step) {
  const auto registers = compiled_.pool(step.a, step.b);
  const program::NativeSolver& solver = *compiled_.solver(step.aux);
  const Extent e = extent_of_args(registers);
  args_.clear();
  for (const std::uint32_t r : registers) args_.push_back(as(r, e));
  results_.clear();
  for (std::uint32_t k = 0; k < solver.outputs().size(); ++k) results_.push_back(into(step.d + k, e));
  solve(solver, args_, results_, padded(e), memo_);
}

void Pairs::run_recording(const Step& step) {
  if (step.op == Opcode::flag) {
    const Extent e = extent_[step.a];
    const double* a = place(step.a, e);
    double* d = into(step.d, e);
    std::copy_n(a, padded(e), d);
    return mark_site(step, d, e);
  }
  const Extent e = extent_[step.a] | extent_[step.b] | extent_[step.c];
  const double *a = as(step.a, e), *lo = as(step.b, e), *hi = as(step.c, e);
  double* d = into(step.d, e);
  const std::size_t n = padded(e);
  bool look = true;
  if (step.op == Opcode::range) look = keep_in_range(d, a, lo, hi, n);
  else if (step.op == Opcode::limit) look = limit(d, a, lo, hi, n);
  else std::copy_n(a, n, d);
  if (!look) return mark_none(step);
  double* hit = hits(e);
  outside(hit, a, lo, hi, n);
  mark_site(step, hit, e);
}

void Pairs::run_step(const Step& step, std::span<const PairInput> inputs) {
  switch (step.op) {
    case Opcode::input: return load(step, inputs[step.aux]);
    case Opcode::lookup: return run_lookup(step);
    case Opcode::native: return run_native(step);
    case Opcode::select: return run_select(step);
    case Opcode::range:
    case Opcode::range_noted:
    case Opcode::limit:
    case Opcode::flag: return run_recording(step);
    default:
      if (step.one) run_unary(step, step.one);
      else run_binary(step);
  }
}

void Pairs::run(std::span<const PairInput> inputs, std::size_t rows, std::size_t columns) {
  fit(rows, columns);
  for (const Step& step : compiled_.steps()) run_step(step, inputs);
}

namespace {

template <class T>
Spread<T> spread(const T* data, Extent e, std::size_t columns) {
  switch (e) {
    case Extent::one: return {data, 0, 0};
    case Extent::rows: return {data, 1, 0};
    case Extent::columns: return {data, 0, 1};
    case Extent::both: return {data, columns, 1};
  }
  return {data, 0, 0};
}

}  // namespace

Spread<double> Pairs::values(const Slot& slot) const {
  if (slot.is_constant) return {&slot.constant, 0, 0};
  const Extent e = extent_[slot.reg];
  const double* data = e == Extent::both ? wide_.get() + slot.reg * wide_width_ : narrow_.get() + slot.reg * narrow_width_;
  return spread(data, e, columns_);
}

Spread<std::uint8_t> Pairs::records(std::uint32_t site) const { return spread<std::uint8_t>(sites_.get() + site * site_width_, site_extent_[site], columns_); }

bool Pairs::any_record(std::uint32_t site) const {
  const std::uint8_t* at = sites_.get() + site * site_width_;
  return std::any_of(at, at + count(site_extent_[site]), [](std::uint8_t r) { return r != 0; });
}

}  // namespace jambcheck::exec
