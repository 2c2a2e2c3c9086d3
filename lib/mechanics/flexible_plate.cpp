#include "mechanics/flexible_plate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "program/target.h"
#include "mechanics/banded_cholesky.h"
#include "mechanics/four.h"
#include "mechanics/hermite.h"
#include "mechanics/line_search.h"
#include "mechanics/plate_mesh.h"
#include "mechanics/rigid_plate.h"

namespace jambcheck::mechanics {

namespace {

constexpr int kMostIterations = 400;  // few as a rule; many where the base is harder than the mesh can follow
constexpr int kIterationsWithLooseSearch = 15;
constexpr int kTriesWithoutGain = 2;
constexpr double kWanted = 1e-12;
constexpr double kAccepted = 1e-7;         // on one unknown: rounding of a very stiff plate, in balance with itself
constexpr double kAcceptedStatics = 1e-9;  // on the plate as a whole
constexpr double kTraceOfBase = 1e-9;      // of its stiffness

constexpr std::size_t kSide = 5;  // base points along the side of an element, its edges included
constexpr std::size_t kBasePoints = kSide * kSide;
constexpr std::size_t kFastenerSide = 3;
constexpr std::size_t kPatchSide = 9;
constexpr std::array<std::size_t, 2> kEnds = {0, 1};

using BaseFlags = std::array<bool, kBasePoints>;
using BaseValues = std::array<double, kBasePoints>;

struct FastenerPoint {
  Point at;
  PointShape shape;
  double stiffness = 0;
  std::size_t fastener = 0;
};

}  // namespace

struct FlexiblePlateScratch::Store {
  BandedCholesky bare, matrix;  // the plate on a trace of its base; with what presses and pulls, factored
  std::vector<double> load, u, direction, unbalanced, bent, product, best;
  std::vector<FastenerPoint> points;
  std::vector<BaseValues> base, base_step;           // movement at the base points of each element
  std::vector<BaseValues> pressure;                  // force at them
  std::vector<BaseFlags> pressed, factored_pressed;  // where w < 0; the state that `matrix` was factored for
  std::vector<double> lift, lift_step;               // movement at the fastener points
  std::vector<char> pulled, factored_pulled;         // where w > 0
  std::vector<double> rigid_tension;
  std::vector<Curvature> node_curvature;
  std::vector<double> node_share;
};

FlexiblePlateScratch::FlexiblePlateScratch() : store_(std::make_unique<Store>()) {}
FlexiblePlateScratch::~FlexiblePlateScratch() = default;
FlexiblePlateScratch::FlexiblePlateScratch(FlexiblePlateScratch&&) noexcept = default;
FlexiblePlateScratch& FlexiblePlateScratch::operator=(FlexiblePlateScratch&&) noexcept = default;

namespace {

using Store = FlexiblePlateScratch::Store;

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

double largest(const std::vector<double>& a) {
  double out = 0;
  for (double v : a) out = std::max(out, std::abs(v));
  return out;
}

/// Forces of all bent elements, added up: out += k * x without its rigid part. The plane through the first corner of an
/// element makes no force; taken off, its rounding can't make one either.
JAMBCHECK_CLONES void bend_all(const PlateMesh& mesh, const ElementMatrix& k, const double* x, double* out) {
  const auto& offset = mesh.offset();
  for (std::size_t e = 0; e < mesh.elements(); ++e) {
    const double* from = x + mesh.first(e);
    double u[kElementDofs], force[kElementDofs];
    for (std::size_t p = 0; p < kElementDofs; ++p) u[p] = from[offset[p]];
    const double at = u[0], along_s = u[4], along_t = u[1];
    for (const std::size_t s : kEnds) {
      for (const std::size_t t : kEnds) {
        const std::size_t corner = 8 * s + 2 * t;
        u[corner] = ((u[corner] - at) - static_cast<double>(s) * along_s) - static_cast<double>(t) * along_t;
        u[corner + 4] -= along_s;
        u[corner + 1] -= along_t;
      }
    }
    Four sum[4] = {};
    for (std::size_t q = 0; q < kElementDofs; ++q) {
      for (std::size_t c = 0; c < 4; ++c) {
        Four part;
        get(part, &k[q][4 * c]);
        sum[c] += part * u[q];
      }
    }
    for (std::size_t c = 0; c < 4; ++c) put(&force[4 * c], sum[c]);
    double* to = out + mesh.first(e);
    for (std::size_t p = 0; p < kElementDofs; ++p) to[offset[p]] += force[p];
  }
}

/// Sum of stiffness * min(0, w + step * w_step) * w_step over all base points.
JAMBCHECK_CLONES double base_slope(const std::vector<BaseValues>& w, const std::vector<BaseValues>& w_step, const BaseValues& stiffness, double step) {
  double sum = 0;
  for (std::size_t e = 0; e < w.size(); ++e) {
    double part[kBasePoints];
    for (std::size_t p = 0; p < kBasePoints; ++p) {
      const double moved = w[e][p] + step * w_step[e][p];
      part[p] = stiffness[p] * (moved < 0 ? moved : 0.0) * w_step[e][p];
    }
    for (std::size_t p = 0; p < kBasePoints; ++p) sum += part[p];
  }
  return sum;
}

/// The base's push on each element, negative; which points push; their sum.
JAMBCHECK_CLONES double press(const std::vector<BaseValues>& w, const BaseValues& stiffness, std::vector<BaseFlags>& pressed, std::vector<BaseValues>& pressure) {
  double push = 0;
  for (std::size_t e = 0; e < w.size(); ++e) {
    for (std::size_t p = 0; p < kBasePoints; ++p) pressure[e][p] = stiffness[p] * (w[e][p] < 0 ? w[e][p] : 0.0);
    for (std::size_t p = 0; p < kBasePoints; ++p) pressed[e][p] = w[e][p] < 0;
    for (std::size_t p = 0; p < kBasePoints; ++p) push -= pressure[e][p];
  }
  return push;
}

JAMBCHECK_CLONES void go(double* to, const double* step, double t, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) to[i] += t * step[i];
}

using BaseShapes = std::array<Hermite, kSide>;

/// k += sum of factor * stiffness * shape * shape^T. A shape is a product of one along s and one along t: the points of
/// a line are summed along t first.
JAMBCHECK_CLONES void add_points(const BaseShapes& at, const BaseValues& stiffness, const BaseValues& factor, ElementMatrix& k) {
  for (std::size_t i = 0; i < kSide; ++i) {
    Four line[4] = {};
    bool any = false;
    for (std::size_t j = 0; j < kSide; ++j) {
      const double share = factor[kSide * i + j] * stiffness[kSide * i + j];
      if (share == 0) continue;
      any = true;
      Four across;
      get(across, at[j].data());
      for (std::size_t b = 0; b < 4; ++b) line[b] += share * at[j][b] * across;
    }
    if (!any) continue;
    for (std::size_t a = 0; a < 4; ++a) {
      for (std::size_t c = 0; c < 4; ++c) {
        const double along_s = at[i][a] * at[i][c];
        for (std::size_t b = 0; b < 4; ++b) {
          double* const to = &k[4 * a + b][4 * c];
          Four sum;
          get(sum, to);
          sum += along_s * line[b];
          put(to, sum);
        }
      }
    }
  }
}

JAMBCHECK_CLONES void move_all(const PlateMesh& mesh, const BaseShapes& at, const double* x, std::vector<BaseValues>& w) {
  const auto& offset = mesh.offset();
  double across[4][kSide];
  for (std::size_t b = 0; b < 4; ++b) {
    for (std::size_t j = 0; j < kSide; ++j) across[b][j] = at[j][b];
  }
  for (std::size_t e = 0; e < w.size(); ++e) {
    const double* from = x + mesh.first(e);
    double u[kElementDofs];
    for (std::size_t p = 0; p < kElementDofs; ++p) u[p] = from[offset[p]];
    for (std::size_t i = 0; i < kSide; ++i) {
      double line[4] = {}, out[kSide] = {};
      for (std::size_t a = 0; a < 4; ++a) {
        for (std::size_t b = 0; b < 4; ++b) line[b] += at[i][a] * u[4 * a + b];
      }
      for (std::size_t b = 0; b < 4; ++b) {
        for (std::size_t j = 0; j < kSide; ++j) out[j] += line[b] * across[b][j];
      }
      for (std::size_t j = 0; j < kSide; ++j) w[e][kSide * i + j] = out[j];
    }
  }
}

JAMBCHECK_CLONES void take_all(const PlateMesh& mesh, const BaseShapes& at, const std::vector<BaseValues>& force, double* x) {
  const auto& offset = mesh.offset();
  for (std::size_t e = 0; e < force.size(); ++e) {
    double any = 0;
    for (std::size_t p = 0; p < kBasePoints; ++p) any = std::min(any, force[e][p]);
    if (any == 0) continue;
    double out[kElementDofs] = {};
    for (std::size_t i = 0; i < kSide; ++i) {
      double line[4] = {};
      for (std::size_t j = 0; j < kSide; ++j) {
        for (std::size_t b = 0; b < 4; ++b) line[b] += force[e][kSide * i + j] * at[j][b];
      }
      for (std::size_t a = 0; a < 4; ++a) {
        for (std::size_t b = 0; b < 4; ++b) out[4 * a + b] += at[i][a] * line[b];
      }
    }
    double* to = x + mesh.first(e);
    for (std::size_t p = 0; p < kElementDofs; ++p) to[offset[p]] -= out[p];
  }
}

// The base under one element: shapes and stiffness of its points.
class BasePatch {
 public:
  BasePatch(const PlateMesh& mesh, double base_modulus) {
    for (std::size_t i = 0; i < kSide; ++i) at_[i] = hermite(static_cast<double>(i) / (kSide - 1));
    const double share = base_modulus * mesh.element_s() * mesh.element_t() / ((kSide - 1) * (kSide - 1));
    for (std::size_t i = 0; i < kSide; ++i) {
      for (std::size_t j = 0; j < kSide; ++j) stiffness_[kSide * i + j] = share * edge_share(i) * edge_share(j);
    }
  }

