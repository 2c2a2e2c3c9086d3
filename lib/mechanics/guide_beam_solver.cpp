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

enum Port : std::size_t { kSpacing, kFirst, kCount, kHeight, kPositions, kPorts = kPositions + kMost };

struct Guide {
  std::vector<double> at;  ///< heights of the fasteners above the lower end of the guide
  double loaded = 0;       ///< height over which the curtain bears
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
  return g.at.size() >= 2 && g.at.front() >= 0;
}

/// Reaction of each fastener to one unit of load per unit of height: the height it holds.
Status shares(const Guide& g, std::vector<double>& share, std::optional<std::size_t> missing = std::nullopt) {
  std::vector<BeamSupport> supports;
  for (const double z : g.at) supports.push_back({z});
  const UniformLoad load{0, g.loaded, 1};
  share.assign(g.at.size(), 0);
  BeamScratch scratch;
  return solve_beam({std::max(g.loaded, g.at.back()), 1, supports, std::span(&load, 1), {}}, {share, {}}, scratch, missing).status;
}

class GuideBeamSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "guide_beam"; }
  std::span<const NativePort> inputs() const override { return inputs_; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    out[0] = kNone;
    const double rough = std::max(in[kSpacing], in[kSpacing] / 2 + in[kFirst]);
    Guide g;
    if (!read(in, g)) {
      out[0] = rough;  // no value when spacing or first is not known
      return;
    }
    std::vector<double> share;
    if (shares(g, share) != Status::ok) return;
    out[0] = *std::max_element(share.begin(), share.end());
    // A guide that gives at its fasteners shares evenly: never less than that.
    for (std::size_t i = 0; i < g.at.size(); ++i) out[0] = std::max(out[0], tributary(g, i));
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    Guide g;
    if (!read(in, g)) return {"the heights of the fasteners are not known: one spacing, or half a spacing and the overhang, whichever is more"};
    std::vector<double> share;
    if (shares(g, share) != Status::ok) return {"the guide does not stand on its fasteners"};
    std::vector<std::string> lines = {fmt::format("continuous beam on {} fasteners, loaded over {:.2f} in", g.at.size(), g.loaded),
                                      "fastener   height in   holds as a beam in   by halves in   if the one below were missing in"};
    double sum = 0;
    for (std::size_t i = 0; i < g.at.size(); ++i) {
      sum += share[i];
      lines.push_back(fmt::format("{:>5} {:>14.2f} {:>16.2f} {:>16.2f} {:>18}", i + 1, g.at[i], share[i], tributary(g, i), without_below(g, i)));
    }
    lines.push_back(fmt::format("together {:.4f} in, loaded {:.4f} in", sum, g.loaded));
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
    if (i == 0 || g.at.size() < 3 || shares(g, share, i - 1) != Status::ok) return "--";
    return fmt::format("{:.2f}", share[i]);
  }

  static std::vector<NativePort> make_inputs() {
    static constexpr std::array<std::string_view, kMost> names = {"h_1",  "h_2",  "h_3",  "h_4",  "h_5",  "h_6",  "h_7",  "h_8",  "h_9",  "h_10", "h_11",
                                                                  "h_12", "h_13", "h_14", "h_15", "h_16", "h_17", "h_18", "h_19", "h_20", "h_21", "h_22",
                                                                  "h_23", "h_24", "h_25", "h_26", "h_27", "h_28", "h_29", "h_30", "h_31", "h_32"};
    std::vector<NativePort> ports = {{"s", "in"}, {"a_1", "in"}, {"n", "1"}, {"h", "in"}};
    for (const auto name : names) ports.push_back({name, "in"});
    return ports;
  }
  std::vector<NativePort> inputs_ = make_inputs();
  static constexpr std::array<NativePort, 1> kOutputs = {{{"s_t", "in"}}};
};

}  // namespace

std::unique_ptr<program::NativeSolver> guide_beam_solver() { return std::make_unique<GuideBeamSolver>(); }

}  // namespace jambcheck::mechanics
