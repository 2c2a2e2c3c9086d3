#pragma once
// Shared shapes of the plate solvers. Axes lie in the plane that the plate is fastened to: x along the wall, z up;
// the third axis points away from the wall (away from the base). Lengths in in, forces in lbf.

namespace jambcheck::mechanics {

struct Point {
  double x = 0;
  double z = 0;
};

/// A rectangle by its lower left corner; the axes' origin may lie anywhere.
struct Rectangle {
  double left = 0;
  double bottom = 0;
  double width = 0;   ///< along x
  double height = 0;  ///< along z

  Point centre() const { return {left + width / 2, bottom + height / 2}; }
  bool contains(Point p) const { return p.x >= left && p.x <= left + width && p.z >= bottom && p.z <= bottom + height; }
};

/// A fastener that pulls only: tension = stiffness * movement away from the base.
struct TensionFastener {
  Point at;
  double stiffness = 0;  ///< lbf/in, > 0
};

/// Out-of-plane load on a plate, all of it referred to the point `at`.
struct PlateLoad {
  double N = 0;   ///< lbf, + = away from the base
  double Mx = 0;  ///< in-lbf about x, + pulls the side of greater z away from the base (sum of force * z)
  double Mz = 0;  ///< in-lbf about z, + pulls the side of greater x away from the base (sum of force * x)
  Point at;
};

}  // namespace jambcheck::mechanics
