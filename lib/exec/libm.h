#pragma once
// pow over columns, vectorised. Arguments must be positive and finite where the result is to be used.
#include <cstddef>

namespace jambcheck::exec {

void libm_power(double* __restrict d, const double* a, const double* b, std::size_t n);

}  // namespace jambcheck::exec
