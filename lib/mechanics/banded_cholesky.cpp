#include "mechanics/banded_cholesky.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "program/target.h"

namespace jambcheck::mechanics {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

Eigen::Map<VectorXd> map(double* p, std::size_t n) { return {p, static_cast<Index>(n)}; }
Eigen::Map<const VectorXd> map(const double* p, std::size_t n) { return {p, static_cast<Index>(n)}; }

/// Takes four columns from the column behind them: `to` is read and written once for all of them. `from[c]` is where
/// column c stands at the first row of `to`. Half of a whole solve is spent here.
JAMBCHECK_CLONES void subtract_four(double* __restrict to, const double* const from[4], std::size_t n) {
  const double* const a = from[0];
  const double* const b = from[1];
  const double* const c = from[2];
  const double* const d = from[3];
  const double fa = a[0], fb = b[0], fc = c[0], fd = d[0];
  for (std::size_t i = 0; i < n; ++i) to[i] -= fa * a[i] + fb * b[i] + fc * c[i] + fd * d[i];
}

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
    for (std::size_t k = j + kPerNode; k <= last; ++k) {
      const double* const from[kPerNode] = {&at(k, j), &at(k, j + 1), &at(k, j + 2), &at(k, j + 3)};
      subtract_four(&at(k, k), from, last - k + 1);
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
