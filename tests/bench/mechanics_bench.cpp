// Time of a solve: fastener group, rigid plate, bending plate, beam, areas of concrete. Prints the least of several rounds.
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <vector>

#include "mechanics/beam_on_fasteners.h"
#include "mechanics/edge_breakout.h"
#include "mechanics/fastener_group.h"
#include "mechanics/flexible_plate.h"
#include "mechanics/projected_area.h"
#include "mechanics/rigid_plate.h"

namespace {

using namespace jambcheck::mechanics;

double sink = 0;  // keeps the work from being thought away

template <class Work>
void print_time(const char* name, int calls, const Work& work) {
  double least = 1e9;
  for (int round = 0; round < 5; ++round) {
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < calls; ++i) sink += work(i);
    const std::chrono::duration<double, std::micro> taken = std::chrono::steady_clock::now() - start;
    least = std::min(least, taken.count() / calls);
  }
  std::printf("%-46s %9.2f us\n", name, least);
}

const std::array<TensionFastener, 4> kFour = {
    {{{-2, -3}, 150000}, {{2, -3}, 150000}, {{2, 3}, 150000}, {{-2, 3}, 150000}}};
const std::array<PlateLoad, 3> kLoads = {{{0, 4000, 0, {}}, {1000, 0, 0, {}}, {500, 3000, 1000, {}}}};

void time_group() {
  std::array<Point, 4> at;
  std::transform(kFour.begin(), kFour.end(), at.begin(), [](const TensionFastener& f) { return f.at; });
  std::array<Shear, 4> shear;
  print_time("fastener group, 4", 100000, [&](int i) {
    solve_fastener_group(at, {1.0 * i, 50, 300, {}}, shear);
    return shear[0].x;
  });
}

void time_rigid(const char* name, double base_modulus) {
  std::array<double, 4> T{};
  print_time(name, 3000, [&](int i) {
    return solve_rigid_plate({{-3, -4, 6, 8}, base_modulus}, kFour, kLoads[static_cast<std::size_t>(i) % 3], T)
        .residual;
  });
}

void time_flexible(const char* name, double thickness, double base_modulus, double element_size) {
  FlexiblePlate plate{{-3, -4, 6, 8}, thickness, 29e6, 0.3, base_modulus, 0.5, 2, 2, element_size};
  FlexiblePlateScratch scratch;
  std::array<double, 4> T{};
  print_time(name, element_size > 0 && element_size < 0.5 ? 3 : 30, [&](int i) {
    return solve_flexible_plate(plate, kFour, kLoads[static_cast<std::size_t>(i) % 3], T, scratch).residual;
  });
}

void time_beam(const char* name, std::size_t supports) {
  std::vector<BeamSupport> at;
  for (std::size_t i = 0; i < supports; ++i) {
    at.push_back({3 + 90.0 * static_cast<double>(i) / static_cast<double>(supports - 1), 1e5});
  }
  const std::array<UniformLoad, 1> uniform = {{{0, 96, 10}}};
  std::vector<double> R(supports), w(supports);
  BeamScratch scratch;
  print_time(name, 2000, [&](int) { return solve_beam({96, 906250, at, uniform, {}}, {R, w}, scratch).residual; });
}

void time_concrete() {
  AnchorLayout a;
  a.count = 8;
  for (std::size_t i = 0; i < 8; ++i) a.at[i] = {i % 2 == 0 ? -2.0 : 2.0, 3.0 * static_cast<double>(i / 2)};
  a.edge = 3, a.other = 20, a.end = 6;
  const std::array<double, 8> load = {500, 400, 300, 200, 100, 80, 60, 40};
  ProjectedArea area;
  print_time("concrete cone, 8 anchors", 100000, [&](int i) {
    projected_area(a, load, {3 + 1e-6 * i, 1.5, 3, 3, 6}, area);
    return area.area;
  });
  EdgeBreakout toward, along;
  print_time("concrete edge, 8 anchors", 100000, [&](int i) {
    edge_breakout(a, load, load, {ConcreteEdge::loaded, 6 + 1e-6 * i, 1.5, 3, 0, 1}, toward, along);
    return toward.front.area;
  });
}

}  // namespace

int main() {
  time_group();
  time_rigid("rigid plate, base 5e5 lbf/in^3", 5e5);
  time_rigid("rigid plate, base 4e4", 4e4);
  time_flexible("bending plate 1/4 in, base 5e5", 0.25, 5e5, 0);
  time_flexible("bending plate 1/2 in, base 4e4", 0.5, 4e4, 0);
  time_flexible("bending plate 1/4 in, base 5e5, 1/2 in mesh", 0.25, 5e5, 0.5);
  time_beam("beam on 6", 6);
  time_beam("beam on 20", 20);
  time_concrete();
  return sink == 0.123456789 ? 1 : 0;
}
