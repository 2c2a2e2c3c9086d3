// Plain loops that the compiler turns into vector code, one copy a processor generation. No fast-math here: NaN is data.
#include "exec/kernels.h"

#include <cmath>
#include <limits>

#include "exec/libm.h"
#include "program/target.h"

namespace jambcheck::exec {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

}  // namespace

// A two-sided operation in its three forms. `x` and `y` are the sides.
#define JAMBCHECK_BINARY(NAME, EXPRESSION)                                                                      \
  namespace {                                                                                                   \
  JAMBCHECK_CLONES void NAME##_cc(double* __restrict d, const double* a, const double* b, std::size_t n) {      \
    for (std::size_t i = 0; i < n; ++i) {                                                                       \
      const double x = a[i], y = b[i];                                                                          \
      d[i] = (EXPRESSION);                                                                                      \
    }                                                                                                           \
  }                                                                                                             \
  JAMBCHECK_CLONES void NAME##_cs(double* __restrict d, const double* a, double y, std::size_t n) {             \
    for (std::size_t i = 0; i < n; ++i) {                                                                       \
      const double x = a[i];                                                                                    \
      d[i] = (EXPRESSION);                                                                                      \
    }                                                                                                           \
  }                                                                                                             \
  JAMBCHECK_CLONES void NAME##_sc(double* __restrict d, const double* a, double x, std::size_t n) {             \
    for (std::size_t i = 0; i < n; ++i) {                                                                       \
      const double y = a[i];                                                                                    \
      d[i] = (EXPRESSION);                                                                                      \
    }                                                                                                           \
  }                                                                                                             \
  }                                                                                                             \
  BinaryKernels NAME##_kernels() { return {NAME##_cc, NAME##_cs, NAME##_sc}; }

JAMBCHECK_BINARY(add, x + y)
JAMBCHECK_BINARY(subtract, x - y)
JAMBCHECK_BINARY(multiply, x* y)
JAMBCHECK_BINARY(divide, x / y)
// Written so that a NaN on either side comes out: x + y is NaN then.
JAMBCHECK_BINARY(minimum, (x != x || y != y) ? x + y : (x < y ? x : y))
JAMBCHECK_BINARY(maximum, (x != x || y != y) ? x + y : (x > y ? x : y))
JAMBCHECK_BINARY(less, (x != x || y != y) ? x + y : (x < y ? 1.0 : 0.0))
JAMBCHECK_BINARY(less_equal, (x != x || y != y) ? x + y : (x <= y ? 1.0 : 0.0))

#define JAMBCHECK_PAIR(NAME, EXPRESSION)                                                             \
  JAMBCHECK_CLONES void NAME(double* __restrict d, const double* a, const double* b, std::size_t n) { \
    for (std::size_t i = 0; i < n; ++i) {                                                            \
      const double x = a[i], y = b[i];                                                               \
      d[i] = (EXPRESSION);                                                                           \
    }                                                                                                \
  }

JAMBCHECK_PAIR(equal, (x != x || y != y) ? x + y : (x == y ? 1.0 : 0.0))
JAMBCHECK_PAIR(not_equal, (x != x || y != y) ? x + y : (x != y ? 1.0 : 0.0))
JAMBCHECK_PAIR(both, (x == 0.0 || y == 0.0) ? 0.0 : x* y)
JAMBCHECK_PAIR(either, (x == 1.0 || y == 1.0) ? 1.0 : x + y)
JAMBCHECK_PAIR(first_value, x != x ? y : x)
// Demand over capacity. No demand is 0 whatever the capacity, unless that has no value; demand on nothing is unlimited.
JAMBCHECK_PAIR(ratio, (x != x || y != y) ? x + y
                      : x == 0.0         ? 0.0
                      : x < 0.0          ? kNone
                      : y <= 0.0         ? std::numeric_limits<double>::infinity()
                                         : x / y)

#define JAMBCHECK_SINGLE(NAME, EXPRESSION)                                            \
  JAMBCHECK_CLONES void NAME(double* __restrict d, const double* a, std::size_t n) {  \
    for (std::size_t i = 0; i < n; ++i) {                                             \
      const double x = a[i];                                                          \
      d[i] = (EXPRESSION);                                                            \
    }                                                                                 \
  }

