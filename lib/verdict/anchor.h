#pragma once
// What the anchor data that a fastener names say in its case: the keys anchor.* .
#include <string>
#include <utility>
#include <vector>

#include "opening/model.h"
#include "rules/judge.h"

namespace jambcheck::verdict {

struct AnchorKeys {
  std::vector<std::pair<std::string, opening::Fact>> keys;
  std::string note;  ///< whose figures they are; empty without data
};

/// The keys for the fastener with that path ("guide.fastener"), whose case so far is `values`. Nothing where the base is
/// neither concrete nor masonry. A fastener that names no data has none taken for it, even if only one file would do.
AnchorKeys anchor_keys(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set,
                       opening::Side side, const std::string& fastener, const rules::Case& values);

}  // namespace jambcheck::verdict
