#pragma once
// Physical dimensions with fractional exponents, so that a code formula such as psi^(1/2) can be checked.
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <string>

namespace jambcheck::units {

/// An exact exponent such as 3/4, always in lowest terms with a positive denominator.
/// One that has grown out of range does not fit(), equals nothing, and stays so in further arithmetic.
class Exponent {
 public:
  constexpr Exponent() = default;
  constexpr Exponent(int numerator, int denominator = 1) : Exponent(reduced(numerator, denominator)) {}
  /// The exponent that `value` is within 1e-12, denominators up to 64; 29/20 for 1.45. False when there is none.
  static bool from_double(double value, Exponent& out);

  [[nodiscard]] constexpr int numerator() const { return n_; }
  [[nodiscard]] constexpr int denominator() const { return d_; }
  [[nodiscard]] constexpr double value() const { return static_cast<double>(n_) / d_; }
  [[nodiscard]] constexpr bool fits() const { return d_ != 0; }
  [[nodiscard]] constexpr bool whole() const { return d_ == 1; }

  friend constexpr Exponent operator+(Exponent a, Exponent b) {
    return reduced(wide(a.n_) * b.d_ + wide(b.n_) * a.d_, wide(a.d_) * b.d_);
  }
  friend constexpr Exponent operator-(Exponent a, Exponent b) {
    return reduced(wide(a.n_) * b.d_ - wide(b.n_) * a.d_, wide(a.d_) * b.d_);
  }
  friend constexpr Exponent operator*(Exponent a, Exponent b) {
    return reduced(wide(a.n_) * b.n_, wide(a.d_) * b.d_);
  }
  friend constexpr bool operator==(const Exponent& a, const Exponent& b) {
    return a.fits() && a.n_ == b.n_ && a.d_ == b.d_;
  }

 private:
  // Kept well inside 32 bits so that no sum of two products of 64 bits can overflow.
  static constexpr std::int64_t kMost = std::numeric_limits<std::int32_t>::max() / 2;
  static constexpr std::int64_t wide(std::int32_t n) { return n; }
  static constexpr Exponent reduced(std::int64_t n, std::int64_t d) {
    Exponent out;
    const std::int64_t common = d == 0 ? 1 : std::gcd(n, d) * (d < 0 ? -1 : 1);
    const bool out_of_range = d == 0 || n / common > kMost || n / common < -kMost || d / common > kMost;
    out.n_ = out_of_range ? 0 : static_cast<std::int32_t>(n / common);
    out.d_ = out_of_range ? 0 : static_cast<std::int32_t>(d / common);
    return out;
  }

  std::int32_t n_ = 0;
  std::int32_t d_ = 1;
};

/// Exponents of the base quantities length, force, time, temperature, angle. (Mass is force time^2 / length.)
struct Dimension {
  std::array<Exponent, 5> of{};

  [[nodiscard]] bool pure() const;
  [[nodiscard]] bool fits() const;  ///< false when an exponent has grown out of range
  [[nodiscard]] Dimension power(Exponent e) const;
  friend Dimension operator*(const Dimension& a, const Dimension& b);
  friend Dimension operator/(const Dimension& a, const Dimension& b);
  friend bool operator==(const Dimension&, const Dimension&) = default;
};

inline constexpr std::size_t kLength = 0, kForce = 1, kTime = 2, kTemperature = 3, kAngle = 4;

/// "3/4", "2"; as an exponent is printed: "^(3/4)", "^2", "^(-1)" and nothing for 1.
std::string to_string(Exponent exponent);
std::string as_power(Exponent exponent);

/// "length^(-1) force" ; "pure number" when all exponents are zero.
std::string to_string(const Dimension& dimension);

}  // namespace jambcheck::units
