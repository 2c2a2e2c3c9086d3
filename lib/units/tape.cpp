// Lengths printed as they are read from a tape: feet, inches, sixteenths.
#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <numeric>

#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::units {
namespace {

constexpr std::int64_t kSixteenths = 16;
constexpr std::int64_t kInchesPerFoot = 12;
constexpr double kNearEnough = 1e-6;  // in
constexpr double kLongest = 1e9;      // in; beyond this a tape makes no sense

/// `4 5/8"`, `5/16"`, `0"`
std::string whole_and_fraction(std::int64_t sixteenths) {
  const std::int64_t whole = sixteenths / kSixteenths, part = sixteenths % kSixteenths;
  if (part == 0) return fmt::format("{}\"", whole);
  const std::int64_t common = std::gcd(part, kSixteenths);
  const std::string fraction = fmt::format("{}/{}\"", part / common, kSixteenths / common);
  return whole == 0 ? fraction : fmt::format("{} {}", whole, fraction);
}

std::string on_tape(double inches, bool with_feet) {
  if (!(std::fabs(inches) < kLongest)) return text::rounded(inches) + (std::isfinite(inches) ? " in" : "");
  const double size = std::fabs(inches);
  const std::int64_t sixteenths = std::llround(size * kSixteenths);
  const bool near = std::fabs(static_cast<double>(sixteenths) / kSixteenths - size) > kNearEnough;
  std::string out = near ? "~" : "";
  if (inches < 0 && sixteenths != 0) out += '-';
  constexpr std::int64_t foot = kInchesPerFoot * kSixteenths;
  if (!with_feet || sixteenths < foot) return out + whole_and_fraction(sixteenths);
  const std::int64_t within = sixteenths % foot;
  // Without whole inches the 0 is written too, so that nothing reads as a fraction of feet.
  const char* zero = within > 0 && within < kSixteenths ? "0 " : "";
  return out + fmt::format("{}'-{}{}", sixteenths / foot, zero, whole_and_fraction(within));
}

}  // namespace

std::string tape(double inches) { return on_tape(inches, true); }
std::string tape_inches(double inches) { return on_tape(inches, false); }

}  // namespace jambcheck::units
