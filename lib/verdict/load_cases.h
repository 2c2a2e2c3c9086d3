#pragma once
// Inside of verdict: the load cases of a guide or bracket, from the combinations of the method, the wind's direction, the
// state of the door and the fastener whose turn it is.
#include <string>
#include <vector>

#include "verdict/connection.h"
#include "verdict/key_writer.h"

namespace jambcheck::verdict {

struct LoadCaseWish {
  bool bracket = false;
  const std::string& method;          ///< ASD or LRFD; empty when the project names none
  bool earthquake = false;            ///< counted
  const std::vector<double>& shares;  ///< of the spring torque, one or several to be tried
  bool first_only = false;            ///< the first alone will do
};

/// Adds them, and what was assumed for them, to a connection whose `turns` are known.
void add_load_cases(const KeyWriter& keys, const LoadCaseWish& wish, Connection& out);

}  // namespace jambcheck::verdict
