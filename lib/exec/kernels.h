#pragma once
// Arithmetic over columns. Every loop runs over a multiple of kLane values, so that one case and a million take the
// same vector instructions and give the same bits.
#include <cstddef>
#include <cstdint>

namespace jambcheck::exec {

inline constexpr std::size_t kLane = 8;     ///< widest vector in doubles
inline constexpr std::size_t kBlock = 256;  ///< cases worked on at a time

using Unary = void (*)(double* __restrict d, const double* a, std::size_t n);
using Binary = void (*)(double* __restrict d, const double* a, const double* b, std::size_t n);
using Scalar = void (*)(double* __restrict d, const double* a, double s, std::size_t n);
using Ternary = void (*)(double* __restrict d, const double* a, const double* b, const double* c, std::size_t n);

/// A kernel of one operation; `scalar_b` and `scalar_a` are the forms with one side the same for all cases.
struct BinaryKernels {
  Binary columns;
  Scalar scalar_b;  ///< a op s
  Scalar scalar_a;  ///< s op a
};

// NaN rules: arithmetic, comparison, power, minimum and maximum pass NaN on; and/or/select as in opcodes.def.
BinaryKernels add_kernels();
BinaryKernels subtract_kernels();
BinaryKernels multiply_kernels();
BinaryKernels divide_kernels();
BinaryKernels minimum_kernels();
BinaryKernels maximum_kernels();
BinaryKernels less_kernels();
BinaryKernels less_equal_kernels();
void equal(double* __restrict d, const double* a, const double* b, std::size_t n);
void not_equal(double* __restrict d, const double* a, const double* b, std::size_t n);
void both(double* __restrict d, const double* a, const double* b, std::size_t n);
void either(double* __restrict d, const double* a, const double* b, std::size_t n);
void first_value(double* __restrict d, const double* a, const double* b, std::size_t n);
void ratio(double* __restrict d, const double* a, const double* b, std::size_t n);
void power(double* __restrict d, const double* a, const double* b, std::size_t n);
void arctangent2(double* __restrict d, const double* a, const double* b, std::size_t n);
void negate(double* __restrict d, const double* a, std::size_t n);
void absolute(double* __restrict d, const double* a, std::size_t n);
void square_root(double* __restrict d, const double* a, std::size_t n);
void floor(double* __restrict d, const double* a, std::size_t n);
void ceil(double* __restrict d, const double* a, std::size_t n);
void round_half_up(double* __restrict d, const double* a, std::size_t n);
void natural_log(double* __restrict d, const double* a, std::size_t n);
void exponential(double* __restrict d, const double* a, std::size_t n);
void sine(double* __restrict d, const double* a, std::size_t n);
void cosine(double* __restrict d, const double* a, std::size_t n);
void tangent(double* __restrict d, const double* a, std::size_t n);
void arcsine(double* __restrict d, const double* a, std::size_t n);
void arccosine(double* __restrict d, const double* a, std::size_t n);
void arctangent(double* __restrict d, const double* a, std::size_t n);
void opposite(double* __restrict d, const double* a, std::size_t n);
void select(double* __restrict d, const double* condition, const double* yes, const double* no, std::size_t n);
/// What is outside lo..hi becomes no value, or the nearer of the two. Tells whether anything was outside: nearly always
/// nothing is, and then nobody has to write down where.
bool keep_in_range(double* __restrict d, const double* x, const double* lo, const double* hi, std::size_t n);
bool limit(double* __restrict d, const double* x, const double* lo, const double* hi, std::size_t n);
/// Values of an input; unlimited ones become no value.
void take_limited(double* __restrict d, const double* x, std::size_t n);
/// Whether anything is not 0 (no value is not 0 either).
bool any(const double* x, std::size_t n);
/// 1 where `hit` is yes, 2 where it has no value, else 0.
void record(std::uint8_t* __restrict site, const double* hit, std::size_t n);
/// The same where `mask` is yes or has no value; 0 elsewhere.
void record_where(std::uint8_t* __restrict site, const double* hit, const double* mask, std::size_t n);
/// 1 where x is outside lo..hi or has no value... a missing value is no range fault, so NaN gives 0.
void outside(double* __restrict d, const double* x, const double* lo, const double* hi, std::size_t n);

}  // namespace jambcheck::exec