  double stiffness(std::size_t point) const { return stiffness_[point]; }
  const BaseValues& stiffness() const { return stiffness_; }

  /// Movement at the points of every element.
  void move(const PlateMesh& mesh, const std::vector<double>& x, std::vector<BaseValues>& w) const { move_all(mesh, at_, x.data(), w); }
  /// Takes the forces at the points from those on the unknowns.
  void take(const PlateMesh& mesh, const std::vector<BaseValues>& force, std::vector<double>& x) const { take_all(mesh, at_, force, x.data()); }

  /// k += the stiffness of the points, each times its factor.
  void add(const BaseValues& factor, ElementMatrix& k) const { add_points(at_, stiffness_, factor, k); }

 private:
  static double edge_share(std::size_t i) { return i == 0 || i == kSide - 1 ? 0.5 : 1; }

  BaseShapes at_{};
  BaseValues stiffness_{};
};

// One solve: the plate's matrices and the state of the iteration, all large arrays in the caller's scratch.
class Problem {
 public:
  Problem(const FlexiblePlate& plate, std::span<const TensionFastener> fasteners, const PlateLoad& load, Store& store)
      : plate_(plate), mesh_(plate.outline, plate.element_size), base_(mesh_, plate.base_modulus), s_(store) {
    rigidity_ = plate.modulus * std::pow(plate.thickness, 3) / (12 * (1 - plate.poisson * plate.poisson));
    bending_ = mesh_.bending(plate.poisson);
    for (auto& row : bending_) {
      for (double& v : row) v *= rigidity_;
    }
    BaseValues all;
    all.fill(1 - kTraceOfBase);
    base_.add(all, pressed_);
    resize();
    lay_bare();
    place_fasteners(fasteners);
    place_load(load);
    const double half_diagonal = std::hypot(plate.outline.width, plate.outline.height) / 2;
    const Point c = plate.outline.centre();
    load_size_ = std::max({std::abs(load.N), std::abs(load.Mz + load.N * (load.at.x - c.x)) / half_diagonal,
                           std::abs(load.Mx + load.N * (load.at.z - c.z)) / half_diagonal});
  }

