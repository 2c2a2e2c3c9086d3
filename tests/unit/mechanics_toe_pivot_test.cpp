// A plate that tilts about its lower edge: the textbook pivot is the limit of a base much harder than the fasteners.
#include <gtest/gtest.h>

#include <array>

#include "mechanics/rigid_plate.h"

namespace jambcheck::mechanics {
namespace {

// Design of Machine Elements, Example 7.5: 25 kN at 100 mm, two rows of two bolts 150 and 25 mm above the edge:
// 8108.1 N on an upper bolt. Millimetres and newtons; the solver keeps no unit.
TEST(ToePivot, MachineElementsExample) {
  const RigidPlate plate{{-50, 0, 100, 175}, 1e9};
  const std::array<TensionFastener, 4> bolts = {{{{-40, 25}, 1}, {{40, 25}, 1}, {{-40, 150}, 1}, {{40, 150}, 1}}};
  PlateLoad load;
  load.Mx = 25000.0 * 100;
  load.at = plate.outline.centre();
  std::array<double, 4> tension{};
  const auto r = solve_rigid_plate(plate, bolts, load, tension);
  ASSERT_EQ(r.status, Status::ok);
  EXPECT_NEAR(tension[2], 8108.1, 1);
  EXPECT_NEAR(tension[3], 8108.1, 1);
  EXPECT_NEAR(tension[0], 8108.1 / 6, 1);
}

// The softer the base against the bolts, the higher the pivot and the larger the pull.
TEST(ToePivot, SofterBasePullsMore) {
  const std::array<TensionFastener, 4> bolts = {{{{-40, 25}, 1}, {{40, 25}, 1}, {{-40, 150}, 1}, {{40, 150}, 1}}};
  PlateLoad load;
  load.Mx = 2500000;
  load.at = {0, 87.5};
  double last = 0;
  for (const double contact : {1.0, 0.1, 0.01, 0.001}) {
    std::array<double, 4> tension{};
    ASSERT_EQ(solve_rigid_plate({{-50, 0, 100, 175}, contact}, bolts, load, tension).status, Status::ok);
    EXPECT_GT(tension[2], last);
    last = tension[2];
  }
}

}  // namespace
}  // namespace jambcheck::mechanics
