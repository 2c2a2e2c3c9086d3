#pragma once
// A whole schedule as one project, for papers about all of its openings at once.
#include <deque>
#include <istream>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "schedule/run.h"

namespace jambcheck::schedule {

struct Gathered {
  opening::Project project;  ///< what the base says, with the rows as its openings
  /// For rows that say something of site or building: the project with it. By mark; others have the base's own.
  std::map<std::string, std::shared_ptr<const opening::Project>> shared;
  std::vector<std::string> own_heads;  ///< columns that are no fields
  std::map<std::string, std::vector<std::string>> own;  ///< their cells as they stand, by mark
  std::vector<std::string> not_read;   ///< marks, or "row 12"
  std::deque<Row> rows;                ///< places of the openings point into them
};

/// Reads without checking. Problems of rows go to `diagnostics` too; empty when the head can't be used.
std::unique_ptr<Gathered> gather(std::istream& in, const std::string& name, const Mapping& mapping, const opening::Project& base, const rules::RuleSet& set,
                                 text::SourceSet& sources, text::Diagnostics& diagnostics);

}  // namespace jambcheck::schedule
