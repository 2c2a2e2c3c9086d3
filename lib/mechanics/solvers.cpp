#include "mechanics/solvers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "mechanics/bracket_solver.h"
#include "mechanics/concrete_area_solvers.h"
#include "mechanics/guide_beam_solver.h"
#include "mechanics/masonry_area_solver.h"
#include "mechanics/windlock.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

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
  registry.add(bracket_solver());
  registry.add(guide_beam_solver());
  registry.add(masonry_area_solver());
  registry.add(projected_area_solver());
  registry.add(edge_breakout_solver());
  registry.add(std::make_unique<WindlockSolver>());
}

}  // namespace jambcheck::mechanics
