#pragma once
// A rectangle cut into like rectangular elements with bicubic Hermite shapes.
//
// Local axes s, t run from the lower left corner, s along the shorter side (this keeps the band of the matrix narrow).
// Four unknowns to a node, all in inches: w, w_s * element length, w_t * element height, w_st * both.
#include <array>
#include <cstddef>

#include "mechanics/plane.h"

namespace jambcheck::mechanics {

inline constexpr std::size_t kElementDofs = 16;
using ElementVector = std::array<double, kElementDofs>;
using ElementMatrix = std::array<ElementVector, kElementDofs>;

struct LocalPoint {
  double s = 0;
  double t = 0;
};

/// Bending curvatures of the surface, 1/in.
struct Curvature {
  double ss = 0, tt = 0, st = 0;
};

/// A value at a point as a sum over the unknowns of its element.
struct PointShape {
  std::size_t first = 0;  ///< the element's first unknown
  ElementVector weight{};
};

class PlateMesh {
 public:
  /// `element_size` 0: six elements along the shorter side.
  PlateMesh(const Rectangle& outline, double element_size);

  LocalPoint local(Point p) const;
  Point point(LocalPoint p) const;
  double length_s() const { return length_s_; }
  double length_t() const { return length_t_; }
  /// Extent along s of something with this width and height.
  double along_s(double width, double height) const { return turned_ ? height : width; }
  double along_t(double width, double height) const { return turned_ ? width : height; }
  bool turned() const { return turned_; }  ///< s runs along z

  std::size_t elements_s() const { return ns_; }
  std::size_t elements_t() const { return nt_; }
  std::size_t elements() const { return ns_ * nt_; }
  std::size_t nodes() const { return (ns_ + 1) * (nt_ + 1); }
  std::size_t unknowns() const { return 4 * nodes(); }
  std::size_t reach() const { return ns_ + 2; }  ///< nodes coupled ahead, in numbering
  double element_s() const { return length_s_ / static_cast<double>(ns_); }
  double element_t() const { return length_t_ / static_cast<double>(nt_); }

  /// First unknown of an element, and the distance from there to each of its 16.
  std::size_t first(std::size_t element) const { return 4 * ((element / ns_) * (ns_ + 1) + element % ns_); }
  const std::array<std::size_t, kElementDofs>& offset() const { return offset_; }
  /// Node at a corner (0 or 1 along s, along t) of an element.
  std::size_t corner_node(std::size_t element, std::size_t s, std::size_t t) const {
    return (element / ns_ + t) * (ns_ + 1) + element % ns_ + s;
  }
  LocalPoint node(std::size_t n) const;

  PointShape shape(LocalPoint p) const;

  /// Curvature at (xi, eta) in [0, 1] of an element, from its 16 unknowns.
  Curvature curvature(const ElementVector& u, double xi, double eta) const;

  /// Bending stiffness of an element for a plate rigidity of 1 lbf in.
  ElementMatrix bending(double poisson) const;

 private:
  Rectangle outline_;
  bool turned_ = false;
  double length_s_ = 0;
  double length_t_ = 0;
  std::size_t ns_ = 0;
  std::size_t nt_ = 0;
  std::array<std::size_t, kElementDofs> offset_{};
};

}  // namespace jambcheck::mechanics
