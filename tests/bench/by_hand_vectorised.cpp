// This file alone is built with -march=native -ffast-math -fopenmp-simd: as fast as this machine goes.
#include "lag_formulas.h"

namespace jambcheck::bench {

void by_hand_vectorised(const LagColumns& columns, double* __restrict R, double* __restrict Z, std::size_t n) {
  const LagColumns c = columns;
#pragma omp simd
  for (std::size_t i = 0; i < n; ++i) {
    R[i] = withdrawal_by_hand(c, i);
    Z[i] = lateral_by_hand(c, i);
  }
}

}  // namespace jambcheck::bench
