#include "mechanics/concrete_area_solvers.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "mechanics/edge_breakout.h"
#include "mechanics/projected_area.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr std::string_view kUnknown = "places, edges or loads of the anchors, their depth or the thickness of the concrete are not fully known";

/// Ports that both solvers begin with.
enum Port : std::size_t { kIndex, kCount, kHoles, kSpacing = kHoles + 2 * kMostAnchors, kEdge, kOther, kEnd, kOwnPorts };

bool read(std::span<const double> in, AnchorLayout& a) {
  if (std::isnan(in[kCount])) {
    if (!(in[kSpacing] > 0)) return false;
    a.line_spacing = in[kSpacing];
    a.count = 1;
  } else {
    if (!(in[kIndex] >= 1) || !(in[kCount] >= in[kIndex]) || in[kCount] > static_cast<double>(kMostAnchors)) return false;
    a.own = static_cast<std::size_t>(in[kIndex]) - 1;
    a.count = static_cast<std::size_t>(in[kCount]);
    for (std::size_t i = 0; i < a.count; ++i) a.at[i] = {in[kHoles + 2 * i], in[kHoles + 2 * i + 1]};
  }
  a.edge = in[kEdge];
  a.other = in[kOther];
  a.end = in[kEnd];
  return true;
}

std::string where(const AnchorLayout& a) {
  if (a.is_line()) return fmt::format("one anchor of a line, neighbours every {:.3f} in; edges {:.3f} and {:.3f} in, end {:.3f} in", a.line_spacing, a.edge, a.other, a.end);
  return fmt::format("anchor {} of {} at x {:.3f}, z {:.3f} in; from the outermost: edges {:.3f} and {:.3f} in, ends {:.3f} in", a.own + 1, a.count,
                     a.at[a.own].x, a.at[a.own].z, a.edge, a.other, a.end);
}

constexpr std::array<NativePort, kOwnPorts> kLayoutPorts = {
    {{"hole_index", "1"}, {"hole_count", "1"}, {"x_1", "in"}, {"z_1", "in"}, {"x_2", "in"}, {"z_2", "in"}, {"x_3", "in"}, {"z_3", "in"},
     {"x_4", "in"}, {"z_4", "in"}, {"x_5", "in"}, {"z_5", "in"}, {"x_6", "in"}, {"z_6", "in"}, {"x_7", "in"}, {"z_7", "in"},
     {"x_8", "in"}, {"z_8", "in"}, {"s_line", "in"}, {"edge", "in"}, {"edge_other", "in"}, {"end", "in"}}};

std::vector<NativePort> with_layout(std::initializer_list<NativePort> more) {
  std::vector<NativePort> ports(kLayoutPorts.begin(), kLayoutPorts.end());
  ports.insert(ports.end(), more);
  return ports;
}

class ProjectedAreaSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "projected_area"; }
  std::span<const NativePort> inputs() const override { return inputs_; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    AnchorLayout a;
    ProjectedArea r;
    if (!work(in, a, r)) return;
    const std::array values = {r.depth, r.area, r.c_min, r.e_x, r.e_z, r.load, r.count, r.row.distance, r.row.across, r.row.count, r.row.factor, r.row.load};
    std::copy(values.begin(), values.end(), out.begin());
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    AnchorLayout a;
    ProjectedArea r;
    if (!work(in, a, r)) return {std::string(kUnknown)};
    const double reach = in[kTimes] * r.depth;
    return {where(a),
            fmt::format("{:.0f} anchor{} together, load {:.1f} lbf, off the middle by {:.3f} in across and {:.3f} in up", r.count, r.count > 1 ? "s" : "", r.load, r.e_x, r.e_z),
            fmt::format("depth {:.3f} in{}, squares reach {:.3f} in from each anchor", r.depth,
                        r.depth < in[kDepth] ? fmt::format(" in place of {:.3f} in, because many edges are near", in[kDepth]) : "", reach),
            fmt::format("area {:.3f} in^2, one alone without edges {:.3f} in^2, so {:.4f} of those; nearest edge {:.3f} in", r.area, 4 * reach * reach,
                        r.area / (4 * reach * reach), r.c_min)};
  }

 private:
  enum More : std::size_t { kLoad = kOwnPorts, kLoads, kDepth = kLoads + kMostAnchors, kTimes, kNear, kPerSpacing, kRow };

  static bool work(std::span<const double> in, AnchorLayout& a, ProjectedArea& r) {
    if (!read(in, a)) return false;
    return projected_area(a, a.is_line() ? in.subspan(kLoad, 1) : in.subspan(kLoads, kMostAnchors), {in[kDepth], in[kTimes], in[kNear], in[kPerSpacing], in[kRow]}, r);
  }

  std::vector<NativePort> inputs_ = with_layout({{"F", "lbf"}, {"F_1", "lbf"}, {"F_2", "lbf"}, {"F_3", "lbf"}, {"F_4", "lbf"}, {"F_5", "lbf"}, {"F_6", "lbf"},
                                                 {"F_7", "lbf"}, {"F_8", "lbf"}, {"h", "in"}, {"k_h", "1"}, {"n_near", "1"}, {"k_s", "1"}, {"k_row", "1"}});
  static constexpr std::array<NativePort, 12> kOutputs = {{{"h_used", "in"}, {"A", "in^2"}, {"c_min", "in"}, {"e_x", "in"}, {"e_z", "in"}, {"F_g", "lbf"}, {"n", "1"},
                                                           {"c_row", "in"}, {"c_across", "in"}, {"n_row", "1"}, {"g_row", "1"}, {"F_row", "lbf"}}};
};

class EdgeBreakoutSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "edge_breakout_area"; }
  std::span<const NativePort> inputs() const override { return inputs_; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    AnchorLayout a;
    EdgeBreakout toward, along;
    if (!work(in, a, toward, along)) return;
    std::size_t at = 0;
    for (const EdgeBreakout& b : {toward, along}) {
      const std::array values = {b.load, b.front_load, b.rows_apart, b.front.distance, b.front.area, b.front.c_side, b.front.e,
                                 b.rear.distance, b.rear.area, b.rear.c_side, b.rear.e};
      for (const double v : values) out[at++] = v;
    }
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    AnchorLayout a;
    EdgeBreakout toward, along;
    if (!work(in, a, toward, along)) return {std::string(kUnknown)};
    std::vector<std::string> lines = {where(a)};
    const auto row = [&](std::string_view name, const BreakoutRow& r) {
      lines.push_back(fmt::format("  {}: {:.3f} in from the edge, area {:.3f} in^2, nearest side {:.3f} in, load off the middle by {:.3f} in", name, r.distance, r.area, r.c_side, r.e));
    };
    const auto part = [&](std::string_view name, const EdgeBreakout& b) {
      lines.push_back(fmt::format("{}: {:.1f} lbf in all, {:.1f} lbf on the front row", name, b.load, b.front_load));
      row(b.rows_apart > 0 ? "front row" : "row", b.front);
      if (b.rows_apart > 0) row(fmt::format("rear row {:.3f} in behind", b.rows_apart), b.rear);
    };
    part("toward the edge", toward);
    part("along the edge", along);
    return lines;
  }

 private:
  enum More : std::size_t { kAcross = kOwnPorts, kDown, kAcrosses, kDowns = kAcrosses + kMostAnchors, kToward = kDowns + kMostAnchors, kThickness, kTimes, kPerSpacing, kEither, kLine };

  static bool work(std::span<const double> in, AnchorLayout& a, EdgeBreakout& toward, EdgeBreakout& along) {
    if (!read(in, a) || !(in[kToward] >= 1) || !(in[kToward] <= 4)) return false;
    const EdgeReachRule rule{static_cast<ConcreteEdge>(static_cast<int>(in[kToward])), in[kThickness], in[kTimes], in[kPerSpacing], in[kEither], in[kLine]};
    return edge_breakout(a, a.is_line() ? in.subspan(kAcross, 1) : in.subspan(kAcrosses, kMostAnchors), a.is_line() ? in.subspan(kDown, 1) : in.subspan(kDowns, kMostAnchors), rule,
                         toward, along);
  }

  std::vector<NativePort> inputs_ = with_layout({{"V_a", "lbf"}, {"V_d", "lbf"}, {"V_a_1", "lbf"}, {"V_a_2", "lbf"}, {"V_a_3", "lbf"}, {"V_a_4", "lbf"}, {"V_a_5", "lbf"}, {"V_a_6", "lbf"},
                                                 {"V_a_7", "lbf"}, {"V_a_8", "lbf"}, {"V_d_1", "lbf"}, {"V_d_2", "lbf"}, {"V_d_3", "lbf"}, {"V_d_4", "lbf"}, {"V_d_5", "lbf"},
                                                 {"V_d_6", "lbf"}, {"V_d_7", "lbf"}, {"V_d_8", "lbf"}, {"toward", "1"}, {"h_a", "in"}, {"k_c", "1"}, {"k_s", "1"}, {"either", "1"},
                                                 {"n_line", "1"}});
  static constexpr std::array<NativePort, 22> kOutputs = {
      {{"V_t", "lbf"}, {"V_t_front", "lbf"}, {"s_t", "in"}, {"c_t1", "in"}, {"A_t1", "in^2"}, {"c_t1_side", "in"}, {"e_t1", "in"}, {"c_t2", "in"}, {"A_t2", "in^2"}, {"c_t2_side", "in"},
       {"e_t2", "in"}, {"V_p", "lbf"}, {"V_p_front", "lbf"}, {"s_p", "in"}, {"c_p1", "in"}, {"A_p1", "in^2"}, {"c_p1_side", "in"}, {"e_p1", "in"}, {"c_p2", "in"}, {"A_p2", "in^2"},
       {"c_p2_side", "in"}, {"e_p2", "in"}}};
};

}  // namespace

std::unique_ptr<program::NativeSolver> projected_area_solver() { return std::make_unique<ProjectedAreaSolver>(); }
std::unique_ptr<program::NativeSolver> edge_breakout_solver() { return std::make_unique<EdgeBreakoutSolver>(); }

}  // namespace jambcheck::mechanics
