#include "mechanics/banded_cholesky.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

namespace jambcheck::mechanics {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

Eigen::Map<VectorXd> map(double* p, std::size_t n) { return {p, static_cast<Index>(n)}; }
Eigen::Map<const VectorXd> map(const double* p, std::size_t n) { return {p, static_cast<Index>(n)}; }

}  // namespace

void BandedCholesky::reset(std::size_t nodes, std::size_t reach) {
  size_ = nodes * kPerNode;
  height_ = (reach + 1) * kPerNode;
  data_.assign(size_ * height_, 0.0);
}

// The columns of one node end at the same row.
std::size_t BandedCholesky::last_row(std::size_t column) const {
  const std::size_t node_start = column - column % kPerNode;
  return std::min(size_, node_start + height_) - 1;
}

bool BandedCholesky::factor() {
  for (std::size_t j = 0; j < size_; j += kPerNode) {
    const std::size_t last = last_row(j);
    for (std::size_t p = j; p < j + kPerNode; ++p) {
      const double pivot = at(p, p);
      if (!(pivot > 0) || !std::isfinite(pivot)) return false;
      map(&at(p, p), last - p + 1) /= std::sqrt(pivot);
      for (std::size_t q = p + 1; q < j + kPerNode; ++q) {
        map(&at(q, q), last - q + 1) -= at(q, p) * map(&at(q, p), last - q + 1);
      }
    }
    // Four columns at once: the target is read and written once for all of them.
    for (std::size_t k = j + kPerNode; k <= last; ++k) {
      const std::size_t n = last - k + 1;
      map(&at(k, k), n) -= at(k, j) * map(&at(k, j), n) + at(k, j + 1) * map(&at(k, j + 1), n) +
                           at(k, j + 2) * map(&at(k, j + 2), n) + at(k, j + 3) * map(&at(k, j + 3), n);
    }
  }
  return true;
}

void BandedCholesky::solve(std::span<double> x) const {
  for (std::size_t j = 0; j < size_; ++j) {
    const double* column = &data_[j * height_];
    const std::size_t below = last_row(j) - j;
    x[j] /= column[0];
    if (below > 0) map(&x[j + 1], below) -= x[j] * map(column + 1, below);
  }
  for (std::size_t j = size_; j-- > 0;) {
    const double* column = &data_[j * height_];
    const std::size_t below = last_row(j) - j;
    if (below > 0) x[j] -= map(column + 1, below).dot(map(&x[j + 1], below));
    x[j] /= column[0];
  }
}

}  // namespace jambcheck::mechanics
