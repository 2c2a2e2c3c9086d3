// No value (NaN) through every operation: it comes out, except where opcodes.def says otherwise.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <optional>

#include "exec/compiled.h"

namespace jambcheck {
namespace {

using program::Opcode;
using program::Value;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t kCases = 9;  // a whole vector and one more

/// The operation on these arguments, each as a column or (`constant`) as a number of the program.
double result(Opcode op, const std::vector<double>& arguments, const std::vector<bool>& constant) {
  program::Program program;
  std::vector<Value> values;
  std::vector<std::vector<double>> data;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (constant[i]) {
      values.push_back(program.constant(arguments[i]));
    } else {
      values.push_back(program.input(program.new_input()));
      data.emplace_back(kCases, arguments[i]);
    }
  }
  values.resize(3, program::kNoValue);
  const bool records = op == Opcode::range || op == Opcode::range_noted || op == Opcode::limit || op == Opcode::flag;
  const Value out = records ? program.record(op, program.new_site(), program::kNoValue, values[0], values[1], values[2])
                            : program.emit(op, values[0], values[1], values[2]);
  const exec::Compiled compiled(program, std::vector<Value>{out}, exec::Keep::wanted);
  exec::Scratch scratch(compiled);
  std::vector<exec::Column> columns;
  for (const auto& column : data) columns.push_back({column.data(), false});
  exec::run_block(compiled, columns, 0, kCases, scratch);
  const double first = scratch.read(compiled.slot(out), 0);
  for (std::size_t lane = 1; lane < kCases; ++lane) {
    const double other = scratch.read(compiled.slot(out), lane);
    EXPECT_TRUE(first == other || (std::isnan(first) && std::isnan(other))) << program::row(op).name;
  }
  return first;
}

/// The value that must come out although an argument has none; empty: no value must come out.
std::optional<double> allowed(Opcode op, const std::vector<double>& a) {
  const auto none = [](double x) { return std::isnan(x); };
  switch (op) {
    case Opcode::and_:
      if (a[0] == 0 || a[1] == 0) return 0;
      break;
    case Opcode::or_:
      if (a[0] == 1 || a[1] == 1) return 1;
      break;
    case Opcode::select:
      if (!none(a[0]) && !none(a[0] != 0 ? a[1] : a[2])) return a[0] != 0 ? a[1] : a[2];
      break;
    case Opcode::first_value:
      if (!none(a[0])) return a[0];
      if (!none(a[1])) return a[1];
      break;
    case Opcode::range_noted:  // passes its first argument on; what it records is another matter
      if (!none(a[0])) return a[0];
      break;
    default: break;
  }
  return {};
}

bool is_yes_no(Opcode op) { return op == Opcode::and_ || op == Opcode::or_ || op == Opcode::not_ || op == Opcode::flag; }

void try_all(Opcode op, std::size_t arity) {
  const std::vector<double> samples = is_yes_no(op) ? std::vector<double>{0, 1, kNone} : std::vector<double>{0, 1, 2.5, -3, kNone};
  std::size_t combinations = 1;
  for (std::size_t i = 0; i < arity; ++i) combinations *= samples.size();
  for (std::size_t n = 0; n < combinations; ++n) {
    std::vector<double> arguments;
    bool missing = false;
    for (std::size_t i = 0, rest = n; i < arity; ++i, rest /= samples.size()) {
      arguments.push_back(samples[rest % samples.size()]);
      missing = missing || std::isnan(arguments.back());
    }
    if (!missing) continue;
    const auto want = allowed(op, arguments);
    for (unsigned pattern = 0; pattern < (1U << arity); ++pattern) {
      std::vector<bool> constant;
      for (std::size_t i = 0; i < arity; ++i) constant.push_back((pattern >> i & 1U) != 0);
      const double got = result(op, arguments, constant);
      std::string shown(program::row(op).name);
      for (const double a : arguments) shown += " " + std::to_string(a);
      if (want) {
        EXPECT_EQ(got, *want) << shown;
      } else {
        EXPECT_TRUE(std::isnan(got)) << shown << " gives " << got;
      }
    }
  }
}

TEST(Kernels, NoValueComesOutOfEveryOperation) {
  std::size_t tried = 0;
#define JAMBCHECK_OP(name, arity, meaning, example)     \
  if (arity > 0) {                                      \
    try_all(Opcode::name, static_cast<std::size_t>(arity)); \
    ++tried;                                            \
  }
#include "program/opcodes.def"
#undef JAMBCHECK_OP
  EXPECT_GT(tried, 30U);
}

TEST(Kernels, UnlimitedInputHasNoValue) {
  const double unlimited = std::numeric_limits<double>::infinity();
  EXPECT_TRUE(std::isnan(result(Opcode::absolute, {unlimited}, {false})));
}

TEST(Kernels, DemandOnNothingIsUnlimited) {
  EXPECT_EQ(result(Opcode::ratio, {5, 0}, {false, false}), std::numeric_limits<double>::infinity());
  EXPECT_EQ(result(Opcode::ratio, {5, -1}, {false, false}), std::numeric_limits<double>::infinity());
  EXPECT_EQ(result(Opcode::ratio, {0, 0}, {false, false}), 0);
  EXPECT_TRUE(std::isnan(result(Opcode::ratio, {-1, 5}, {false, false})));
}

}  // namespace
}  // namespace jambcheck