  // Start from the movement of a rigid plate.
  void start(const RigidPlateResult& rigid) {
    const double along_s = mesh_.turned() ? rigid.c : rigid.b;
    const double along_t = mesh_.turned() ? rigid.b : rigid.c;
    for (std::size_t n = 0; n < mesh_.nodes(); ++n) {
      const Point p = mesh_.point(mesh_.node(n));
      s_.u[4 * n] = rigid.a + rigid.b * p.x + rigid.c * p.z;
      s_.u[4 * n + 1] = along_s * mesh_.element_s();
      s_.u[4 * n + 2] = along_t * mesh_.element_t();
      s_.u[4 * n + 3] = 0;
    }
    move_points(s_.u, s_.base, s_.lift);
  }

  // False when the iteration ended above its tolerance.
  bool iterate(FlexiblePlateResult& out) {
    double best = HUGE_VAL;
    bool factored = false;
    int without_gain = 0;
    for (int i = 1; i <= kMostIterations; ++i) {
      out.iterations = i;
      const double residual = find_unbalanced();
      if (!std::isfinite(residual)) break;
      ++without_gain;
      if (residual < best) {
        best = residual;
        s_.best = s_.u;
        without_gain = 0;
      }
      if (residual < kWanted || (best < kAccepted && without_gain > kTriesWithoutGain)) break;
      if (!factored || state_changed()) {
        if (!factor()) return false;
        factored = true;
      }
      s_.direction = s_.unbalanced;
      s_.matrix.solve(s_.direction);
      const double slope0 = -dot(s_.unbalanced, s_.direction);
      if (!(slope0 < 0)) break;
      advance(slope0, i <= kIterationsWithLooseSearch ? 0.1 : 1e-8);
    }
    s_.u = s_.best;
    move_points(s_.u, s_.base, s_.lift);
    return best <= kAccepted;
  }

