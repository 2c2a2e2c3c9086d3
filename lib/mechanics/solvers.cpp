#include "mechanics/solvers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "mechanics/fastener_group.h"
#include "mechanics/rigid_plate.h"
#include "mechanics/windlock.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr std::size_t kMostFasteners = 8;
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// A bracket plate on the wall: sideways by the elastic group, off the wall by a stiff plate on fasteners that only
/// pull and a base that only presses. How hard the base is against the fasteners is not known well, so a soft and a
/// hard base are solved and the larger pull counts.
class FastenerGroupSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "fastener_group"; }
  std::span<const NativePort> inputs() const override { return kInputs; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    Bracket bracket;
    if (!read(in, bracket)) return;
    const Answer answer = work_out(bracket);
    if (answer.group != Status::ok || answer.soft.status != Status::ok || answer.hard.status != Status::ok) return;
    const std::size_t i = bracket.index;
    out[0] = std::max(answer.tension_soft[i], answer.tension_hard[i]);
    out[1] = answer.shear[i].magnitude();
    out[2] = std::atan2(std::fabs(answer.shear[i].x), std::fabs(answer.shear[i].z));
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    Bracket bracket;
    if (!read(in, bracket)) return {"the holes or the plate are not fully given"};
    const Answer answer = work_out(bracket);
    std::vector<std::string> lines;
    if (answer.group != Status::ok) lines.emplace_back("sideways: a single fastener can't hold a moment in the plane of the wall");
    if (answer.soft.status != Status::ok || answer.hard.status != Status::ok)
      lines.emplace_back("off the wall: no equilibrium; a hole may lie outside the plate");
    if (!lines.empty()) return lines;
    lines.emplace_back("fastener   x in     z in    pull soft base   pull hard base   sideways x   sideways z   (lbf)");
    for (std::size_t i = 0; i < bracket.count; ++i)
      lines.push_back(fmt::format("{:>5}{} {:>9.3f} {:>8.3f} {:>16.2f} {:>16.2f} {:>12.2f} {:>12.2f}", i + 1, i == bracket.index ? " *" : "  ",
                                  bracket.at[i].x, bracket.at[i].z, answer.tension_soft[i], answer.tension_hard[i], answer.shear[i].x,
                                  answer.shear[i].z));
    lines.push_back(closing("soft", bracket, answer.tension_soft, answer.soft));
    lines.push_back(closing("hard", bracket, answer.tension_hard, answer.hard));
    return lines;
  }

 private:
  struct Bracket {
    std::array<Point, kMostFasteners> at;
    std::size_t count = 0, index = 0;
    Rectangle plate;
    double V = 0, M_in = 0, M_out = 0, N = 0, soft = 0, hard = 0;
    std::span<const Point> holes() const { return {at.data(), count}; }
    Point centre() const {
      Point c;
      for (std::size_t i = 0; i < count; ++i) {
        c.x += at[i].x / static_cast<double>(count);
        c.z += at[i].z / static_cast<double>(count);
      }
      return c;
    }
  };
  struct Answer {
    Status group = Status::ok;
    std::array<Shear, kMostFasteners> shear{};
    std::array<double, kMostFasteners> tension_soft{}, tension_hard{};
    RigidPlateResult soft, hard;
  };

  static bool read(std::span<const double> in, Bracket& b) {
    constexpr std::size_t kHoles = 2, kPlate = kHoles + 2 * kMostFasteners, kLoads = kPlate + 4;
    if (!(in[0] >= 1) || !(in[1] >= in[0]) || in[1] > static_cast<double>(kMostFasteners)) return false;
    b.index = static_cast<std::size_t>(in[0]) - 1;
    b.count = static_cast<std::size_t>(in[1]);
    for (std::size_t i = 0; i < b.count; ++i) {
      b.at[i] = {in[kHoles + 2 * i], in[kHoles + 2 * i + 1]};
      if (std::isnan(b.at[i].x) || std::isnan(b.at[i].z)) return false;
    }
    b.plate = {in[kPlate], in[kPlate + 1], in[kPlate + 2], in[kPlate + 3]};
    b.V = in[kLoads];
    b.M_in = in[kLoads + 1];
    b.M_out = in[kLoads + 2];
    b.N = in[kLoads + 3];
    b.soft = in[kLoads + 4];
    b.hard = in[kLoads + 5];
    for (std::size_t k = kPlate; k < in.size(); ++k)
      if (std::isnan(in[k])) return false;
    return true;
  }
  static RigidPlateResult press(const Bracket& b, double contact, std::span<double> tension) {
    // Only the ratio of base to fastener stiffness moves the forces, so a fastener counts as 1.
    std::array<TensionFastener, kMostFasteners> fasteners{};
    for (std::size_t i = 0; i < b.count; ++i) fasteners[i] = {b.at[i], 1};
    PlateLoad load;
    load.N = b.N;
    load.Mx = b.M_out;
    load.at = b.centre();
    return solve_rigid_plate({b.plate, contact}, std::span(fasteners.data(), b.count), load, tension.first(b.count));
  }
  static Answer work_out(const Bracket& b) {
    Answer answer;
    InPlaneLoad in_plane;
    in_plane.Fz = -b.V;
    in_plane.My = -b.M_in;  // a weight at +x turns the plate from z toward x
    answer.group = solve_fastener_group(b.holes(), in_plane, std::span(answer.shear.data(), b.count));
    answer.soft = press(b, b.soft, answer.tension_soft);
    answer.hard = press(b, b.hard, answer.tension_hard);
    return answer;
  }
  static std::string closing(std::string_view base, const Bracket& b, std::span<const double> tension, const RigidPlateResult& r) {
    double force = 0, moment = 0;
    const Point c = b.centre();
    for (std::size_t i = 0; i < b.count; ++i) {
      force += tension[i];
      moment += tension[i] * (b.at[i].z - c.z);
    }
    return fmt::format(
        "{} base: pulls {:.2f} - base pressure {:.2f} = N {:.2f} lbf; moments about the middle {:.2f} - {:.2f} = M {:.2f} in-lbf", base,
        force, r.compression, force - r.compression, moment, r.compression * (r.compression_centre.z - c.z),
        moment - r.compression * (r.compression_centre.z - c.z));
  }

  static constexpr std::array<NativePort, 28> kInputs = {{
      {"hole_index", "1"},     {"hole_count", "1"},       {"x_1", "in"},           {"z_1", "in"},
      {"x_2", "in"},           {"z_2", "in"},             {"x_3", "in"},           {"z_3", "in"},
      {"x_4", "in"},           {"z_4", "in"},             {"x_5", "in"},           {"z_5", "in"},
      {"x_6", "in"},           {"z_6", "in"},             {"x_7", "in"},           {"z_7", "in"},
      {"x_8", "in"},           {"z_8", "in"},             {"plate_left", "in"},    {"plate_bottom", "in"},
      {"plate_width", "in"},   {"plate_height", "in"},    {"V", "lbf"},            {"M_in_plane", "in-lbf"},
      {"M_out_of_plane", "in-lbf"}, {"N", "lbf"},         {"contact_soft", "1/in^2"}, {"contact_hard", "1/in^2"},
  }};
  static constexpr std::array<NativePort, 3> kOutputs = {{{"T", "lbf"}, {"V_h", "lbf"}, {"theta", "deg"}}};
};

