#pragma once
// Inside of holes: how long a fastener must be. Every answer is one of the rules: lengths of the stock are tried.
#include "verdict/holes.h"
#include "verdict/key_values.h"

namespace jambcheck::verdict {

/// `link` belongs to `opening`; the fastener's fields stand below `path` ("guide.fastener").
FastenerLength fastener_length(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Checker& checker,
                               const Connection& link, opening::Side side, bool bracket, const std::string& path);

}  // namespace jambcheck::verdict