  void report(const PlateLoad& load, std::span<double> tension, FlexiblePlateResult& out) {
    const Point c = plate_.outline.centre();
    double pull = 0, pull_x = 0, pull_z = 0;
    for (std::size_t i = 0; i < s_.points.size(); ++i) {
      const double force = s_.points[i].stiffness * std::max(0.0, s_.lift[i]);
      tension[s_.points[i].fastener] += force;
      out.largest_lift = std::max(out.largest_lift, s_.lift[i]);
      const Point p = s_.points[i].at;
      pull += force;
      pull_x += force * (p.x - c.x);
      pull_z += force * (p.z - c.z);
    }
    double push = 0, push_x = 0, push_z = 0;
    for (std::size_t e = 0; e < mesh_.elements(); ++e) {
      for (std::size_t p = 0; p < kBasePoints; ++p) {
        const double w = s_.base[e][p];
        if (w >= 0) continue;
        const double force = -w * base_.stiffness(p);
        const Point at = base_point(e, p);
        push += force;
        push_x += force * (at.x - c.x);
        push_z += force * (at.z - c.z);
        out.largest_pressure = std::max(out.largest_pressure, -w * plate_.base_modulus);
      }
    }
    out.compression = push;
    out.compression_centre = push > 0 ? Point{c.x + push_x / push, c.z + push_z / push} : c;
    const double half_diagonal = std::hypot(plate_.outline.width, plate_.outline.height) / 2;
    const double force_left = load.N - pull + push;
    const double x_left = load.Mz + load.N * (load.at.x - c.x) - pull_x + push_x;
    const double z_left = load.Mx + load.N * (load.at.z - c.z) - pull_z + push_z;
    out.residual =
        std::max({std::abs(force_left), std::abs(x_left) / half_diagonal, std::abs(z_left) / half_diagonal}) /
        std::max({load_size_, pull, push});
    report_bending(out);
  }

 private:
  void resize() {
    const std::size_t n = mesh_.unknowns();
    for (auto* v : {&s_.load, &s_.u, &s_.direction, &s_.unbalanced, &s_.bent, &s_.product, &s_.best}) v->assign(n, 0.0);
    s_.base.assign(mesh_.elements(), BaseValues{});
    s_.base_step.assign(mesh_.elements(), BaseValues{});
    s_.pressure.assign(mesh_.elements(), BaseValues{});
    s_.pressed.assign(mesh_.elements(), BaseFlags{});
    s_.factored_pressed.assign(mesh_.elements(), BaseFlags{});
    s_.points.clear();
  }

  void place_fasteners(std::span<const TensionFastener> fasteners) {
    const double share = 1.0 / (kFastenerSide * kFastenerSide);
    for (std::size_t f = 0; f < fasteners.size(); ++f) {
      const LocalPoint at = mesh_.local(fasteners[f].at);
      const double half_s = std::max(0.0, std::min({plate_.fastener_spread / 2, at.s, mesh_.length_s() - at.s}));
      const double half_t = std::max(0.0, std::min({plate_.fastener_spread / 2, at.t, mesh_.length_t() - at.t}));
      for (double i : {-1.0, 0.0, 1.0}) {
        for (double j : {-1.0, 0.0, 1.0}) {
          const LocalPoint p = {at.s + i * half_s, at.t + j * half_t};
          s_.points.push_back({mesh_.point(p), mesh_.shape(p), fasteners[f].stiffness * share, f});
        }
      }
    }
    const std::size_t n = s_.points.size();
    s_.lift.assign(n, 0);
    s_.lift_step.assign(n, 0);
    s_.pulled.assign(n, 0);
    s_.factored_pulled.assign(n, 0);
  }

