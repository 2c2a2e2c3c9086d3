#pragma once
// Projected areas of the masonry that breaks out with one anchor of a group.
#include <span>
#include <vector>

#include "mechanics/plane.h"

namespace jambcheck::mechanics {

/// Anchors as seen on the surface they enter: x toward the loaded edge, z up; in. No length may be negative.
struct MasonryAnchors {
  std::vector<Point> at;    ///< 1..8 places, no two alike
  std::size_t index = 0;    ///< the anchor asked for
  double line_spacing = 0;  ///< > 0: `at` holds one anchor of a line up the wall, with like neighbours above and below
  double embedment = 0;     ///< radius of the projected cone of a pull
  double edge = 0;          ///< from the outermost anchor to the loaded edge
  double other = 0;         ///< from the outermost anchor to the opposite edge
  double end = 0;           ///< from the lowest anchor down, and from the topmost up, to the end of the wall
  double depth = 0;         ///< masonry along the anchor
  double open_beside =
      0;  ///< from the outermost anchors, either way, to cells that are not filled; they count as an edge
};

/// Distance from the anchor to an edge and the half disc of that radius on the face of the edge, less what it has not.
struct ShearArea {
  double distance = 0;  ///< in
  double area = 0;      ///< in^2
};

struct MasonryAreas {
  double tension = 0;      ///< in^2
  ShearArea toward, away;  ///< to the loaded edge, to the other one
  ShearArea down, up;      ///< to the ends of the wall; NaN for a line
};

/// False where a number is missing or makes no sense (two anchors at one place, a negative distance).
/// No masonry counts for two anchors: a pull is shared along the lines half-way between anchors; in shear an anchor
/// keeps what a neighbour's half disc does not reach, else up to half-way; half discs about the same place share
/// evenly.
bool masonry_areas(const MasonryAnchors& anchors, MasonryAreas& areas);

}  // namespace jambcheck::mechanics
