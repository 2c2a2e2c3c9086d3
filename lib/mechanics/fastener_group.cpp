#include "mechanics/fastener_group.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace jambcheck::mechanics {

namespace {

bool finite(Point p) { return std::isfinite(p.x) && std::isfinite(p.z); }

bool finite(const InPlaneLoad& load) {
  return std::isfinite(load.Fx) && std::isfinite(load.Fz) && std::isfinite(load.My) && (!load.at || finite(*load.at));
}

Point centroid(std::span<const Point> at) {
  Point c;
  for (const Point& p : at) {
    c.x += p.x;
    c.z += p.z;
  }
  const double n = static_cast<double>(at.size());
  return {c.x / n, c.z / n};
}

}  // namespace

double Shear::magnitude() const { return std::hypot(x, z); }

double Shear::angle() const { return x == 0 && z == 0 ? 0 : std::atan2(z, x); }

Status solve_fastener_group(std::span<const Point> at, const InPlaneLoad& load, std::span<Shear> shear) {
  std::fill(shear.begin(), shear.end(), Shear{});
  if (at.empty()) return Status::no_fastener;
  if (at.size() != shear.size()) return Status::wrong_size;
  if (!finite(load) || !std::all_of(at.begin(), at.end(), [](Point p) { return finite(p); })) return Status::not_finite;

  const Point c = centroid(at);
  const Point p = load.at.value_or(c);
  // The lever of the force is a difference of positions: below its rounding there is no lever.
  const double lever_noise =
      8 * std::numeric_limits<double>::epsilon() *
      (std::abs(load.Fz) * (std::abs(p.x) + std::abs(c.x)) + std::abs(load.Fx) * (std::abs(p.z) + std::abs(c.z)));
  const double moment = load.My + load.Fz * (p.x - c.x) - load.Fx * (p.z - c.z);

  double J = 0;
  double reach = 0;
  for (const Point& f : at) {
    J += (f.x - c.x) * (f.x - c.x) + (f.z - c.z) * (f.z - c.z);
    reach = std::max({reach, std::abs(f.x), std::abs(f.z)});
  }
  const double place_noise = 8 * std::numeric_limits<double>::epsilon() * reach;
  const bool one_place = at.size() == 1 || J <= static_cast<double>(at.size()) * place_noise * place_noise;
  if (one_place && std::abs(moment) > lever_noise) return Status::no_lever;

  const double n = static_cast<double>(at.size());
  const double turn = one_place ? 0 : moment / J;
  for (std::size_t i = 0; i < at.size(); ++i) {
    shear[i].x = load.Fx / n - turn * (at[i].z - c.z);
    shear[i].z = load.Fz / n + turn * (at[i].x - c.x);
  }
  return Status::ok;
}

}  // namespace jambcheck::mechanics
