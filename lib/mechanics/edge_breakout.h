#pragma once
// Area of the concrete that anchors break out toward an edge, row by row.
#include <span>

#include "mechanics/anchor_layout.h"

namespace jambcheck::mechanics {

enum class ConcreteEdge { loaded = 1, other, top, bottom };

/// What the rule says about reach and limits.
struct EdgeReachRule {
  ConcreteEdge toward = ConcreteEdge::loaded;
  double thickness = 0;   ///< h_a, in
  double k = 0;           ///< half width and depth of the breakout over the edge distance
  double k_spacing = 0;   ///< the edge distance is not shortened below the largest spacing over this
  double either_way = 0;  ///< not 0: the load across may go either way
  double line_count = 0;  ///< anchors of a line; they all count toward its end. May be NaN
};

/// One row of anchors at the same distance to the edge.
struct BreakoutRow {
  double distance = 0;  ///< c_a1 after the limit for narrow and thin concrete, in
  double area = 0;      ///< A_Vc, in^2
  double c_side = 0;    ///< least distance to an edge square to this one, in
  double e = 0;         ///< from the middle of the row to the middle of the load, in
};

/// The anchors that are loaded in one direction and act together with the own one.
struct EdgeBreakout {
  double load = 0;        ///< lbf, all of them
  double front_load = 0;  ///< lbf, those of the front row
  double rows_apart = 0;  ///< in, between front and rear row; 0 for one row
  BreakoutRow front, rear;
};

/// `toward`: load that points to the edge; anchors whose load points away don't count. `along`: load along the edge, either
/// way. Anchors act together where their breakout bodies overlap along the edge. An own anchor that is not loaded so stands
/// alone with load 0. For a line: the share of one anchor. `across`, `down`: loads of each anchor, lbf.
/// False where a number is missing or makes no sense.
bool edge_breakout(const AnchorLayout& layout, std::span<const double> across, std::span<const double> down, const EdgeReachRule& rule,
                   EdgeBreakout& toward, EdgeBreakout& along);

}  // namespace jambcheck::mechanics
