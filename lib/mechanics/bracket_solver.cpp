#include "mechanics/bracket_solver.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <mutex>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "mechanics/fastener_group.h"
#include "mechanics/flexible_plate.h"
#include "mechanics/rigid_plate.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr std::size_t kMost = 8;  // fasteners
constexpr std::size_t kMostKept = 20000;
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

enum Port : std::size_t {
  kIndex,
  kCount,
  kHoles,
  kLeft = kHoles + 2 * kMost,
  kBottom,
  kWidth,
  kHeight,
  kThickness,
  kModulus,
  kPoisson,
  kArmWidth,
  kArmHeight,
  kArmPartX,
  kArmPartZ,
  kV,
  kH,
  kMIn,
  kMOut,
  kMUp,
  kN,
  kFastener,
  kSoft,
  kHard,
  kPorts
};

/// Geometry and stiffness: what one unit of load is shared by. Loads come apart from it.
struct Bracket {
  std::array<Point, kMost> at{};
  std::size_t count = 0, index = 0;
  Rectangle plate;
  double thickness = 0, modulus = 0, poisson = 0, arm_width = 0, arm_height = 0, fastener = 0, soft = 0, hard = 0;
  double V = 0, H = 0, M_in = 0, M_out = 0, M_up = 0, N = 0;

  [[nodiscard]] std::span<const Point> holes() const { return {at.data(), count}; }
  [[nodiscard]] Point centre() const {
    Point c;
    for (std::size_t i = 0; i < count; ++i) {
      c.x += at[i].x / static_cast<double>(count);
      c.z += at[i].z / static_cast<double>(count);
    }
    return c;
  }
  [[nodiscard]] bool stiff() const { return std::isnan(thickness); }
};

bool read(std::span<const double> in, Bracket& b) {
  if (!(in[kIndex] >= 1) || !(in[kCount] >= in[kIndex]) || in[kCount] > static_cast<double>(kMost)) return false;
  b.index = static_cast<std::size_t>(in[kIndex]) - 1;
  b.count = static_cast<std::size_t>(in[kCount]);
  for (std::size_t i = 0; i < b.count; ++i) {
    b.at[i] = {in[kHoles + 2 * i], in[kHoles + 2 * i + 1]};
    if (std::isnan(b.at[i].x) || std::isnan(b.at[i].z)) return false;
  }
  for (std::size_t k = kLeft; k < kPorts; ++k)
    if (std::isnan(in[k]) && k != kThickness && k != kArmWidth && k != kArmHeight) return false;
  b.plate = {in[kLeft], in[kBottom], in[kWidth], in[kHeight]};
  b.thickness = in[kThickness];
  b.modulus = in[kModulus];
  b.poisson = in[kPoisson];
  // The foot of the arm on the plate, when it is not said: the parts of the plate that the rule names.
  b.arm_width = std::isnan(in[kArmWidth]) ? b.plate.width * in[kArmPartX] : in[kArmWidth];
  b.arm_height = std::isnan(in[kArmHeight]) ? b.plate.height * in[kArmPartZ] : in[kArmHeight];
  b.V = in[kV];
  b.H = in[kH];
  b.M_in = in[kMIn];
  b.M_out = in[kMOut];
  b.M_up = in[kMUp];
  b.N = in[kN];
  b.fastener = in[kFastener];
  b.soft = in[kSoft];
  b.hard = in[kHard];
  return true;
}

/// What the plate does under one load.
struct Press {
  Status status = Status::ok;
  std::array<double, kMost> tension{};
  double compression = 0;
  Point compression_centre;
  double largest_stress = 0;  ///< psi, of the bent plate
};

Press solve_rigid(const Bracket& b, double contact, const PlateLoad& load) {
  std::array<TensionFastener, kMost> fasteners{};
  for (std::size_t i = 0; i < b.count; ++i) fasteners[i] = {b.at[i], b.fastener};
  Press p;
  const auto r = solve_rigid_plate({b.plate, contact * b.fastener}, std::span(fasteners.data(), b.count), load, std::span(p.tension.data(), b.count));
  p.status = r.status;
  p.compression = r.compression;
  p.compression_centre = r.compression_centre;
  return p;
}

