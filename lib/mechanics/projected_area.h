#pragma once
// Projected area of the concrete that a group of anchors pulls out: union of squares, cut by the edges.
#include <span>

#include "mechanics/anchor_layout.h"

namespace jambcheck::mechanics {

/// What the rule says about reach and limits.
struct ReachRule {
  double depth = 0;       ///< h_ef, or the reach itself, in
  double k = 0;           ///< half side of a square over depth
  double near_edges = 0;  ///< so many edges within reach shorten the depth; 0: never
  double k_spacing = 0;   ///< the depth is not shortened below the largest spacing over this
  double k_row = 0;       ///< anchors along an edge are a row where their spacing is less than this times its distance
};

/// The row along the nearest edge, for side-face blowout.
struct EdgeRow {
  double distance = 0;  ///< in, of the own anchor to its nearest edge
  double across = 0;    ///< in, of the own anchor to the nearer edge square to that one
  double count = 0;     ///< anchors of the row; 2 for any longer line
  double factor = 0;    ///< strength of the row over that of one anchor; of a line: share of one anchor
  double load = 0;      ///< lbf, to be compared with it: their sum, no less than factor times the own load
};

struct ProjectedArea {
  double depth = 0;  ///< in, after the limit for near edges
  double area = 0;   ///< in^2
  double c_min = 0;  ///< in, least edge distance of the group
  double e_x = 0, e_z = 0;  ///< in, from the middle of the loaded anchors to the middle of their load
  double load = 0;   ///< lbf, sum over the group
  double count = 0;  ///< anchors of the group
  EdgeRow row;
};

/// The group that acts together with the own anchor: loaded anchors (load > 0) whose squares overlap, link by link. An own
/// anchor without load stands alone with load 0. For a line: the share of one anchor, cut half-way to its neighbours, the
/// end of the concrete on one side. False where a number is missing or makes no sense. `loads`: one for each anchor, lbf.
bool projected_area(const AnchorLayout& layout, std::span<const double> loads, const ReachRule& rule, ProjectedArea& result);

}  // namespace jambcheck::mechanics