  void place_load(const PlateLoad& load) {
    const LocalPoint centre = mesh_.local(load.at);
    const double size_s = mesh_.along_s(plate_.patch_width, plate_.patch_height);
    const double size_t_ = mesh_.along_t(plate_.patch_width, plate_.patch_height);
    const double moment_s = mesh_.turned() ? load.Mx : load.Mz;  // sum of force * s
    const double moment_t = mesh_.turned() ? load.Mz : load.Mx;
    double squares = 0;  // of the distances, in patch sizes, over all points
    for (std::size_t i = 0; i < kPatchSide; ++i) squares += kPatchSide * fraction(i) * fraction(i);
    for (std::size_t i = 0; i < kPatchSide; ++i) {
      for (std::size_t j = 0; j < kPatchSide; ++j) {
        double force = load.N / (kPatchSide * kPatchSide);
        if (size_s > 0) force += moment_s * fraction(i) / (size_s * squares);
        if (size_t_ > 0) force += moment_t * fraction(j) / (size_t_ * squares);
        const PointShape shape = mesh_.shape({std::clamp(centre.s + fraction(i) * size_s, 0.0, mesh_.length_s()),
                                              std::clamp(centre.t + fraction(j) * size_t_, 0.0, mesh_.length_t())});
        for (std::size_t k = 0; k < kElementDofs; ++k) {
          s_.load[shape.first + mesh_.offset()[k]] += force * shape.weight[k];
        }
      }
    }
  }

  static double fraction(std::size_t i) { return static_cast<double>(i) / (kPatchSide - 1) - 0.5; }

  Point base_point(std::size_t e, std::size_t p) const {
    const LocalPoint corner = mesh_.node(mesh_.corner_node(e, 0, 0));
    return mesh_.point({corner.s + static_cast<double>(p / kSide) / (kSide - 1) * mesh_.element_s(),
                        corner.t + static_cast<double>(p % kSide) / (kSide - 1) * mesh_.element_t()});
  }

  ElementVector pick(const std::vector<double>& x, std::size_t e) const {
    ElementVector out;
    const double* first = &x[mesh_.first(e)];
    for (std::size_t k = 0; k < kElementDofs; ++k) out[k] = first[mesh_.offset()[k]];
    return out;
  }

  void move_points(const std::vector<double>& x, std::vector<BaseValues>& base, std::vector<double>& lift) const {
    base_.move(mesh_, x, base);
    for (std::size_t i = 0; i < s_.points.size(); ++i) {
      const PointShape& shape = s_.points[i].shape;
      double w = 0;
      for (std::size_t k = 0; k < kElementDofs; ++k) w += shape.weight[k] * x[shape.first + mesh_.offset()[k]];
      lift[i] = w;
    }
  }

  // load - plate forces - support forces, at the current points; the largest of it over the largest force in play.
  double find_unbalanced() {
    for (std::size_t i = 0; i < s_.load.size(); ++i) s_.unbalanced[i] = s_.load[i] - s_.bent[i];
    double pull = 0;
    const double push = press(s_.base, base_.stiffness(), s_.pressed, s_.pressure);
    base_.take(mesh_, s_.pressure, s_.unbalanced);
    for (std::size_t i = 0; i < s_.points.size(); ++i) {
      s_.pulled[i] = s_.lift[i] > 0;
      if (!s_.pulled[i]) continue;
      const FastenerPoint& point = s_.points[i];
      const double force = point.stiffness * s_.lift[i];
      pull += force;
      for (std::size_t k = 0; k < kElementDofs; ++k) {
        s_.unbalanced[point.shape.first + mesh_.offset()[k]] -= force * point.shape.weight[k];
      }
    }
    return largest(s_.unbalanced) / std::max({load_size_, pull, push});
  }

  bool state_changed() const { return s_.pressed != s_.factored_pressed || s_.pulled != s_.factored_pulled; }

