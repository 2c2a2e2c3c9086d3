#pragma once
// A program over all pairs of rows and columns: rows are what is tried (fasteners), columns are load cases. A value that
// hangs on one of them alone is worked out once for it, not for every pair; the same kernels, so the same bits.
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "exec/compiled.h"

namespace jambcheck::exec {

/// What a value hangs on.
enum class Extent : std::uint8_t { one = 0, rows = 1, columns = 2, both = 3 };
inline Extent operator|(Extent a, Extent b) { return static_cast<Extent>(static_cast<std::uint8_t>(a) | static_cast<std::uint8_t>(b)); }

/// An input: one value, one a row, one a column, or one a pair (row by row).
struct PairInput {
  const double* data = nullptr;
  Extent extent = Extent::one;
};

/// Values over the pairs: where they stand, and how far it is to the next row and column.
template <class T>
struct Spread {
  const T* data = nullptr;
  std::size_t row_step = 0, column_step = 0;
  T at(std::size_t row, std::size_t column) const { return data[row * row_step + column * column_step]; }
};

/// Belongs to one thread; made once for a program and used for many blocks. Neither may be destroyed before it.
class Pairs {
 public:
  explicit Pairs(const Compiled& compiled);
  /// Where answers of solvers are kept from run to run; without it each block solves anew.
  void remember(Memo* memo) { memo_ = memo; }
  /// Works out rows x columns pairs; both at least 1.
  void run(std::span<const PairInput> inputs, std::size_t rows, std::size_t columns);

  // Of the last run:
  [[nodiscard]] Spread<double> values(const Slot& slot) const;
  [[nodiscard]] Spread<std::uint8_t> records(std::uint32_t site) const;  ///< 1: a site's condition was met, 2: no value
  [[nodiscard]] Extent extent_of_site(std::uint32_t site) const { return site_extent_[site]; }
  /// Whether the site said anything for any pair.
  [[nodiscard]] bool any_record(std::uint32_t site) const;
  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] std::size_t columns() const { return columns_; }

 private:
  using Step = Compiled::Step;
  void fit(std::size_t rows, std::size_t columns);
  void run_step(const Step& step, std::span<const PairInput> inputs);
  void load(const Step& step, const PairInput& input);
  void run_unary(const Step& step, Unary kernel);
  void run_binary(const Step& step);
  void run_select(const Step& step);
  void run_lookup(const Step& step);
  void run_native(const Step& step);
  void run_recording(const Step& step);
  void mark_site(const Step& step, const double* hit, Extent of_hit);
  void mark_none(const Step& step);

  [[nodiscard]] std::size_t count(Extent e) const;
  [[nodiscard]] std::size_t padded(Extent e) const { return (count(e) + kLane - 1) / kLane * kLane; }
  double* narrow(std::uint32_t r) { return narrow_.get() + r * narrow_width_; }
  double* wide(std::uint32_t r) { return wide_.get() + r * wide_width_; }
  double* place(std::uint32_t r, Extent e) { return e == Extent::both ? wide(r) : narrow(r); }
  /// Where register r is written next, with this extent.
  double* into(std::uint32_t r, Extent e);
  /// Register r as a column of extent e, which holds its own.
  const double* as(std::uint32_t r, Extent e);
  void widen(std::uint32_t r);
  Extent extent_of_args(std::span<const std::uint32_t> args) const;
  double* hits(Extent e);

  const Compiled& compiled_;
  Memo* memo_ = nullptr;
  std::size_t rows_ = 1, columns_ = 1;
  std::size_t narrow_width_ = 0, wide_width_ = 0, site_width_ = 0;
  std::unique_ptr<double[]> narrow_, wide_;
  std::unique_ptr<std::uint8_t[]> sites_;
  std::vector<Extent> extent_, site_extent_;
  std::vector<std::uint8_t> filled_, widened_;  ///< of registers that stand narrower than they were asked for
  std::vector<double> hits_, other_hits_;
  std::vector<const double*> args_;
  std::vector<double*> results_;
};

}  // namespace jambcheck::exec
