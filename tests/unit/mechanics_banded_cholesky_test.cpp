// The band solver behind the plate: against a product formed by hand.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "mechanics/banded_cholesky.h"

namespace jambcheck::mechanics {
namespace {

TEST(BandedCholesky, SolvesWhatItWasGiven) {
  std::mt19937 random(3);
  std::uniform_real_distribution<> value(-1, 1);
  BandedCholesky matrix;
  for (std::size_t reach : {0, 1, 3, 9}) {
    const std::size_t nodes = 7;
    const std::size_t n = 4 * nodes;
    std::vector<double> full(n * n, 0.0);
    matrix.reset(nodes, reach);
    for (std::size_t j = 0; j < n; ++j) {
      for (std::size_t i = j; i < n && i / 4 <= j / 4 + reach; ++i) {
        const double v = i == j ? 60.0 : value(random);
        matrix.at(i, j) = v;
        full[i * n + j] = full[j * n + i] = v;
      }
    }
    std::vector<double> wanted(n), x(n, 0.0);
    for (double& v : wanted) v = value(random);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) x[i] += full[i * n + j] * wanted[j];
    }
    ASSERT_TRUE(matrix.factor());
    matrix.solve(x);
    for (std::size_t i = 0; i < n; ++i) EXPECT_NEAR(x[i], wanted[i], 1e-13);
  }
}

TEST(BandedCholesky, RefusesWhatIsNotPositiveDefinite) {
  BandedCholesky matrix;
  matrix.reset(2, 1);
  for (std::size_t i = 0; i < 8; ++i) matrix.at(i, i) = 1;
  matrix.at(6, 2) = 1;
  EXPECT_FALSE(matrix.factor());
}

}  // namespace
}  // namespace jambcheck::mechanics
