#include "lag_formulas.h"

namespace jambcheck::bench {

void by_hand(const LagColumns& columns, double* R, double* Z, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) {
    R[i] = withdrawal_by_hand(columns, i);
    Z[i] = lateral_by_hand(columns, i);
  }
}

}  // namespace jambcheck::bench
