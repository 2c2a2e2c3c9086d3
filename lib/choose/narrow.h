#pragma once
// A space made smaller by the one who looks: what is in the van, or at the counter.
#include <string>
#include <utility>
#include <vector>

#include "choose/prices.h"
#include "choose/space.h"

namespace jambcheck::choose {

/// Sizes that count, in inches, both ends too.
using Sizes = std::vector<std::pair<double, double>>;

/// What is left in the space. An empty list leaves all.
struct Narrow {
  std::vector<std::string> kinds;  ///< as the tables write them: lag_screw
  Sizes sizes;                     ///< nominal diameters
  Sizes lengths;                   ///< as they are bought
  Sizes spacings;                  ///< of a guide; the guide's own holes and brackets have none
  bool priced = false;             ///< only what the price list has
  [[nodiscard]] bool any() const {
    return !kinds.empty() || !sizes.empty() || !lengths.empty() || !spacings.empty() || priced;
  }
};

/// Takes the rest out of the space and notes how much is left, so that nobody takes it for all there is.
void narrow(Space& space, const Narrow& narrow, const Prices& prices);

/// The kind as the tables write it. Problem: L035, with the kinds that are tried somewhere.
units::Expected<std::string> kind_named(const rules::RuleSet& set, std::string_view text);
/// "3/8", "#10", "10 mm", "1/4..1/2"; a number without a unit is inches. Problem: L036, its option left empty.
units::Expected<std::pair<double, double>> size_or_range(const rules::RuleSet& set, std::string_view text);

}  // namespace jambcheck::choose
