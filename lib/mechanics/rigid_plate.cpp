#include "mechanics/rigid_plate.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>

#include "mechanics/equilibrium_cone.h"
#include "mechanics/line_search.h"

namespace jambcheck::mechanics {

namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr int kMostIterations = 80;
constexpr int kIterationsWithLooseSearch = 12;  // after these every line search is made exact, which can't cycle
constexpr double kWanted = 1e-13;               // relative residual at which to stop
constexpr double kAccepted = 1e-9;              // relative residual that still counts as solved

// A corner of the compressed polygon: position in half diagonals from the plate centre, and the movement there.
struct Vertex {
  double x, z, w;
};

struct Polygon {
  std::array<Vertex, 8> vertex;
  int size = 0;
  void add(const Vertex& v) { vertex[static_cast<std::size_t>(size++)] = v; }
};

// The support forces (force, moments / half diagonal) on a movement q = (a, b, c), and their rate of change.
struct Response {
  Vector3d force = Vector3d::Zero();
  Matrix3d rate = Matrix3d::Zero();
  double pull = 0;                   // all tensions
  Vector3d push = Vector3d::Zero();  // base pressure: resultant and its moments / half diagonal
};

class Problem {
 public:
  Problem(const RigidPlate& plate, std::span<const TensionFastener> fasteners, const PlateLoad& load)
      : plate_(plate),
        fasteners_(fasteners),
        centre_(plate.outline.centre()),
        half_diagonal_(std::hypot(plate.outline.width, plate.outline.height) / 2),
        half_x_(plate.outline.width / 2 / half_diagonal_),
        half_z_(plate.outline.height / 2 / half_diagonal_),
        load_(load.N, (load.Mz + load.N * (load.at.x - centre_.x)) / half_diagonal_,
              (load.Mx + load.N * (load.at.z - centre_.z)) / half_diagonal_) {}

  const Vector3d& load() const { return load_; }
  double half_diagonal() const { return half_diagonal_; }
  Point centre() const { return centre_; }

  Vector3d shape(Point p) const { return {1, (p.x - centre_.x) / half_diagonal_, (p.z - centre_.z) / half_diagonal_}; }

  double tension(const TensionFastener& f, const Vector3d& q) const {
    return f.stiffness * std::max(0.0, shape(f.at).dot(q));
  }

  // Both directions everywhere: the start of the iteration.
  Matrix3d two_way_rate() const {
    const double base = plate_.base_modulus * plate_.outline.width * plate_.outline.height;
    Matrix3d rate = Vector3d(base, base * half_x_ * half_x_ / 3, base * half_z_ * half_z_ / 3).asDiagonal();
    for (const TensionFastener& f : fasteners_) {
      const Vector3d s = shape(f.at);
      rate += f.stiffness * s * s.transpose();
    }
    return rate;
  }

  Response respond(const Vector3d& q) const {
    Response r;
    for (const TensionFastener& f : fasteners_) {
      const Vector3d s = shape(f.at);
      const double w = s.dot(q);
      if (w <= 0) continue;
      r.pull += f.stiffness * w;
      r.force += f.stiffness * w * s;
      r.rate += f.stiffness * s * s.transpose();
    }
    press(compressed(q), r);
    return r;
  }

  // The part of the outline where w < 0: a convex polygon of at most five corners.
  Polygon compressed(const Vector3d& q) const {
    std::array<Vertex, 4> corner = {
        {{-half_x_, -half_z_, 0}, {half_x_, -half_z_, 0}, {half_x_, half_z_, 0}, {-half_x_, half_z_, 0}}};
    for (Vertex& v : corner) v.w = q[0] + q[1] * v.x + q[2] * v.z;
    Polygon out;
    for (std::size_t i = 0; i < 4; ++i) {
      const Vertex& from = corner[i];
      const Vertex& to = corner[(i + 1) % 4];
      if (from.w < 0) out.add(from);
      if ((from.w < 0) != (to.w < 0)) {
        const double t = from.w / (from.w - to.w);
        out.add({from.x + t * (to.x - from.x), from.z + t * (to.z - from.z), 0});
      }
    }
    return out;
  }

  double area(const Polygon& p) const {
    double sum = 0;
    for (int i = 2; i < p.size; ++i) sum += triangle_area(p, i);
    return sum * half_diagonal_ * half_diagonal_;
  }

 private:
  static double triangle_area(const Polygon& p, int i) {
    const auto n = static_cast<std::size_t>(i);
    const Vertex& o = p.vertex[0];
    const Vertex& u = p.vertex[n - 1];
    const Vertex& v = p.vertex[n];
    return ((u.x - o.x) * (v.z - o.z) - (v.x - o.x) * (u.z - o.z)) / 2;
  }

  // Exact integrals over a triangle: of a product of linear functions f g, from the corner values,
  // area / 12 * (sum f_i g_i + sum f_i * sum g_i). Corner values keep a thin strip free of cancellation.
  void press(const Polygon& p, Response& r) const {
    const double scale = plate_.base_modulus * half_diagonal_ * half_diagonal_ / 12;
    for (int i = 2; i < p.size; ++i) {
      const double weight = scale * triangle_area(p, i);
      const auto n = static_cast<std::size_t>(i);
      const std::array<const Vertex*, 3> corner = {&p.vertex[0], &p.vertex[n - 1], &p.vertex[n]};
      Vector3d total = Vector3d::Zero();
      double w_total = 0;
      for (const Vertex* v : corner) {
        const Vector3d s(1, v->x, v->z);
        total += s;
        w_total += v->w;
        r.push -= weight * v->w * s;
        r.rate += weight * s * s.transpose();
      }
      r.push -= weight * w_total * total;
      r.rate += weight * total * total.transpose();
    }
    r.force -= r.push;
  }

