#pragma once
// Inside of units: factors as quotients, whole numbers above and below wherever the definitions allow it.
// value * 5 / 127 is 0.5 in for 12.7 mm to the last bit; value * 0.03937... is not.
#include <cmath>
#include <cstdint>
#include <numeric>

#include "units/dimension.h"

namespace jambcheck::units {

/// top / bottom, kept in lowest terms as long as both are whole numbers of less than 62 bits.
/// Wider than double, so that products and powers are rounded only once.
struct Ratio {
  long double top = 1;
  long double bottom = 1;

  [[nodiscard]] constexpr long double value() const { return top / bottom; }
  /// Whether both numbers are whole and exact as a double.
  [[nodiscard]] constexpr bool exact() const { return whole(top, kExactDouble) && whole(bottom, kExactDouble); }

  friend constexpr Ratio operator*(const Ratio& a, const Ratio& b) {
    return reduced(a.top * b.top, a.bottom * b.bottom);
  }
  friend constexpr Ratio operator/(const Ratio& a, const Ratio& b) {
    return reduced(a.top * b.bottom, a.bottom * b.top);
  }

 private:
  static constexpr long double kExactDouble = 9007199254740992.0L;  // 2^53
  static constexpr long double kReducible = kExactDouble * 512;     // 2^62

  static constexpr bool whole(long double n, long double most) {
    return n >= 1 && n <= most && static_cast<long double>(static_cast<std::int64_t>(n)) == n;
  }
  static constexpr Ratio reduced(long double top, long double bottom) {
    if (bottom != 1 && whole(top, kReducible) && whole(bottom, kReducible)) {
      const auto common =
          static_cast<long double>(std::gcd(static_cast<std::int64_t>(top), static_cast<std::int64_t>(bottom)));
      top /= common;
      bottom /= common;
    }
    Ratio out;
    out.top = top;
    out.bottom = bottom;
    return out;
  }
};

/// ratio^e; whole exponents by multiplication, so that ft^3 is 1728 to the last bit.
inline Ratio power(const Ratio& ratio, Exponent e) {
  constexpr int kMost = 12;
  const int n = e.numerator();
  Ratio out;
  if (ratio.top == 1 && ratio.bottom == 1) return out;
  if (!e.whole() || n > kMost || n < -kMost) {
    out.top = std::pow(ratio.value(), static_cast<long double>(n) / e.denominator());
    return out;
  }
  for (int i = 0; i < n; ++i) out = out * ratio;
  for (int i = 0; i > n; --i) out = out / ratio;
  return out;
}

}  // namespace jambcheck::units
