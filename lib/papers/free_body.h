#pragma once
// The free bodies behind a check: what pushes and pulls on a guide or a bracket, drawn with its numbers.
#include <vector>

#include "document/drawing.h"
#include "rules/judge.h"
#include "verdict/check.h"

namespace jambcheck::papers {

/// A guide cut across, or a bracket from the side and from the front, in the check's load case. Forces on the hardware;
/// lengths of arrows say nothing, numbers do. Empty when the case has no such values (hardware on a board's fasteners,
/// something missing).
std::vector<document::Drawing> free_body(const verdict::CheckResult& check, const rules::RuleSet& set, rules::PlanCache& plans);

}  // namespace jambcheck::papers