  bool factor() {
    s_.factored_pressed = s_.pressed;
    s_.factored_pulled = s_.pulled;
    s_.matrix = s_.bare;
    for (std::size_t e = 0; e < mesh_.elements(); ++e) add_base(e);
    for (std::size_t i = 0; i < s_.points.size(); ++i) {
      if (s_.pulled[i]) add_fastener_point(s_.points[i]);
    }
    return s_.matrix.factor();
  }

  /// The plate alone, on a trace of its base so that a part that meets no support stays solvable.
  void lay_bare() {
    ElementMatrix k = bending_;
    BaseValues trace;
    trace.fill(kTraceOfBase);
    base_.add(trace, k);
    s_.bare.reset(mesh_.nodes(), mesh_.reach());
    for (std::size_t e = 0; e < mesh_.elements(); ++e) scatter(k, mesh_.first(e), s_.bare);
  }
  void add_base(std::size_t e) {
    const BaseFlags& pressed = s_.pressed[e];
    const auto active = static_cast<std::size_t>(std::count(pressed.begin(), pressed.end(), true));
    if (active == 0) return;
    if (active == kBasePoints) return scatter(pressed_, mesh_.first(e), s_.matrix);
    BaseValues factor;
    for (std::size_t p = 0; p < kBasePoints; ++p) factor[p] = pressed[p] ? 1 - kTraceOfBase : 0;
    ElementMatrix k{};
    base_.add(factor, k);
    scatter(k, mesh_.first(e), s_.matrix);
  }

  void scatter(const ElementMatrix& k, std::size_t first, BandedCholesky& matrix) const {
    const auto& offset = mesh_.offset();
    for (std::size_t q = 0; q < kElementDofs; ++q) {
      for (std::size_t p = 0; p < kElementDofs; ++p) {
        if (offset[p] >= offset[q]) matrix.at(first + offset[p], first + offset[q]) += k[q][p];
      }
    }
  }

  void add_fastener_point(const FastenerPoint& point) {
    const auto& offset = mesh_.offset();
    const std::size_t first = point.shape.first;
    for (std::size_t q = 0; q < kElementDofs; ++q) {
      const double column = point.stiffness * point.shape.weight[q];
      for (std::size_t p = 0; p < kElementDofs; ++p) {
        if (offset[p] >= offset[q]) {
          s_.matrix.at(first + offset[p], first + offset[q]) += column * point.shape.weight[p];
        }
      }
    }
  }

  // Moves along the direction to where the energy stops falling. The energy is quadratic but for the one-way points.
  void advance(double slope0, double tolerance) {
    move_points(s_.direction, s_.base_step, s_.lift_step);
    std::fill(s_.product.begin(), s_.product.end(), 0.0);
    bend_all(mesh_, bending_, s_.direction.data(), s_.product.data());
    const double at_rest = dot(s_.bent, s_.direction) - dot(s_.load, s_.direction);
    const double growth = dot(s_.product, s_.direction);
    const double t =
        step_length([&](double step) { return at_rest + step * growth + point_slope(step); }, slope0, tolerance);
    // Everything but the one-way points is in proportion: it goes along.
    go(s_.u.data(), s_.direction.data(), t, s_.u.size());
    go(s_.bent.data(), s_.product.data(), t, s_.bent.size());
    go(s_.base[0].data(), s_.base_step[0].data(), t, kBasePoints * s_.base.size());
    go(s_.lift.data(), s_.lift_step.data(), t, s_.lift.size());
  }

  double point_slope(double step) const {
    double sum = base_slope(s_.base, s_.base_step, base_.stiffness(), step);
    for (std::size_t i = 0; i < s_.points.size(); ++i) {
      const double w = s_.lift[i] + step * s_.lift_step[i];
      sum += s_.points[i].stiffness * std::max(0.0, w) * s_.lift_step[i];
    }
    return sum;
  }

  void report_bending(FlexiblePlateResult& out) {
    s_.node_curvature.assign(mesh_.nodes(), Curvature{});
    s_.node_share.assign(mesh_.nodes(), 0);
    for (std::size_t e = 0; e < mesh_.elements(); ++e) {
      const ElementVector u = pick(s_.u, e);
      for (const std::size_t i : kEnds) {
        for (const std::size_t j : kEnds) {
          const Curvature k = mesh_.curvature(u, static_cast<double>(i), static_cast<double>(j));
          const std::size_t n = mesh_.corner_node(e, i, j);
          Curvature& sum = s_.node_curvature[n];
          sum = {sum.ss + k.ss, sum.tt + k.tt, sum.st + k.st};
          s_.node_share[n] += 1;
        }
      }
    }
    for (std::size_t n = 0; n < mesh_.nodes(); ++n) {
      const Curvature& sum = s_.node_curvature[n];
      const double share = s_.node_share[n];
      note_bending({sum.ss / share, sum.tt / share, sum.st / share}, mesh_.point(mesh_.node(n)), out);
    }
  }

