#include "mechanics/banded_cholesky.h"

#include <algorithm>
#include <cmath>

#include "mechanics/four.h"
#include "program/target.h"

namespace jambcheck::mechanics {

namespace {

constexpr std::size_t kPerNode = BandedCholesky::kPerNode;

/// The four columns of a node, each told by its row: column[p][row].
struct Columns {
  double* column[kPerNode];
  Columns(double* data, std::size_t height, std::size_t first) {
    const std::size_t stride = height + BandedCholesky::kSpare;
    for (std::size_t p = 0; p < kPerNode; ++p) column[p] = data + (first + p) * stride - (first + p);
  }
  double* operator[](std::size_t p) const { return column[p]; }
};

/// The columns of one node end at the same row.
std::size_t end_of(std::size_t node, std::size_t size, std::size_t height) { return std::min(size, node + height); }

/// Rows of a node's columns below its own four, by the factor of those: forward substitution, a row at a time.
JAMBCHECK_CLONES void factor_rows(double* __restrict a, double* __restrict b, double* __restrict c, double* __restrict d, const double (&l)[kPerNode][kPerNode], std::size_t n) {
  const double ia = 1 / l[0][0], ib = 1 / l[1][1], ic = 1 / l[2][2], id = 1 / l[3][3];
  const double ba = l[1][0], ca = l[2][0], da = l[3][0], cb = l[2][1], db = l[3][1], dc = l[3][2];
  for (std::size_t i = 0; i < n; ++i) {
    const double x = a[i] * ia;
    const double y = (b[i] - ba * x) * ib;
    const double z = (c[i] - ca * x - cb * y) * ic;
    a[i] = x;
    b[i] = y;
    c[i] = z;
    d[i] = (d[i] - da * x - db * y - dc * z) * id;
  }
}

/// Factors a node's own columns.
inline bool factor_node(const Columns& own, std::size_t node, std::size_t end) {
  double l[kPerNode][kPerNode] = {};
  for (std::size_t p = 0; p < kPerNode; ++p) {
    for (std::size_t r = p; r < kPerNode; ++r) {
      double left = own[p][node + r];
      for (std::size_t k = 0; k < p; ++k) left -= l[r][k] * l[p][k];
      if (r == p && (!(left > 0) || !std::isfinite(left))) return false;
      l[r][p] = r == p ? std::sqrt(left) : left / l[p][p];
      own[p][node + r] = l[r][p];
    }
  }
  const std::size_t row = node + kPerNode;
  if (row < end) factor_rows(own[0] + row, own[1] + row, own[2] + row, own[3] + row, l, end - row);
  return true;
}

/// The columns `to` less the columns `from` times their factors f[from][to], rows 0 to n: each row is read once for all
/// four. Half of a plate's solve is spent here.
JAMBCHECK_CLONES void take_rows(double* const (&to)[kPerNode], const double* const (&from)[kPerNode], const double (&f)[kPerNode][kPerNode], std::size_t n) {
  for (std::size_t i = 0; i < n; i += kPerNode) {
    Four a, b, c, d;
    get(a, from[0] + i);
    get(b, from[1] + i);
    get(c, from[2] + i);
    get(d, from[3] + i);
    for (std::size_t t = 0; t < kPerNode; ++t) {
      Four left;
      get(left, to[t] + i);
      left -= f[0][t] * a + f[1][t] * b + f[2][t] * c + f[3][t] * d;
      put(to[t] + i, left);
    }
  }
}

/// Takes a factored node from the columns of a node behind it. Rows above the diagonal go with the others; what is
/// written there falls into the spare end of the column before.
inline void take_from(const Columns& own, const Columns& other, std::size_t node, std::size_t end) {
  double f[kPerNode][kPerNode];
  for (std::size_t p = 0; p < kPerNode; ++p) {
    for (std::size_t t = 0; t < kPerNode; ++t) f[p][t] = own[p][node + t];
  }
  take_rows({other[0] + node, other[1] + node, other[2] + node, other[3] + node}, {own[0] + node, own[1] + node, own[2] + node, own[3] + node}, f, end - node);
}

bool factor_band(double* data, std::size_t size, std::size_t height) {
  for (std::size_t node = 0; node < size; node += kPerNode) {
    const Columns own(data, height, node);
    const std::size_t end = end_of(node, size, height);
    if (!factor_node(own, node, end)) return false;
    for (std::size_t other = node + kPerNode; other < end; other += kPerNode) take_from(own, Columns(data, height, other), other, end);
  }
  return true;
}

JAMBCHECK_CLONES void solve_band(double* data, std::size_t size, std::size_t height, double* __restrict x) {
  for (std::size_t node = 0; node < size; node += kPerNode) {
    const Columns l(data, height, node);
    const std::size_t end = end_of(node, size, height);
    for (std::size_t p = 0; p < kPerNode; ++p) {
      const double known = x[node + p] /= l[p][node + p];
      for (std::size_t row = node + p + 1; row < node + kPerNode; ++row) x[row] -= known * l[p][row];
    }
    for (std::size_t row = node + kPerNode; row < end; row += kPerNode) {
      Four left;
      get(left, x + row);
      for (std::size_t p = 0; p < kPerNode; ++p) {
        Four column;
        get(column, l[p] + row);
        left -= x[node + p] * column;
      }
      put(x + row, left);
    }
  }
  for (std::size_t node = size; node > 0;) {
    node -= kPerNode;
    const Columns l(data, height, node);
    const std::size_t end = end_of(node, size, height);
    Four sum[kPerNode] = {};
    for (std::size_t row = node + kPerNode; row < end; row += kPerNode) {
      Four known;
      get(known, x + row);
      for (std::size_t p = 0; p < kPerNode; ++p) {
        Four column;
        get(column, l[p] + row);
        sum[p] += column * known;
      }
    }
    for (std::size_t p = kPerNode; p-- > 0;) {
      double left = x[node + p] - sum_of(sum[p]);
      for (std::size_t row = node + p + 1; row < node + kPerNode; ++row) left -= l[p][row] * x[row];
      x[node + p] = left / l[p][node + p];
    }
  }
}

}  // namespace

void BandedCholesky::reset(std::size_t nodes, std::size_t reach) {
  size_ = nodes * kPerNode;
  height_ = (reach + 1) * kPerNode;
  data_.assign(size_ * (height_ + kSpare), 0.0);
}

bool BandedCholesky::factor() { return factor_band(data_.data(), size_, height_); }

void BandedCholesky::solve(std::span<double> x) const { solve_band(const_cast<double*>(data_.data()), size_, height_, x.data()); }

}  // namespace jambcheck::mechanics
