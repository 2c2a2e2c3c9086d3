#include "mechanics/masonry_area_solver.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "mechanics/masonry_area.h"

namespace jambcheck::mechanics {
namespace {

using program::NativePort;

constexpr std::size_t kMost = 8;  // anchors of a bracket
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

enum Port : std::size_t {
  kIndex,
  kCount,
  kHoles,
  kSpacing = kHoles + 2 * kMost,
  kEmbedment,
  kEdge,
  kOther,
  kEnd,
  kDepth,
  kBeside
};

bool read(std::span<const double> in, MasonryAnchors& a) {
  if (std::isnan(in[kCount])) {
    if (!(in[kSpacing] > 0)) return false;
    a.line_spacing = in[kSpacing];
    a.at = {{0, 0}};
  } else {
    if (!(in[kIndex] >= 1) || !(in[kCount] >= in[kIndex]) || in[kCount] > static_cast<double>(kMost)) return false;
    a.index = static_cast<std::size_t>(in[kIndex]) - 1;
    for (std::size_t i = 0; i < static_cast<std::size_t>(in[kCount]); ++i)
      a.at.push_back({in[kHoles + 2 * i], in[kHoles + 2 * i + 1]});
  }
  a.embedment = in[kEmbedment];
  a.edge = in[kEdge];
  a.other = in[kOther];
  a.end = in[kEnd];
  a.depth = in[kDepth];
  a.open_beside = in[kBeside];
  return true;
}

class MasonryAreaSolver final : public program::NativeSolver {
 public:
  std::string_view name() const override { return "masonry_area"; }
  std::span<const NativePort> inputs() const override { return kInputs; }
  std::span<const NativePort> outputs() const override { return kOutputs; }

  void solve(std::span<const double> in, std::span<double> out) const override {
    std::fill(out.begin(), out.end(), kNone);
    MasonryAnchors a;
    MasonryAreas r;
    if (!read(in, a) || !masonry_areas(a, r)) return;
    const std::array values = {r.tension,       r.toward.distance, r.toward.area, r.away.distance, r.away.area,
                               r.down.distance, r.down.area,       r.up.distance, r.up.area};
    std::copy(values.begin(), values.end(), out.begin());
  }

  std::vector<std::string> explain(std::span<const double> in) const override {
    MasonryAnchors a;
    MasonryAreas r;
    if (!read(in, a) || !masonry_areas(a, r))
      return {"places, edges, end, depth or embedment of the anchors are not fully known"};
    std::vector<std::string> lines;
    if (a.line_spacing > 0)
      lines.push_back(fmt::format("one anchor of a line, neighbours every {:.3f} in", a.line_spacing));
    else
      lines.push_back(fmt::format("anchor {} of {} at x {:.3f}, z {:.3f} in", a.index + 1, a.at.size(), a.at[a.index].x,
                                  a.at[a.index].z));
    lines.push_back(
        fmt::format("cone of a pull: full circle {:.3f} in^2, what is there and no other anchor's {:.3f} in^2",
                    std::numbers::pi * a.embedment * a.embedment, r.tension));
    const auto line = [&](std::string_view side, const ShearArea& s) {
      if (std::isnan(s.area)) return;
      lines.push_back(fmt::format("{}: {:.3f} in, full half circle {:.3f} in^2, what is there {:.3f} in^2", side,
                                  s.distance, std::numbers::pi * s.distance * s.distance / 2, s.area));
    };
    line("toward the edge", r.toward);
    line("toward the other edge", r.away);
    line("down to the end", r.down);
    line("up to the end", r.up);
    lines.push_back(
        fmt::format("cut by: wall {:.3f} in deep, open cells {:.3f} in beside, lines half-way to neighbours", a.depth,
                    a.open_beside));
    return lines;
  }

 private:
  static constexpr std::array<NativePort, kBeside + 1> kInputs = {
      {{"hole_index", "1"}, {"hole_count", "1"},  {"x_1", "in"}, {"z_1", "in"},    {"x_2", "in"},
       {"z_2", "in"},       {"x_3", "in"},        {"z_3", "in"}, {"x_4", "in"},    {"z_4", "in"},
       {"x_5", "in"},       {"z_5", "in"},        {"x_6", "in"}, {"z_6", "in"},    {"x_7", "in"},
       {"z_7", "in"},       {"x_8", "in"},        {"z_8", "in"}, {"s_line", "in"}, {"l_b", "in"},
       {"edge", "in"},      {"edge_other", "in"}, {"end", "in"}, {"h_m", "in"},    {"open_beside", "in"}}};
  static constexpr std::array<NativePort, 9> kOutputs = {{{"A_pt", "in^2"},
                                                          {"l_be", "in"},
                                                          {"A_pv", "in^2"},
                                                          {"l_be_other", "in"},
                                                          {"A_pv_other", "in^2"},
                                                          {"l_be_down", "in"},
                                                          {"A_pv_down", "in^2"},
                                                          {"l_be_up", "in"},
                                                          {"A_pv_up", "in^2"}}};
};

}  // namespace

std::unique_ptr<program::NativeSolver> masonry_area_solver() { return std::make_unique<MasonryAreaSolver>(); }

}  // namespace jambcheck::mechanics
