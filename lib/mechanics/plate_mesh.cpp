#include "mechanics/plate_mesh.h"

#include <algorithm>
#include <cmath>

#include "mechanics/hermite.h"

namespace jambcheck::mechanics {

namespace {

constexpr double kElementsAlongShorterSide = 6;
constexpr double kFewest = 4;
constexpr double kMost = 40;

std::size_t count(double length, double element_size) {
  // A hair less, so that an exact division is not tipped over by rounding.
  const double n = std::ceil(length / element_size * (1 - 1e-12));
  return static_cast<std::size_t>(std::clamp(n, kFewest, kMost));
}

std::size_t cell(double position, std::size_t cells) {
  return static_cast<std::size_t>(std::clamp(std::floor(position), 0.0, static_cast<double>(cells - 1)));
}

}  // namespace

PlateMesh::PlateMesh(const Rectangle& outline, double element_size)
    : outline_(outline),
      turned_(outline.height < outline.width),
      length_s_(std::min(outline.width, outline.height)),
      length_t_(std::max(outline.width, outline.height)) {
  const double size = element_size > 0 ? element_size : length_s_ / kElementsAlongShorterSide;
  ns_ = count(length_s_, size);
  nt_ = std::max(ns_, count(length_t_, size));
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = 0; b < 4; ++b) {
      offset_[4 * a + b] = 4 * ((b / 2) * (ns_ + 1) + a / 2) + a % 2 + 2 * (b % 2);
    }
  }
}

LocalPoint PlateMesh::local(Point p) const {
  const double x = p.x - outline_.left;
  const double z = p.z - outline_.bottom;
  return turned_ ? LocalPoint{z, x} : LocalPoint{x, z};
}

Point PlateMesh::point(LocalPoint p) const {
  return turned_ ? Point{outline_.left + p.t, outline_.bottom + p.s}
                 : Point{outline_.left + p.s, outline_.bottom + p.t};
}

LocalPoint PlateMesh::node(std::size_t n) const {
  return {static_cast<double>(n % (ns_ + 1)) * element_s(), static_cast<double>(n / (ns_ + 1)) * element_t()};
}

PointShape PlateMesh::shape(LocalPoint p) const {
  const double s = p.s / element_s();
  const double t = p.t / element_t();
  const std::size_t i = cell(s, ns_);
  const std::size_t j = cell(t, nt_);
  const Hermite along_s = hermite(s - static_cast<double>(i));
  const Hermite along_t = hermite(t - static_cast<double>(j));
  PointShape out;
  out.first = first(j * ns_ + i);
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = 0; b < 4; ++b) out.weight[4 * a + b] = along_s[a] * along_t[b];
  }
  return out;
}

Curvature PlateMesh::curvature(const ElementVector& u, double xi, double eta) const {
  const Hermite s0 = hermite(xi), s1 = hermite_first(xi), s2 = hermite_second(xi);
  const Hermite t0 = hermite(eta), t1 = hermite_first(eta), t2 = hermite_second(eta);
  Curvature k;
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = 0; b < 4; ++b) {
      const double value = u[4 * a + b];
      k.ss += s2[a] * t0[b] * value;
      k.tt += s0[a] * t2[b] * value;
      k.st += s1[a] * t1[b] * value;
    }
  }
  const double hs = element_s();
  const double ht = element_t();
  return {k.ss / (hs * hs), k.tt / (ht * ht), k.st / (hs * ht)};
}

ElementMatrix PlateMesh::bending(double poisson) const {
  const Matrix4 M = hermite_mass();
  const Matrix4 S = hermite_slopes();
  const Matrix4 C = hermite_curvatures();
  const Matrix4 B = hermite_curvature_times_value();
  const double hs = element_s();
  const double ht = element_t();
  ElementMatrix k{};
  for (std::size_t p = 0; p < kElementDofs; ++p) {
    for (std::size_t q = 0; q < kElementDofs; ++q) {
      const std::size_t a = p / 4, b = p % 4, c = q / 4, d = q % 4;
      k[p][q] = C[a][c] * M[b][d] * ht / (hs * hs * hs) + M[a][c] * C[b][d] * hs / (ht * ht * ht) +
                (poisson * (B[a][c] * B[d][b] + B[c][a] * B[b][d]) + 2 * (1 - poisson) * S[a][c] * S[b][d]) / (hs * ht);
    }
  }
  return k;
}

}  // namespace jambcheck::mechanics
