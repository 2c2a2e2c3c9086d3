#include "mechanics/guide_beam_solver.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "mechanics/beam_on_fasteners.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr std::size_t kMost = 32;  // fasteners up one guide
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

enum Port : std::size_t { kSpacing, kFirst, kCount, kHeight, kPositions, kRigidity = kPositions + kMost, kRigidityLow, kRigidityHigh, kGiveLow, kGiveHigh, kPorts };

struct Guide {
  std::vector<double> at;  ///< heights of the fasteners above the lower end of the guide
  double loaded = 0;       ///< height over which the curtain bears
  std::array<double, 2> rigidity{};   ///< E I: the least and the most that it may be, lbf in^2
  std::array<double, 2> stiffness{};  ///< of one fastener, lbf/in
};

/// Listed heights first; else the regular pattern; else nothing.
bool read(std::span<const double> in, Guide& g) {
  g.loaded = in[kHeight];
  if (std::isnan(g.loaded)) return false;
  for (std::size_t i = 0; i < kMost && !std::isnan(in[kPositions + i]); ++i) g.at.push_back(in[kPositions + i]);
  if (g.at.empty()) {
    if (std::isnan(in[kSpacing]) || std::isnan(in[kFirst]) || !(in[kCount] >= 2)) return false;
    for (std::size_t i = 0; i < static_cast<std::size_t>(in[kCount]); ++i) g.at.push_back(in[kFirst] + static_cast<double>(i) * in[kSpacing]);
  }
  std::sort(g.at.begin(), g.at.end());
  g.rigidity = std::isnan(in[kRigidity]) ? std::array{in[kRigidityLow], in[kRigidityHigh]} : std::array{in[kRigidity], in[kRigidity]};
  g.stiffness = {in[kGiveLow], in[kGiveHigh]};
  return g.at.size() >= 2 && g.at.front() >= 0;
}

constexpr double kUnyielding = std::numeric_limits<double>::infinity();

/// How guide and fasteners give: one of the pairs that are tried.
struct Give {
  double rigidity = 1;
  double stiffness = kUnyielding;
};

/// Reaction of each fastener to one unit of load per unit of height: the height it holds.
Status shares(const Guide& g, const Give& give, std::vector<double>& share, std::optional<std::size_t> missing = std::nullopt) {
  std::vector<BeamSupport> supports;
  for (const double z : g.at) supports.push_back({z, give.stiffness});
  const UniformLoad load{0, g.loaded, 1};
  share.assign(g.at.size(), 0);
  BeamScratch scratch;
  return solve_beam({std::max(g.loaded, g.at.back()), give.rigidity, supports, std::span(&load, 1), {}}, {share, {}}, scratch, missing).status;
}

/// The largest share of each fastener over all the ways in which guide and fasteners may give.
Status largest_shares(const Guide& g, std::vector<double>& most) {
  Status status = shares(g, {}, most);
  std::vector<double> share;
  for (const double rigidity : g.rigidity)
    for (const double stiffness : g.stiffness) {
      if (status == Status::ok) status = shares(g, {rigidity, stiffness}, share);
      for (std::size_t i = 0; status == Status::ok && i < share.size(); ++i) most[i] = std::max(most[i], share[i]);
    }
  return status;
}

class GuideBeamSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "guide_beam"; }
  std::span<const NativePort> inputs() const override { return inputs_; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    out[0] = kNone;
    Guide g;
    if (!read(in, g)) {
      // max() would pass over a NaN: spacing and overhang must both be known.
      if (!std::isnan(in[kSpacing]) && !std::isnan(in[kFirst])) out[0] = std::max(in[kSpacing], in[kSpacing] / 2 + in[kFirst]);
      return;
    }
    std::vector<double> share;
    if (largest_shares(g, share) != Status::ok) return;
    out[0] = *std::max_element(share.begin(), share.end());
    // Never less than by half-way lines.
    for (std::size_t i = 0; i < g.at.size(); ++i) out[0] = std::max(out[0], tributary(g, i));
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    Guide g;
    if (!read(in, g)) return {"the heights of the fasteners are not known: one spacing, or half a spacing and the overhang, whichever is more"};
    std::vector<double> firm, most;
    if (shares(g, {}, firm) != Status::ok || largest_shares(g, most) != Status::ok) return {"the guide does not stand on its fasteners"};
    std::vector<std::string> lines = {
        fmt::format("continuous beam on {} fasteners, loaded over {:.2f} in; guide E I {:.3g} to {:.3g} lbf in^2, fasteners {:.0f} to {:.0f} lbf/in and unyielding", g.at.size(),
                    g.loaded, g.rigidity[0], g.rigidity[1], g.stiffness[0], g.stiffness[1]),
        "fastener   height in   unyielding in   most of all in   by halves in   if the one below were missing in"};
    double sum = 0;
    for (std::size_t i = 0; i < g.at.size(); ++i) {
      sum += firm[i];
      lines.push_back(fmt::format("{:>5} {:>14.2f} {:>15.2f} {:>16.2f} {:>14.2f} {:>18}", i + 1, g.at[i], firm[i], most[i], tributary(g, i), without_below(g, i)));
    }
    lines.push_back(fmt::format("unyielding together {:.4f} in, loaded {:.4f} in", sum, g.loaded));
    return lines;
  }

 private:
  static double tributary(const Guide& g, std::size_t i) {
    const double below = i == 0 ? 0 : (g.at[i - 1] + g.at[i]) / 2;
    const double above = i + 1 == g.at.size() ? g.loaded : (g.at[i] + g.at[i + 1]) / 2;
    return std::max(0.0, std::min(above, g.loaded) - std::min(below, g.loaded));
  }
  static std::string without_below(const Guide& g, std::size_t i) {
    std::vector<double> share;
    if (i == 0 || g.at.size() < 3 || shares(g, {}, share, i - 1) != Status::ok) return "--";
    return fmt::format("{:.2f}", share[i]);
  }

  static std::vector<NativePort> make_inputs() {
    static constexpr std::array<std::string_view, kMost> names = {"h_1",  "h_2",  "h_3",  "h_4",  "h_5",  "h_6",  "h_7",  "h_8",  "h_9",  "h_10", "h_11",
                                                                  "h_12", "h_13", "h_14", "h_15", "h_16", "h_17", "h_18", "h_19", "h_20", "h_21", "h_22",
                                                                  "h_23", "h_24", "h_25", "h_26", "h_27", "h_28", "h_29", "h_30", "h_31", "h_32"};
    std::vector<NativePort> ports = {{"s", "in"}, {"a_1", "in"}, {"n", "1"}, {"h", "in"}};
    for (const auto name : names) ports.push_back({name, "in"});
    for (const std::string_view name : {"EI", "EI_low", "EI_high"}) ports.push_back({name, "lbf*in^2"});
    for (const std::string_view name : {"k_low", "k_high"}) ports.push_back({name, "lbf/in"});
    return ports;
  }
  std::vector<NativePort> inputs_ = make_inputs();
  static constexpr std::array<NativePort, 1> kOutputs = {{{"s_t", "in"}}};
};

}  // namespace

std::unique_ptr<program::NativeSolver> guide_beam_solver() { return std::make_unique<GuideBeamSolver>(); }

}  // namespace jambcheck::mechanics