  void note_bending(const Curvature& k, Point at, FlexiblePlateResult& out) const {
    const double nu = plate_.poisson;
    const double m_s = rigidity_ * (k.ss + nu * k.tt);
    const double m_t = rigidity_ * (k.tt + nu * k.ss);
    const double m_st = rigidity_ * (1 - nu) * k.st;
    const double principal = std::abs(m_s + m_t) / 2 + std::hypot((m_s - m_t) / 2, m_st);
    out.largest_moment = std::max(out.largest_moment, principal);
    const double equivalent = std::sqrt(m_s * m_s + m_t * m_t - m_s * m_t + 3 * m_st * m_st);
    const double stress = 6 * equivalent / (plate_.thickness * plate_.thickness);
    if (stress > out.largest_stress) {
      out.largest_stress = stress;
      out.largest_stress_at = at;
    }
  }

  const FlexiblePlate& plate_;
  PlateMesh mesh_;
  BasePatch base_;
  Store& s_;
  double rigidity_ = 0;
  double load_size_ = 0;
  ElementMatrix bending_{}, pressed_{};  // the plate; all of the base under an element, but the trace that is always there
};

Status check(const FlexiblePlate& p, const PlateLoad& load) {
  const double sum = std::abs(p.thickness) + std::abs(p.modulus) + std::abs(p.poisson) + std::abs(p.fastener_spread) +
                     std::abs(p.patch_width) + std::abs(p.patch_height) + std::abs(p.element_size);
  if (!std::isfinite(sum)) return Status::not_finite;
  if (!(p.thickness > 0 && p.modulus > 0 && p.poisson >= 0 && p.poisson < 0.5)) return Status::wrong_size;
  if (p.fastener_spread < 0 || p.patch_width < 0 || p.patch_height < 0 || p.element_size < 0) return Status::wrong_size;
  const Rectangle& o = p.outline;
  const double slack = 1e-9 * (o.width + o.height);
  const Point c = o.centre();
  if (std::abs(load.at.x - c.x) + p.patch_width / 2 > o.width / 2 + slack) return Status::off_plate;
  if (std::abs(load.at.z - c.z) + p.patch_height / 2 > o.height / 2 + slack) return Status::off_plate;
  if ((p.patch_width == 0 && load.Mz != 0) || (p.patch_height == 0 && load.Mx != 0)) return Status::no_lever;
  return Status::ok;
}

}  // namespace

FlexiblePlateResult solve_flexible_plate(const FlexiblePlate& plate, std::span<const TensionFastener> fasteners,
                                         const PlateLoad& load, std::span<double> tension,
                                         FlexiblePlateScratch& scratch) {
  FlexiblePlateResult out;
  std::fill(tension.begin(), tension.end(), 0.0);
  Store& store = scratch.store();
  store.rigid_tension.assign(fasteners.size(), 0.0);
  // The rigid solve checks the shared input and gives the start.
  const RigidPlateResult rigid =
      solve_rigid_plate({plate.outline, plate.base_modulus}, fasteners, load, store.rigid_tension);
  if (tension.size() != fasteners.size()) {
    out.status = Status::wrong_size;
  } else if (rigid.status != Status::ok && rigid.status != Status::not_converged) {
    out.status = rigid.status;
  } else {
    out.status = check(plate, load);
  }
  if (out.status != Status::ok) return out;
  out.compression_centre = plate.outline.centre();
  if (load.N == 0 && load.Mx == 0 && load.Mz == 0) return out;

  Problem problem(plate, fasteners, load, store);
  if (rigid.status == Status::ok) problem.start(rigid);
  if (!problem.iterate(out)) {
    out.status = Status::not_converged;
    return out;
  }
  problem.report(load, tension, out);
  if (!(out.residual <= kAcceptedStatics)) {
    std::fill(tension.begin(), tension.end(), 0.0);
    out.status = Status::not_converged;
  }
  return out;
}

}  // namespace jambcheck::mechanics
