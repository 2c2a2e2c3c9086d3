#include "exec/operations.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>
#include <map>

namespace jambcheck::exec {
namespace {

using program::Opcode;

/// Bit for bit: 0 and -0 differ, no value is no value.
bool same_bits(double a, double b) { return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b); }

bool as_before(std::span<const double* const> args, std::size_t i) {
  return i != 0 && std::all_of(args.begin(), args.end(), [&](const double* a) { return same_bits(a[i], a[i - 1]); });
}

}  // namespace

const BinaryKernels* binary(Opcode op) {
  static const std::map<Opcode, BinaryKernels> kernels = {
      {Opcode::add, add_kernels()},
      {Opcode::subtract, subtract_kernels()},
      {Opcode::multiply, multiply_kernels()},
      {Opcode::divide, divide_kernels()},
      {Opcode::minimum, minimum_kernels()},
      {Opcode::maximum, maximum_kernels()},
      {Opcode::less, less_kernels()},
      {Opcode::less_equal, less_equal_kernels()},
      {Opcode::equal, {equal, nullptr, nullptr}},
      {Opcode::not_equal, {not_equal, nullptr, nullptr}},
      {Opcode::and_, {both, nullptr, nullptr}},
      {Opcode::or_, {either, nullptr, nullptr}},
      {Opcode::first_value, {first_value, nullptr, nullptr}},
      {Opcode::ratio, {ratio, nullptr, nullptr}},
      {Opcode::power, {power, nullptr, nullptr}},
      {Opcode::arctangent2, {arctangent2, nullptr, nullptr}},
  };
  const auto it = kernels.find(op);
  return it == kernels.end() ? nullptr : &it->second;
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

void look_up(const program::LookupRef& ref, std::span<const double* const> args, std::size_t n, double* d, double* hit) {
  double at[8];
  for (std::size_t i = 0; i < n; ++i) {
    if (as_before(args, i)) {
      d[i] = d[i - 1];
      hit[i] = hit[i - 1];
      continue;
    }
    bool missing = false;
    for (std::size_t k = 0; k < args.size(); ++k) {
      at[k] = args[k][i];
      missing = missing || std::isnan(at[k]);
    }
    d[i] = std::numeric_limits<double>::quiet_NaN();
    hit[i] = 0;
    if (missing) continue;  // an argument without a value is somebody else's fault to report
    const table::Found found = table::find(*ref.table, *ref.column, std::span(at, args.size()));
    d[i] = found.value;
    hit[i] = found.refused ? 1 : 0;
  }
}

void solve(const program::NativeSolver& solver, std::span<const double* const> args, std::span<double* const> results, std::size_t n, Memo* memo) {
  thread_local std::vector<double> in, out;
  for (std::size_t i = 0; i < n; ++i) {
    if (!as_before(args, i)) {
      in.resize(args.size());
      out.resize(results.size());
      for (std::size_t k = 0; k < args.size(); ++k) in[k] = args[k][i];
      if (memo) {
        const auto known = memo->solve(solver, in, results.size());
        std::copy(known.begin(), known.end(), out.begin());
      } else {
        solver.solve(in, out);
      }
    }
    for (std::size_t k = 0; k < results.size(); ++k) results[k][i] = out[k];
  }
}

}  // namespace jambcheck::exec
