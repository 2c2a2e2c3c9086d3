#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>

#include "exec/compiled.h"

namespace jambcheck::exec {
namespace {

using program::Opcode;

using Step = Compiled::Step;

BinaryKernels binary(Opcode op) {
  switch (op) {
    case Opcode::add: return add_kernels();
    case Opcode::subtract: return subtract_kernels();
    case Opcode::multiply: return multiply_kernels();
    case Opcode::divide: return divide_kernels();
    case Opcode::minimum: return minimum_kernels();
    case Opcode::maximum: return maximum_kernels();
    case Opcode::less: return less_kernels();
    case Opcode::less_equal: return less_equal_kernels();
    case Opcode::equal: return {equal, nullptr, nullptr};
    case Opcode::not_equal: return {not_equal, nullptr, nullptr};
    case Opcode::and_: return {both, nullptr, nullptr};
    case Opcode::or_: return {either, nullptr, nullptr};
    case Opcode::first_value: return {first_value, nullptr, nullptr};
    case Opcode::ratio: return {ratio, nullptr, nullptr};
    case Opcode::power: return {power, nullptr, nullptr};
    case Opcode::arctangent2: return {arctangent2, nullptr, nullptr};
    default: return {nullptr, nullptr, nullptr};
  }
}

Unary unary(Opcode op) {
  switch (op) {
    case Opcode::negate: return negate;
    case Opcode::absolute: return absolute;
    case Opcode::square_root: return square_root;
    case Opcode::floor_: return floor;
    case Opcode::ceil_: return ceil;
    case Opcode::round_half_up: return round_half_up;
    case Opcode::natural_log: return natural_log;
    case Opcode::exponential: return exponential;
    case Opcode::sine: return sine;
    case Opcode::cosine: return cosine;
    case Opcode::tangent: return tangent;
    case Opcode::arcsine: return arcsine;
    case Opcode::arccosine: return arccosine;
    case Opcode::arctangent: return arctangent;
    case Opcode::not_: return opposite;
    default: return nullptr;
  }
}

/// A site records 1 where its condition is met and 2 where that has no value, both only where its branch is taken.
void mark_site(const Step& step, const double* hit, std::size_t n, Scratch& scratch) {
  if (step.has_mask) record_where(scratch.site(step.site), hit, scratch.reg(step.mask), n);
  else record(scratch.site(step.site), hit, n);
}

void run_lookup(const Compiled& compiled, const Step& step, std::size_t n, Scratch& scratch) {
  const auto& ref = compiled.lookup(step.aux);
  const auto args = compiled.pool(step.a, step.b);
  double* d = scratch.reg(step.d);
  double hit[kBlock];
  double at[8];
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < args.size(); ++k) at[k] = scratch.reg(args[k])[i];
    bool missing = false;
    for (std::size_t k = 0; k < args.size(); ++k) missing = missing || std::isnan(at[k]);
    if (missing) {  // an argument without a value is somebody else's fault to report
      d[i] = std::numeric_limits<double>::quiet_NaN();
      hit[i] = 0;
      continue;
    }
    const table::Found found = table::find(*ref.table, *ref.column, std::span(at, args.size()));
    d[i] = found.value;
    hit[i] = found.refused ? 1 : 0;
  }
  mark_site(step, hit, n, scratch);
}

void run_native(const Compiled& compiled, const Step& step, std::size_t n, Scratch& scratch) {
  const program::NativeSolver* solver = compiled.solver(step.aux);
  const auto args = compiled.pool(step.a, step.b);
  const std::size_t results = solver->outputs().size();
  std::vector<double> in(args.size()), out(results);
  std::vector<double> previous;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < args.size(); ++k) in[k] = scratch.reg(args[k])[i];
    if (previous.empty() || std::memcmp(previous.data(), in.data(), in.size() * sizeof(double)) != 0) {
      if (Memo* memo = scratch.memo()) {
        const auto known = memo->solve(*solver, in, results);
        std::copy(known.begin(), known.end(), out.begin());
      } else {
        solver->solve(in, out);
      }
      previous = in;
    }
    for (std::size_t k = 0; k < results; ++k) scratch.reg(step.d + static_cast<std::uint32_t>(k))[i] = out[k];
  }
}

void run_recording(const Step& step, std::size_t n, Scratch& scratch) {
  double* d = scratch.reg(step.d);
  const double* a = scratch.reg(step.a);
  double hit[kBlock];
  if (step.op == Opcode::flag) {
    std::copy_n(a, n, d);
    mark_site(step, a, n, scratch);
    return;
  }
  const double *lo = scratch.reg(step.b), *hi = scratch.reg(step.c);
  outside(hit, a, lo, hi, n);
  if (step.op == Opcode::range) keep_in_range(d, a, lo, hi, n);
  else if (step.op == Opcode::limit) limit(d, a, lo, hi, n);
  else std::copy_n(a, n, d);
  mark_site(step, hit, n, scratch);
}

void load_input(const Column& column, std::size_t first, std::size_t count, std::size_t n, double* d) {
  if (column.same_for_all) {
    std::fill_n(d, n, column.data[0]);
  } else {
    std::copy_n(column.data + first, count, d);
    // The padding repeats the last case: every lane holds a real one.
    std::fill(d + count, d + n, d[count - 1]);
  }
  refuse_unlimited(d, n);
}

}  // namespace

Scratch::Scratch(const Compiled& compiled, std::size_t cases)
    : width_((cases + kLane - 1) / kLane * kLane), values_(compiled.registers() * width_), sites_(compiled.sites() * width_) {
  for (const auto& [r, value] : compiled.constants()) std::fill_n(reg(r), width_, value);
}

void run_block(const Compiled& compiled, std::span<const Column> columns, std::size_t first, std::size_t count,
               Scratch& scratch) {
  const std::size_t n = (count + kLane - 1) / kLane * kLane;
  for (const Step& step : compiled.steps()) {
    switch (step.op) {
      case Opcode::input: load_input(columns[step.aux], first, count, n, scratch.reg(step.d)); break;
      case Opcode::lookup: run_lookup(compiled, step, n, scratch); break;
      case Opcode::native: run_native(compiled, step, n, scratch); break;
      case Opcode::range:
      case Opcode::range_noted:
      case Opcode::limit:
      case Opcode::flag: run_recording(step, n, scratch); break;
      case Opcode::select:
        select(scratch.reg(step.d), scratch.reg(step.a), scratch.reg(step.b), scratch.reg(step.c), n);
        break;
      default:
        if (const Unary one = unary(step.op)) {
          one(scratch.reg(step.d), scratch.reg(step.a), n);
          break;
        }
        const BinaryKernels two = binary(step.op);
        if (step.scalar_side == 1) two.scalar_b(scratch.reg(step.d), scratch.reg(step.a), step.scalar, n);
        else if (step.scalar_side == 2) two.scalar_a(scratch.reg(step.d), scratch.reg(step.a), step.scalar, n);
        else two.columns(scratch.reg(step.d), scratch.reg(step.a), scratch.reg(step.b), n);
        break;
    }
  }
}

}  // namespace jambcheck::exec