Press solve_bending(const Bracket& b, double contact, const PlateLoad& load) {
  std::array<TensionFastener, kMost> fasteners{};
  for (std::size_t i = 0; i < b.count; ++i) fasteners[i] = {b.at[i], b.fastener};
  FlexiblePlate plate;
  plate.outline = b.plate;
  plate.thickness = b.thickness;
  plate.modulus = b.modulus;
  plate.poisson = b.poisson;
  plate.base_modulus = contact * b.fastener;
  // A pull at a point: the free body then closes with the pulls at the hole centres.
  plate.fastener_spread = std::min(b.plate.width, b.plate.height) / 1000;
  plate.patch_width = b.arm_width;
  plate.patch_height = b.arm_height;
  Press p;
  FlexiblePlateScratch scratch;
  const auto r = solve_flexible_plate(plate, std::span(fasteners.data(), b.count), load, std::span(p.tension.data(), b.count), scratch);
  p.status = r.status;
  p.compression = r.compression;
  p.compression_centre = r.compression_centre;
  p.largest_stress = r.largest_stress;
  return p;
}

/// A bracket and its load with the holes in order of their places, seen from the front or in a mirror.
struct View {
  Bracket bracket;
  PlateLoad load;
  bool mirrored = false;
  std::array<std::size_t, kMost> hole{};  ///< which one of the bracket each is

  View(const Bracket& b, const PlateLoad& l, bool in_mirror) : bracket(b), load(l), mirrored(in_mirror) {
    if (in_mirror) {
      for (std::size_t i = 0; i < b.count; ++i) bracket.at[i].x = -b.at[i].x;
      bracket.plate.left = -(b.plate.left + b.plate.width);
      load.Mz = -l.Mz;
      load.at.x = -l.at.x;
    }
    std::iota(hole.begin(), hole.end(), std::size_t{0});
    std::stable_sort(hole.begin(), hole.begin() + static_cast<std::ptrdiff_t>(b.count), [&](std::size_t i, std::size_t j) {
      return std::pair(bracket.at[i].z, bracket.at[i].x) < std::pair(bracket.at[j].z, bracket.at[j].x);
    });
    const auto unsorted = bracket.at;
    for (std::size_t i = 0; i < b.count; ++i) bracket.at[i] = unsorted[hole[i]];
  }
  /// Its answer, for the holes as they were.
  [[nodiscard]] Press back(const Press& p) const {
    Press out = p;
    for (std::size_t i = 0; i < bracket.count; ++i) out.tension[hole[i]] = p.tension[i];
    if (mirrored) out.compression_centre.x = -p.compression_centre.x;
    return out;
  }
};

/// Contact without gaps or preload: pulls grow in proportion with the load. So the answer to a load of size 1 is kept
/// and used for every factor on it, and for the mirrored bracket of the other jamb, whichever thread asks first: the same
/// numbers come out.
class Kept {
 public:
  Press get(const Bracket& b, double contact) {
    const double size = std::max({std::fabs(b.N), std::fabs(b.M_out) / b.plate.height, std::fabs(b.M_up) / b.plate.height});
    if (size == 0) return {};
    const Point c = b.centre();
    const PlateLoad unit{b.N / size, b.M_out / size, b.M_up / size, c};
    const View front(b, unit, false), mirror(b, unit, true);
    const View& view = name(mirror.bracket, contact, mirror.load) < name(front.bracket, contact, front.load) ? mirror : front;
    Press p = view.back(solved(view.bracket, contact, view.load));
    for (double& t : p.tension) t *= size;
    p.compression *= size;
    p.largest_stress *= size;
    return p;
  }

 private:
  using Name = std::array<double, 2 * kMost + 15>;
  static Name name(const Bracket& b, double contact, const PlateLoad& unit) {
    Name n{};
    std::size_t k = 0;
    for (const Point& p : b.at) {
      n[k++] = p.x;
      n[k++] = p.z;
    }
    for (const double v : {static_cast<double>(b.count), b.plate.left, b.plate.bottom, b.plate.width, b.plate.height, b.stiff() ? -1 : b.thickness, b.modulus,
                           b.poisson, b.arm_width, b.arm_height, b.fastener, contact, unit.N, unit.Mx, unit.Mz})
      n[k++] = v;
    return n;
  }
  Press solved(const Bracket& b, double contact, const PlateLoad& unit) {
    const Name key = name(b, contact, unit);
    {
      const std::lock_guard lock(mutex_);
      if (const auto it = kept_.find(key); it != kept_.end()) return it->second;
    }
    const Press p = b.stiff() ? solve_rigid(b, contact, unit) : solve_bending(b, contact, unit);
    const std::lock_guard lock(mutex_);
    if (kept_.size() >= kMostKept) kept_.clear();
    kept_.emplace(key, p);
    return p;
  }
  std::mutex mutex_;
  std::map<Name, Press> kept_;
};

class BracketSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "bracket_plate"; }
  std::span<const NativePort> inputs() const override { return kInputs; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    Bracket b;
    if (!read(in, b)) return;
    const Answer answer = work_out(b);
    if (answer.group != Status::ok || answer.soft.status != Status::ok || answer.hard.status != Status::ok) return;
    out[0] = std::max(answer.soft.tension[b.index], answer.hard.tension[b.index]);
    out[1] = answer.shear[b.index].magnitude();
    out[2] = std::atan2(std::fabs(answer.shear[b.index].x), std::fabs(answer.shear[b.index].z));
    out[3] = b.stiff() ? 0 : std::max(answer.soft.largest_stress, answer.hard.largest_stress);
    out[4] = answer.shear[b.index].x;
    out[5] = -answer.shear[b.index].z;
    std::fill(out.begin() + 6, out.end(), 0);  // a hole that is not there carries nothing
    for (std::size_t i = 0; i < b.count; ++i) {
      out[6 + 3 * i] = std::max(answer.soft.tension[i], answer.hard.tension[i]);
      out[7 + 3 * i] = answer.shear[i].x;
      out[8 + 3 * i] = -answer.shear[i].z;
    }
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    Bracket b;
    if (!read(in, b)) return {"the holes, the plate or the loads are not fully given"};
    const Answer answer = work_out(b);
    std::vector<std::string> lines;
    if (answer.group != Status::ok) lines.emplace_back("sideways: a single fastener can't hold a moment in the plane of the wall");
    if (answer.soft.status != Status::ok || answer.hard.status != Status::ok)
      lines.emplace_back("off the wall: no equilibrium; a hole or the arm may lie outside the plate");
    if (!lines.empty()) return lines;
    lines.push_back(fmt::format("{} x {} in plate, {}; arm {:.2f} x {:.2f} in in the middle of the fasteners", b.plate.width, b.plate.height,
                                b.stiff() ? "taken as stiff" : fmt::format("{} in thick, bends", b.thickness), b.arm_width, b.arm_height));
    lines.push_back(fmt::format("free body at the wall: down {:.2f}, along {:.2f}, off {:.2f} lbf; moments in the plane {:.2f}, off the wall {:.2f}, about the upright {:.2f} in-lbf",
                                b.V, b.H, b.N, b.M_in, b.M_out, b.M_up));
    lines.emplace_back("fastener   x in     z in    pull soft base   pull hard base   sideways x   sideways z   (lbf)");
    for (std::size_t i = 0; i < b.count; ++i)
      lines.push_back(fmt::format("{:>5}{} {:>9.3f} {:>8.3f} {:>16.2f} {:>16.2f} {:>12.2f} {:>12.2f}", i + 1, i == b.index ? " *" : "  ", b.at[i].x, b.at[i].z,
                                  answer.soft.tension[i], answer.hard.tension[i], answer.shear[i].x, answer.shear[i].z));
    add_closing("soft", b, answer.soft, lines);
    add_closing("hard", b, answer.hard, lines);
    lines.push_back(in_plane_closing(b, answer));
    return lines;
  }

 private:
  struct Answer {
    Status group = Status::ok;
    std::array<Shear, kMost> shear{};
    Press soft, hard;
  };
  Answer work_out(const Bracket& b) const {
    Answer answer;
    InPlaneLoad in_plane;
    in_plane.Fx = b.H;
    in_plane.Fz = -b.V;
    in_plane.My = -b.M_in;  // a weight at +x turns the plate from z toward x
    answer.group = solve_fastener_group(b.holes(), in_plane, std::span(answer.shear.data(), b.count));
    answer.soft = kept_.get(b, b.soft);
    answer.hard = kept_.get(b, b.hard);
    return answer;
  }
  /// So that no -0.00 is printed.
  static double near_zero(double value) { return std::fabs(value) < 0.005 ? 0 : value; }
  static void add_closing(std::string_view base, const Bracket& b, const Press& p, std::vector<std::string>& lines) {
    double force = 0, about_level = 0, about_upright = 0;
    const Point c = b.centre();
    for (std::size_t i = 0; i < b.count; ++i) {
      force += p.tension[i];
      about_level += p.tension[i] * (b.at[i].z - c.z);
      about_upright += p.tension[i] * (b.at[i].x - c.x);
    }
    const double back_level = p.compression * (p.compression_centre.z - c.z), back_upright = p.compression * (p.compression_centre.x - c.x);
    lines.push_back(fmt::format("{} base: pulls {:.2f} - pressure {:.2f} = {:.2f} lbf; moments {:.2f} - {:.2f} = {:.2f} and {:.2f} - {:.2f} = {:.2f} in-lbf", base, force,
                                p.compression, near_zero(force - p.compression), about_level, near_zero(back_level), about_level - back_level, near_zero(about_upright),
                                near_zero(back_upright), near_zero(about_upright - back_upright)));
  }
  static std::string in_plane_closing(const Bracket& b, const Answer& answer) {
    double x = 0, z = 0, turn = 0;
    const Point c = b.centre();
    for (std::size_t i = 0; i < b.count; ++i) {
      x += answer.shear[i].x;
      z += answer.shear[i].z;
      turn += (b.at[i].x - c.x) * answer.shear[i].z - (b.at[i].z - c.z) * answer.shear[i].x;
    }
    return fmt::format("in the plane: fasteners together {:.2f} along, {:.2f} down lbf, {:.2f} in-lbf", x, -z, -turn);
  }

  mutable Kept kept_;

  static constexpr std::array<NativePort, kPorts> kInputs = {{
      {"hole_index", "1"},    {"hole_count", "1"},      {"x_1", "in"},         {"z_1", "in"},          {"x_2", "in"},          {"z_2", "in"},
      {"x_3", "in"},          {"z_3", "in"},            {"x_4", "in"},         {"z_4", "in"},          {"x_5", "in"},          {"z_5", "in"},
      {"x_6", "in"},          {"z_6", "in"},            {"x_7", "in"},         {"z_7", "in"},          {"x_8", "in"},          {"z_8", "in"},
      {"plate_left", "in"},   {"plate_bottom", "in"},   {"plate_width", "in"}, {"plate_height", "in"}, {"t", "in"},            {"E", "psi"},
      {"nu", "1"},            {"arm_width", "in"},      {"arm_height", "in"},     {"arm_part_x", "1"},      {"arm_part_z", "1"},  {"V", "lbf"},           {"H", "lbf"},           {"M_in_plane", "in-lbf"},
      {"M_out_of_plane", "in-lbf"}, {"M_upright", "in-lbf"}, {"N", "lbf"},     {"k_f", "lbf/in"},      {"contact_soft", "1/in^2"}, {"contact_hard", "1/in^2"},
  }};
  static constexpr std::array<NativePort, 30> kOutputs = {{{"T", "lbf"}, {"V_h", "lbf"}, {"theta", "deg"}, {"sigma", "psi"}, {"V_x", "lbf"}, {"V_z", "lbf"},
      {"T_1", "lbf"}, {"V_x_1", "lbf"}, {"V_z_1", "lbf"},
      {"T_2", "lbf"}, {"V_x_2", "lbf"}, {"V_z_2", "lbf"},
      {"T_3", "lbf"}, {"V_x_3", "lbf"}, {"V_z_3", "lbf"},
      {"T_4", "lbf"}, {"V_x_4", "lbf"}, {"V_z_4", "lbf"},
      {"T_5", "lbf"}, {"V_x_5", "lbf"}, {"V_z_5", "lbf"},
      {"T_6", "lbf"}, {"V_x_6", "lbf"}, {"V_z_6", "lbf"},
      {"T_7", "lbf"}, {"V_x_7", "lbf"}, {"V_z_7", "lbf"},
      {"T_8", "lbf"}, {"V_x_8", "lbf"}, {"V_z_8", "lbf"}}};
};

}  // namespace

std::unique_ptr<program::NativeSolver> bracket_solver() { return std::make_unique<BracketSolver>(); }

}  // namespace jambcheck::mechanics
