#include "units/dimension.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace jambcheck::units {
namespace {

constexpr int kLargestDenominator = 64;
constexpr double kLargestExponent = 1000;
constexpr std::array<const char*, 5> kBaseNames = {"length", "force", "time", "temperature", "angle"};

template <class Operation>
Dimension each(const Dimension& a, const Dimension& b, Operation operation) {
  Dimension out;
  for (std::size_t i = 0; i < out.of.size(); ++i) out.of[i] = operation(a.of[i], b.of[i]);
  return out;
}

}  // namespace

bool Exponent::from_double(double value, Exponent& out) {
  if (!(std::fabs(value) <= kLargestExponent)) return false;
  for (int d = 1; d <= kLargestDenominator; ++d) {
    const double n = std::round(value * d);
    if (std::fabs(n / d - value) > 1e-12) continue;
    out = Exponent(static_cast<int>(n), d);
    return true;
  }
  return false;
}

bool Dimension::pure() const {
  return std::all_of(of.begin(), of.end(), [](const Exponent& e) { return e == Exponent(); });
}

bool Dimension::fits() const {
  return std::all_of(of.begin(), of.end(), [](const Exponent& e) { return e.fits(); });
}

Dimension Dimension::power(Exponent e) const {
  Dimension out;
  for (std::size_t i = 0; i < of.size(); ++i) out.of[i] = of[i] * e;
  return out;
}

Dimension operator*(const Dimension& a, const Dimension& b) {
  return each(a, b, [](Exponent x, Exponent y) { return x + y; });
}

Dimension operator/(const Dimension& a, const Dimension& b) {
  return each(a, b, [](Exponent x, Exponent y) { return x - y; });
}

std::string to_string(Exponent exponent) {
  if (!exponent.fits()) return "out of range";
  if (exponent.whole()) return fmt::format("{}", exponent.numerator());
  return fmt::format("{}/{}", exponent.numerator(), exponent.denominator());
}

std::string as_power(Exponent exponent) {
  if (exponent == Exponent(1)) return "";
  const bool plain = exponent.whole() && exponent.numerator() >= 0;
  return plain ? "^" + to_string(exponent) : "^(" + to_string(exponent) + ")";
}

std::string to_string(const Dimension& dimension) {
  std::string out;
  for (std::size_t i = 0; i < dimension.of.size(); ++i) {
    const Exponent e = dimension.of[i];
    if (e == Exponent()) continue;
    if (!out.empty()) out += ' ';
    out += kBaseNames[i] + as_power(e);
  }
  return out.empty() ? "pure number" : out;
}

}  // namespace jambcheck::units