/// Pull of the windlocks on one jamb, once with the softest and once with the stiffest the jamb may be. The pressure that
/// acts is p times f: the pull is no straight line of the pressure, so it is worked out at the factored one.
class WindlockSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "windlock"; }
  std::span<const NativePort> inputs() const override { return kInputs; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    const WindlockResult stiff = solve_windlock(curtain(in, in[kStiff])), soft = solve_windlock(curtain(in, in[kSoft]));
    if (stiff.status != Status::ok || soft.status != Status::ok) return;
    out[0] = stiff.pull;
    out[1] = stiff.sag;
    out[2] = soft.pull;
    out[3] = soft.sag;
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    std::vector<std::string> lines = {"parabola between the jambs: 8 f^2 / (3 W) = 2 g + H W / EA + 2 H / k, H = (p - 384 EI f / (5 W^4)) W^2 / (8 f)"};
    lines.push_back(line("stiffest jamb", solve_windlock(curtain(in, in[kStiff]))));
    lines.push_back(line("softest jamb", solve_windlock(curtain(in, in[kSoft]))));
    return lines;
  }

 private:
  enum Port { kPressure, kFactor, kWidth, kGap, kAxial, kBending, kSoft, kStiff };

  /// Stretch and bending may be missing: then there is none, which gives the larger pull.
  static WindlockCurtain curtain(std::span<const double> in, double jamb) {
    WindlockCurtain c;
    c.pressure = in[kPressure] * in[kFactor];
    c.width = in[kWidth];
    c.gap = in[kGap];
    if (!std::isnan(in[kAxial])) c.axial = in[kAxial];
    if (!std::isnan(in[kBending])) c.bending = in[kBending];
    c.jamb = jamb;
    return c;
  }
  static std::string line(std::string_view jamb, const WindlockResult& r) {
    if (r.status == Status::no_equilibrium) return fmt::format("{}: a straight curtain without gap, stretch or give carries no wind", jamb);
    if (r.status != Status::ok) return fmt::format("{}: gap, width or stiffness is not fully given", jamb);
    return fmt::format("{}: sag f {:.3f} in, pull H {:.2f} lbf/ft, extra length left over {:.1e} of the whole", jamb, r.sag, 12 * r.pull, r.residual);
  }

  static constexpr std::array<NativePort, 8> kInputs = {{{"p", "psf"}, {"f_W", "1"}, {"W", "in"}, {"g", "in"}, {"EA", "lbf/ft"},
                                                         {"EI", "lbf*in^2/ft"}, {"k_soft", "lbf/in/ft"}, {"k_stiff", "lbf/in/ft"}}};
  static constexpr std::array<NativePort, 4> kOutputs = {{{"H_stiff", "lbf/ft"}, {"f_stiff", "in"}, {"H_soft", "lbf/ft"}, {"f_soft", "in"}}};
};

}  // namespace

void add_solvers(program::NativeRegistry& registry) {
  registry.add(std::make_unique<FastenerGroupSolver>());
  registry.add(std::make_unique<WindlockSolver>());
}

}  // namespace jambcheck::mechanics
