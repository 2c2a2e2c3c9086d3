#pragma once
// Cholesky factor of a symmetric positive definite band matrix whose unknowns come four to a node.
#include <cstddef>
#include <span>
#include <vector>

namespace jambcheck::mechanics {

class BandedCholesky {
 public:
  static constexpr std::size_t kPerNode = 4;
  static constexpr std::size_t kSpare = 4;  ///< entries at the end of each column that no row has

  /// All zero; `nodes` nodes, each coupled with the `reach` nodes before and after it. Keeps its store when it shrinks.
  void reset(std::size_t nodes, std::size_t reach);

  std::size_t size() const { return size_; }

  /// Entry of the lower triangle: row >= column, the nodes of both within reach.
  double& at(std::size_t row, std::size_t column) { return data_[column * (height_ + kSpare) + (row - column)]; }

  /// Replaces the matrix by its factor; false when it is not positive definite.
  bool factor();

  /// Solves with the factor, in place.
  void solve(std::span<double> x) const;

 private:
  std::vector<double> data_;  // columns of the lower band, each from its diagonal down
  std::size_t size_ = 0;
  std::size_t height_ = 0;
};

}  // namespace jambcheck::mechanics
