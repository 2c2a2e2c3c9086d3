#include "mechanics/anchor_layout.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::mechanics {
namespace {

constexpr double kSamePlace = 1e-9;

bool length(double x) { return x >= 0 && std::isfinite(x); }

}  // namespace

bool sensible(const AnchorLayout& a) {
  if (a.count < 1 || a.count > kMostAnchors || a.own >= a.count || (a.is_line() && a.count != 1)) return false;
  if (!length(a.edge) || !length(a.other) || !length(a.end) || !length(a.line_spacing)) return false;
  for (std::size_t i = 0; i < a.count; ++i) {
    if (!std::isfinite(a.at[i].x) || !std::isfinite(a.at[i].z)) return false;
    for (std::size_t j = 0; j < i; ++j)
      if (std::hypot(a.at[i].x - a.at[j].x, a.at[i].z - a.at[j].z) <= kSamePlace) return false;
  }
  return true;
}

ConcreteSurface surface_of(const AnchorLayout& a) {
  ConcreteSurface s{a.at[0].x, a.at[0].x, a.at[0].z, a.at[0].z};
  for (std::size_t i = 1; i < a.count; ++i) {
    s.x_low = std::min(s.x_low, a.at[i].x);
    s.x_high = std::max(s.x_high, a.at[i].x);
    s.z_low = std::min(s.z_low, a.at[i].z);
    s.z_high = std::max(s.z_high, a.at[i].z);
  }
  return {s.x_low - a.other, s.x_high + a.edge, s.z_low - a.end, s.z_high + a.end};
}

}  // namespace jambcheck::mechanics