JAMBCHECK_SINGLE(negate, -x)
JAMBCHECK_SINGLE(absolute, std::fabs(x))
JAMBCHECK_SINGLE(square_root, std::sqrt(x))
JAMBCHECK_SINGLE(floor, std::floor(x))
JAMBCHECK_SINGLE(ceil, std::ceil(x))
JAMBCHECK_SINGLE(round_half_up, std::floor(x + 0.5))
JAMBCHECK_SINGLE(opposite, x != x ? x : (x == 0.0 ? 1.0 : 0.0))

// The functions of the mathematics library have no NaN-safe fast form; they are called through libm.h and repaired here.
void power(double* __restrict d, const double* a, const double* b, std::size_t n) {
  libm_power(d, a, b, n);
  for (std::size_t i = 0; i < n; ++i)
    if (!(a[i] > 0) || !(b[i] == b[i]) || std::isinf(a[i]) || std::isinf(b[i]))
      d[i] = (a[i] != a[i] || b[i] != b[i]) ? kNone : std::pow(a[i], b[i]);
}
void arctangent2(double* __restrict d, const double* a, const double* b, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) d[i] = std::atan2(a[i], b[i]);
}

#define JAMBCHECK_LIBM(NAME, FUNCTION)                               \
  void NAME(double* __restrict d, const double* a, std::size_t n) { \
    for (std::size_t i = 0; i < n; ++i) d[i] = FUNCTION(a[i]);      \
  }
JAMBCHECK_LIBM(natural_log, std::log)
JAMBCHECK_LIBM(exponential, std::exp)
JAMBCHECK_LIBM(sine, std::sin)
JAMBCHECK_LIBM(cosine, std::cos)
JAMBCHECK_LIBM(tangent, std::tan)
JAMBCHECK_LIBM(arcsine, std::asin)
JAMBCHECK_LIBM(arccosine, std::acos)
JAMBCHECK_LIBM(arctangent, std::atan)

#define JAMBCHECK_TRIPLE(NAME, EXPRESSION)                                                                            \
  JAMBCHECK_CLONES void NAME(double* __restrict d, const double* a, const double* b, const double* c, std::size_t n) { \
    for (std::size_t i = 0; i < n; ++i) {                                                                             \
      const double x = a[i], y = b[i], z = c[i];                                                                      \
      d[i] = (EXPRESSION);                                                                                            \
    }                                                                                                                 \
  }

JAMBCHECK_TRIPLE(select, x != x ? x : (x != 0.0 ? y : z))
JAMBCHECK_TRIPLE(outside, (x < y || x > z) ? 1.0 : 0.0)

// The count of what is outside is kept in lanes as wide as the values, so that the loop stays vector code.
#define JAMBCHECK_WATCHED(NAME, EXPRESSION)                                                                           \
  JAMBCHECK_CLONES bool NAME(double* __restrict d, const double* a, const double* b, const double* c, std::size_t n) { \
    std::int64_t outside = 0;                                                                                         \
    for (std::size_t i = 0; i < n; ++i) {                                                                             \
      const double x = a[i], y = b[i], z = c[i];                                                                      \
      outside |= static_cast<std::int64_t>(x < y) | static_cast<std::int64_t>(x > z);                                 \
      d[i] = (EXPRESSION);                                                                                            \
    }                                                                                                                 \
    return outside != 0;                                                                                              \
  }

JAMBCHECK_WATCHED(keep_in_range, (x >= y && x <= z) ? x : kNone)
JAMBCHECK_WATCHED(limit, (x != x || y != y || z != z) ? x + y + z : (x < y ? y : (x > z ? z : x)))

JAMBCHECK_CLONES void take_limited(double* __restrict d, const double* x, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) d[i] = x[i] - x[i] == 0.0 ? x[i] : kNone;
}
JAMBCHECK_CLONES bool any(const double* x, std::size_t n) {
  std::int64_t found = 0;
  for (std::size_t i = 0; i < n; ++i) found |= static_cast<std::int64_t>(x[i] != 0.0);
  return found != 0;
}
JAMBCHECK_CLONES void record(std::uint8_t* __restrict site, const double* hit, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) site[i] = static_cast<std::uint8_t>(hit[i] != hit[i] ? 2 : hit[i] != 0.0 ? 1 : 0);
}
JAMBCHECK_CLONES void record_where(std::uint8_t* __restrict site, const double* hit, const double* mask, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i)
    site[i] = static_cast<std::uint8_t>(mask[i] == 0.0 ? 0 : hit[i] != hit[i] ? 2 : hit[i] != 0.0 ? 1 : 0);
}

}  // namespace jambcheck::exec
