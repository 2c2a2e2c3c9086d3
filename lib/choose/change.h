#pragma once
// The smallest single change that lets a refused fastening in, found by trying step by step on the real checks.
#include <string>
#include <vector>

#include "choose/space.h"

namespace jambcheck::choose {

/// One field changed, everything else as given.
struct Change {
  std::string field;     ///< "guide.spacing"
  std::string now, to;   ///< on the tape, or as a project file writes it
  double ratio = 0;      ///< with the change, by the full check
  opening::Facts facts;  ///< what is written instead, by full path
  std::vector<std::string> gone;  ///< paths that go with it
};

/// The opening with that change.
opening::Opening changed(opening::Opening opening, const Change& change);

/// For each field of the part that may be changed at the jamb: the nearest value at which the part holds, no step before
/// it does. Fields that help by no value up to the last step are left out. Each is proven by a full check. Nothing for a
/// part that holds already. Lists and ranges of values must have been picked.
std::vector<Change> smallest_changes(verdict::Checker& checker, verdict::Briefs& briefs, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& opening, bool bracket, Sides sides);
/// The same with a memory of its own; `briefs` keep plans and solved plates from opening to opening.
std::vector<Change> smallest_changes(verdict::Checker& checker, const rules::RuleSet& set, const opening::Project& project, const opening::Opening& opening, bool bracket, Sides sides);

/// The values tried for a field, nearest first; for tests that try the ones before a change.
std::vector<Change> steps_of(const opening::Project& project, const rules::RuleSet& set, const opening::Opening& opening, bool bracket, Sides sides, const std::string& field);
/// Names of the fields that are tried, without the part.
std::vector<std::string> changeable(bool bracket);

}  // namespace jambcheck::choose
