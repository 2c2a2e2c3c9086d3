#include <algorithm>
#include <array>
#include <vector>

#include "exec/compiled.h"
#include "exec/operations.h"

namespace jambcheck::exec {
namespace {

using program::Opcode;

using Step = Compiled::Step;

void mark_none(const Step& step, std::size_t n, Scratch& scratch) { std::fill_n(scratch.site(step.site), n, std::uint8_t{0}); }

/// A site records 1 where its condition is met and 2 where that has no value, both only where its branch is taken.
void mark_site(const Step& step, const double* hit, std::size_t n, Scratch& scratch) {
  if (!any(hit, n)) mark_none(step, n, scratch);
  else if (step.has_mask) record_where(scratch.site(step.site), hit, scratch.reg(step.mask), n);
  else record(scratch.site(step.site), hit, n);
}

void run_lookup(const Compiled& compiled, const Step& step, std::size_t n, Scratch& scratch) {
  const auto registers = compiled.pool(step.a, step.b);
  std::array<const double*, 8> args{};
  for (std::size_t k = 0; k < registers.size(); ++k) args[k] = scratch.reg(registers[k]);
  double hit[kBlock];
  look_up(compiled.lookup(step.aux), std::span(args.data(), registers.size()), n, scratch.reg(step.d), hit);
  mark_site(step, hit, n, scratch);
}

void run_native(const Compiled& compiled, const Step& step, std::size_t n, Scratch& scratch) {
  const program::NativeSolver* solver = compiled.solver(step.aux);
  std::vector<const double*> args;
  for (const std::uint32_t r : compiled.pool(step.a, step.b)) args.push_back(scratch.reg(r));
  std::vector<double*> results;
  for (std::uint32_t k = 0; k < solver->outputs().size(); ++k) results.push_back(scratch.reg(step.d + k));
  solve(*solver, args, results, n, scratch.memo());
}

void run_recording(const Step& step, std::size_t n, Scratch& scratch) {
  double* d = scratch.reg(step.d);
  const double* a = scratch.reg(step.a);
  if (step.op == Opcode::flag) {
    std::copy_n(a, n, d);
    mark_site(step, a, n, scratch);
    return;
  }
  const double *lo = scratch.reg(step.b), *hi = scratch.reg(step.c);
  bool look = true;
  if (step.op == Opcode::range) look = keep_in_range(d, a, lo, hi, n);
  else if (step.op == Opcode::limit) look = limit(d, a, lo, hi, n);
  else std::copy_n(a, n, d);
  if (!look) {
    mark_none(step, n, scratch);
    return;
  }
  double hit[kBlock];
  outside(hit, a, lo, hi, n);
  mark_site(step, hit, n, scratch);
}

void load_input(const Column& column, std::size_t first, std::size_t count, std::size_t n, double* d) {
  if (column.same_for_all) {
    double one = 0;
    take_limited(&one, column.data, 1);
    std::fill_n(d, n, one);
  } else {
    take_limited(d, column.data + first, count);
    // The padding repeats the last case: every lane holds a real one.
    std::fill(d + count, d + n, d[count - 1]);
  }
}

}  // namespace

Scratch::Scratch(const Compiled& compiled, std::size_t cases)
    : width_((cases + kLane - 1) / kLane * kLane), values_(new double[compiled.registers() * width_]), sites_(compiled.sites() * width_) {
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
        if (step.one) step.one(scratch.reg(step.d), scratch.reg(step.a), n);
        else if (step.scalar_side == 1) step.two->scalar_b(scratch.reg(step.d), scratch.reg(step.a), step.scalar, n);
        else if (step.scalar_side == 2) step.two->scalar_a(scratch.reg(step.d), scratch.reg(step.a), step.scalar, n);
        else step.two->columns(scratch.reg(step.d), scratch.reg(step.a), scratch.reg(step.b), n);
        break;
    }
  }
}

}  // namespace jambcheck::exec
