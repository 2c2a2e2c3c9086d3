#include "mechanics/windlock.h"

#include <cmath>

namespace jambcheck::mechanics {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// Length that a shallow parabola needs beyond its chord.
double extra_length(double sag, double width) { return 8 * sag * sag / (3 * width); }

/// Sag of a simply supported strip that carries the pressure by bending alone; infinite when limp.
double bending_sag(const WindlockCurtain& c) {
  return c.bending > 0 ? 5 * c.pressure * std::pow(c.width, 4) / (384 * c.bending) : kInfinite;
}

/// Pull that goes with a sag: what bending doesn't carry hangs in the parabola.
double pull_at(const WindlockCurtain& c, double sag) {
  const double by_bending = 384 * c.bending * sag / (5 * std::pow(c.width, 4));
  return std::fmax(0, c.pressure - by_bending) * c.width * c.width / (8 * sag);
}

/// Extra length that a pull of 1 makes: stretch and the give of both jambs.
double give(const WindlockCurtain& c) { return c.width / c.axial + 2 / c.jamb; }

/// Needed less available extra length; rises with the sag.
double excess(const WindlockCurtain& c, double sag) {
  return extra_length(sag, c.width) - 2 * c.gap - pull_at(c, sag) * give(c);
}

/// The root of `excess` between a sag where it is negative and one where it isn't, to the last bit.
double bisect(const WindlockCurtain& c, double low, double high) {
  for (;;) {
    const double middle = low + (high - low) / 2;
    if (!(middle > low && middle < high)) return high;
    (excess(c, middle) < 0 ? low : high) = middle;
  }
}

WindlockResult failed(Status status) {
  WindlockResult r;
  r.status = status;
  return r;
}

Status check(const WindlockCurtain& c) {
  if (!std::isfinite(c.pressure) || !std::isfinite(c.width) || !std::isfinite(c.gap) || !std::isfinite(c.bending)) return Status::not_finite;
  if (std::isnan(c.axial) || std::isnan(c.jamb)) return Status::not_finite;
  if (c.width <= 0 || c.pressure < 0 || c.gap < 0 || c.bending < 0 || c.axial < 0 || c.jamb < 0) return Status::wrong_size;
  return Status::ok;
}

}  // namespace

WindlockResult solve_windlock(const WindlockCurtain& c) {
  if (const Status status = check(c); status != Status::ok) return failed(status);
  WindlockResult r;
  if (c.pressure == 0) return r;
  const double free_sag = bending_sag(c);
  // The locks never bear: the bent curtain is short enough, or what they bear on gives way without end.
  if (extra_length(free_sag, c.width) <= 2 * c.gap || std::isinf(give(c))) {
    r.sag = free_sag;
    return r;
  }
  const double gap_sag = std::sqrt(3 * c.width * c.gap / 4);
  if (give(c) == 0) {
    if (c.gap == 0) return failed(Status::no_equilibrium);
    r.sag = gap_sag;
  } else {
    double high = free_sag;
    if (std::isinf(high)) {
      high = std::fmax(gap_sag, c.width / 1024);
      while (excess(c, high) < 0) high *= 2;
    }
    r.sag = bisect(c, 0, high);
  }
  r.pull = pull_at(c, r.sag);
  r.residual = std::fabs(excess(c, r.sag)) / extra_length(r.sag, c.width);
  return r;
}

}  // namespace jambcheck::mechanics
