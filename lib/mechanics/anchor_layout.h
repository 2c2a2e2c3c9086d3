#pragma once
// Anchors as seen on the concrete surface that they enter, and its edges.
#include <array>
#include <cstddef>

#include "mechanics/plane.h"

namespace jambcheck::mechanics {

constexpr std::size_t kMostAnchors = 8;

/// x toward the loaded edge, z up; in. Either up to eight anchors of a plate, or one anchor of a line up the wall with
/// like neighbours. Loads are that of each anchor, lbf.
struct AnchorLayout {
  std::array<Point, kMostAnchors> at{};
  std::size_t count = 0;
  std::size_t own = 0;      ///< the anchor asked for
  double line_spacing = 0;  ///< > 0: one anchor at `at[0]` of a line with this spacing
  double edge = 0;          ///< from the outermost anchor to the loaded edge
  double other = 0;         ///< from the outermost anchor to the opposite edge
  double end = 0;           ///< from the lowest anchor down, and from the topmost up, to an end of the concrete

  bool is_line() const { return line_spacing > 0; }
};

/// The concrete surface between its four edges.
struct ConcreteSurface {
  double x_low = 0, x_high = 0, z_low = 0, z_high = 0;
};

/// False where a number is missing or makes no sense: an edge behind an anchor, two anchors at one place.
bool sensible(const AnchorLayout& layout);

ConcreteSurface surface_of(const AnchorLayout& layout);

/// A load below this share of the largest one is rounding, not load.
constexpr double kNoLoad = 1e-6;

}  // namespace jambcheck::mechanics
