#pragma once
// A program made ready to run: constants folded by the very kernels that run it, dead values dropped, registers
// reused. The same code runs one case, a block and a million.
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "exec/kernels.h"
#include "exec/memo.h"
#include "program/program.h"

namespace jambcheck::exec {

/// Where a wanted value is found after a run.
struct Slot {
  bool is_constant = false;
  double constant = 0;
  std::uint32_t reg = 0;
};

/// Keep every value for a trace, or only the wanted ones.
enum class Keep { all, wanted };

class Compiled {
 public:
  /// `wanted`: the values to read after a run. With Keep::all every value of the program can be read with slot().
  Compiled(const program::Program& program, std::span<const program::Value> wanted, Keep keep);

  struct Step {
    program::Opcode op = program::Opcode::constant;
    std::uint8_t scalar_side = 0;  ///< 0: columns, 1: second argument is `scalar`, 2: first is
    bool has_mask = false;
    std::uint32_t d = 0, a = 0, b = 0, c = 0, mask = 0;
    std::uint32_t aux = 0, site = 0;
    double scalar = 0;
    // Found once: a step may run for a few cases only.
    Unary one = nullptr;
    const BinaryKernels* two = nullptr;
  };

  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
  [[nodiscard]] std::uint32_t registers() const { return registers_; }
  [[nodiscard]] std::uint32_t sites() const { return sites_; }
  [[nodiscard]] std::uint32_t inputs() const { return inputs_; }
  [[nodiscard]] const std::vector<std::pair<std::uint32_t, double>>& constants() const { return constants_; }
  [[nodiscard]] std::span<const std::uint32_t> pool(std::uint32_t first, std::uint32_t count) const {
    return {pool_.data() + first, count};
  }
  [[nodiscard]] const program::LookupRef& lookup(std::uint32_t i) const { return lookups_[i]; }
  [[nodiscard]] const program::NativeSolver* solver(std::uint32_t i) const { return solvers_[i]; }
  [[nodiscard]] const Slot& slot(program::Value value) const { return slots_[value]; }

 private:
  struct Build;
  std::vector<Step> steps_;
  std::vector<std::pair<std::uint32_t, double>> constants_;  ///< registers that hold a constant column
  std::vector<std::uint32_t> pool_;
  std::vector<program::LookupRef> lookups_;
  std::vector<const program::NativeSolver*> solvers_;
  std::vector<Slot> slots_;
  std::uint32_t registers_ = 0, sites_ = 0, inputs_ = 0;
};

/// A column of the cases: one value each, or the same for all.
struct Column {
  const double* data = nullptr;
  bool same_for_all = false;
};

/// The registers of one thread. Made once, reused for every block.
class Scratch {
 public:
  /// `cases`: the largest block that will be run; room for one case takes a small part of the time to make.
  explicit Scratch(const Compiled& compiled, std::size_t cases = kBlock);
  /// The largest block it has room for.
  [[nodiscard]] std::size_t cases() const { return width_; }
  /// Where answers of solvers are kept from run to run; without it each block solves anew.
  void remember(Memo* memo) { memo_ = memo; }
  [[nodiscard]] Memo* memo() const { return memo_; }
  [[nodiscard]] double* reg(std::uint32_t r) { return values_.get() + r * width_; }
  [[nodiscard]] const double* reg(std::uint32_t r) const { return values_.get() + r * width_; }
  [[nodiscard]] std::uint8_t* site(std::uint32_t s) { return sites_.data() + s * width_; }
  [[nodiscard]] const std::uint8_t* site(std::uint32_t s) const { return sites_.data() + s * width_; }
  /// Value of `slot` for case `lane` of the block that ran last.
  [[nodiscard]] double read(const Slot& slot, std::size_t lane) const {
    return slot.is_constant ? slot.constant : reg(slot.reg)[lane];
  }

 private:
  Memo* memo_ = nullptr;
  std::size_t width_;  ///< cases a register holds, a multiple of kLane
  std::unique_ptr<double[]> values_;  ///< not set before the first run: every step writes before another reads
  std::vector<std::uint8_t> sites_;  ///< 1: a site's condition was met, 2: it has no value
};

/// Runs cases first .. first+count-1 of the columns; count is at most what `scratch` was made for.
void run_block(const Compiled& compiled, std::span<const Column> columns, std::size_t first, std::size_t count,
               Scratch& scratch);

}  // namespace jambcheck::exec
