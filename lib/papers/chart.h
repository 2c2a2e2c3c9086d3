#pragma once
// Curves on two axes, black on white, and the two that a package shows of a type.
#include <optional>
#include <string>
#include <vector>

#include "document/drawing.h"
#include "papers/types.h"
#include "rules/rule_set.h"

namespace jambcheck::papers {

struct Curve {
  std::string name;
  std::vector<document::Point> points;  ///< in the units of the axes
  bool dashed = false;
};

struct Axes {
  std::string title;
  std::string x_name, y_name;           ///< with units
  std::string x_first, x_last;          ///< words at the ends of x; empty: the numbers
};

/// Curves with a disc at each point that was worked out; `chosen`: a ring around the point that is built.
document::Drawing chart(const Axes& axes, const std::vector<Curve>& curves, std::optional<document::Point> chosen);

/// Moments on the left bracket, or the right one, door closed and door open; without shapes when they are not known.
document::Drawing travel_chart(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, verdict::Checker& checker);

/// Capacity of the check that decides at the guide or bracket over the distance from the edge, by runs of the check; without
/// shapes where it does not hang on that distance.
document::Drawing edge_chart(const opening::Project& project, const opening::Opening& opening, const verdict::ConnectionResult& connection, verdict::Checker& checker);

}  // namespace jambcheck::papers