  const RigidPlate& plate_;
  std::span<const TensionFastener> fasteners_;
  Point centre_;
  double half_diagonal_;
  double half_x_;
  double half_z_;
  Vector3d load_;
};

struct Solution {
  Vector3d q = Vector3d::Zero();
  Response response;
  double residual = 0;
  int iterations = 0;
};

double relative_residual(const Vector3d& unbalanced, const Response& r, double load_size) {
  return unbalanced.lpNorm<Eigen::Infinity>() / std::max({load_size, r.pull, r.push[0]});
}

// A movement that meets no support is free: a trace of stiffness keeps the step finite, the line search bounds it.
Vector3d newton_step(const Matrix3d& rate, const Vector3d& unbalanced) {
  const Matrix3d held = rate + 1e-10 * rate.trace() * Matrix3d::Identity();
  return held.llt().solve(unbalanced);
}

Solution iterate(const Problem& problem) {
  Solution best;
  const double load_size = problem.load().lpNorm<Eigen::Infinity>();
  Vector3d q = problem.two_way_rate().llt().solve(problem.load());
  best.residual = HUGE_VAL;
  for (int i = 1; i <= kMostIterations; ++i) {
    const Response r = problem.respond(q);
    const Vector3d unbalanced = problem.load() - r.force;
    const double residual = relative_residual(unbalanced, r, load_size);
    const bool stalled = best.residual < kAccepted && residual >= best.residual;
    if (residual < best.residual) best = {q, r, residual, i};
    if (residual < kWanted || stalled) break;

    const Vector3d d = newton_step(r.rate, unbalanced);
    const double slope0 = -unbalanced.dot(d);
    if (!(slope0 < 0) || !d.allFinite()) break;
    const auto slope = [&](double t) { return (problem.respond(q + t * d).force - problem.load()).dot(d); };
    q += step_length(slope, slope0, i <= kIterationsWithLooseSearch ? 0.1 : 1e-8) * d;
  }
  return best;
}

bool all_finite(const RigidPlate& plate, std::span<const TensionFastener> fasteners, const PlateLoad& load) {
  const Rectangle& o = plate.outline;
  double sum = std::abs(o.left) + std::abs(o.bottom) + std::abs(o.width) + std::abs(o.height) +
               std::abs(plate.base_modulus) + std::abs(load.N) + std::abs(load.Mx) + std::abs(load.Mz) +
               std::abs(load.at.x) + std::abs(load.at.z);
  for (const TensionFastener& f : fasteners) sum += std::abs(f.at.x) + std::abs(f.at.z) + std::abs(f.stiffness);
  return std::isfinite(sum);
}

Status check(const RigidPlate& plate, std::span<const TensionFastener> fasteners, const PlateLoad& load,
             std::span<double> tension) {
  if (!all_finite(plate, fasteners, load)) return Status::not_finite;
  if (tension.size() != fasteners.size()) return Status::wrong_size;
  if (!(plate.outline.width > 0 && plate.outline.height > 0 && plate.base_modulus > 0)) return Status::wrong_size;
  for (const TensionFastener& f : fasteners) {
    if (!(f.stiffness > 0)) return Status::wrong_size;
    if (!plate.outline.contains(f.at)) return Status::off_plate;
  }
  return Status::ok;
}

void describe_compression(const Problem& problem, const RigidPlate& plate, const Solution& s, RigidPlateResult& out) {
  const Polygon p = problem.compressed(s.q);
  double deepest = 0;
  for (int i = 0; i < p.size; ++i) deepest = std::min(deepest, p.vertex[static_cast<std::size_t>(i)].w);
  out.largest_pressure = -deepest * plate.base_modulus;
  out.compressed_area = problem.area(p);
  const Vector3d& push = s.response.push;
  out.compression = push[0];
  if (!(push[0] > 0)) return;
  out.compression_centre.x += problem.half_diagonal() * push[1] / push[0];
  out.compression_centre.z += problem.half_diagonal() * push[2] / push[0];
}

}  // namespace

RigidPlateResult solve_rigid_plate(const RigidPlate& plate, std::span<const TensionFastener> fasteners,
                                   const PlateLoad& load, std::span<double> tension) {
  RigidPlateResult out;
  std::fill(tension.begin(), tension.end(), 0.0);
  out.status = check(plate, fasteners, load, tension);
  if (out.status != Status::ok) return out;
  out.compression_centre = plate.outline.centre();
  if (load.N == 0 && load.Mx == 0 && load.Mz == 0) return out;
  if (!can_balance(plate.outline, fasteners, load)) {
    out.status = Status::no_equilibrium;
    return out;
  }

  const Problem problem(plate, fasteners, load);
  const Solution s = iterate(problem);
  out.iterations = s.iterations;
  out.residual = s.residual;
  if (!(s.residual <= kAccepted)) {
    out.status = Status::not_converged;
    return out;
  }
  const double L = problem.half_diagonal();
  out.b = s.q[1] / L;
  out.c = s.q[2] / L;
  out.a = s.q[0] - out.b * problem.centre().x - out.c * problem.centre().z;
  describe_compression(problem, plate, s, out);
  for (std::size_t i = 0; i < fasteners.size(); ++i) tension[i] = problem.tension(fasteners[i], s.q);
  return out;
}

}  // namespace jambcheck::mechanics
