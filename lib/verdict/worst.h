#pragma once
// Inside of verdict: the worst of the load cases of one check, and the next. The order of load cases stands here only.
#include <cmath>
#include <limits>

#include "verdict/demand.h"

namespace jambcheck::verdict {

struct Worst {
  bool any = false;
  std::size_t lane = 0;  ///< the load case
  rules::State state = rules::State::not_applicable;
  double ratio = std::numeric_limits<double>::quiet_NaN();
  double next_ratio = std::numeric_limits<double>::quiet_NaN();  ///< of the load case next to it; NaN: none
  std::size_t next = 0;
  bool by_ratio = true;  ///< in every load case the ratio alone said the state: nothing recorded, nothing open or missing

  [[nodiscard]] bool gives_way(rules::State s, double r) const {
    if (!any) return true;
    if (s != state) return s > state;
    if (std::isnan(r) || std::isnan(ratio)) return std::isnan(r) && !std::isnan(ratio);
    return r > ratio * kTie;
  }
  void take(std::size_t at, rules::State s, double r) {
    if (gives_way(s, r)) {
      next = lane;
      next_ratio = any ? ratio : std::numeric_limits<double>::quiet_NaN();
      any = true;
      lane = at;
      state = s;
      ratio = r;
    } else if (!std::isnan(r) && (std::isnan(next_ratio) || r > next_ratio)) {
      next = at;
      next_ratio = r;
    }
  }
};

}  // namespace jambcheck::verdict
