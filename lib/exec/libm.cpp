// The only file built with -ffast-math: that is what lets the compiler call the vector pow of the C library.
#include "exec/libm.h"

#include <cmath>

#include "program/target.h"

namespace jambcheck::exec {

JAMBCHECK_CLONES void libm_power(double* __restrict d, const double* a, const double* b, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) d[i] = std::pow(a[i], b[i]);
}

}  // namespace jambcheck::exec
