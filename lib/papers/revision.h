#pragma once
// What a package changes against an older one: the letter for the margin, what it stands beside, and the list of changes.
#include <map>
#include <set>
#include <string>
#include <vector>

#include "verdict/check.h"

namespace jambcheck::papers {

struct Change {
  std::string where;   ///< mark or address; "project"
  std::string what;    ///< field, "ratio", "state", "question"
  std::string before, after;
  std::string anchor;  ///< where the package shows it; empty: nowhere
};

struct Revision {
  std::string letter;   ///< empty: nothing older was given
  std::string against;  ///< the older file as named
  std::set<std::string> marks;      ///< openings whose answer or input changed
  std::set<std::string> inputs;     ///< those whose input changed; "project"
  std::set<std::string> addresses;  ///< checks with another state, demand, capacity, ratio or load case
  std::vector<Change> changes;
  [[nodiscard]] std::string at_mark(const std::string& mark) const { return marks.count(mark) != 0 ? letter : ""; }
  [[nodiscard]] std::string at_input(const std::string& mark) const { return inputs.count(mark) != 0 ? letter : ""; }
  [[nodiscard]] std::string at(const std::string& address) const { return addresses.count(address) != 0 ? letter : ""; }
};

/// One of the two states of a project.
struct RevisionSide {
  const opening::Project& project;
  const std::vector<verdict::OpeningResult>& results;
};

/// The letter is project.revision of `now`, at most three characters; "*" where it has none or the same as `before`.
Revision revision_of(const RevisionSide& before, const RevisionSide& now, const std::string& against);

}  // namespace jambcheck::papers
