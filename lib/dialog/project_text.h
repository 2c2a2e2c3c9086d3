#pragma once
// A project file of one opening, written from single values.
#include <string>
#include <vector>

#include "opening/written.h"

namespace jambcheck::dialog {

struct ProjectText {
  std::vector<opening::Written> values;
  std::string head;       ///< remarks at the top, without the #
  bool remarks = false;   ///< what each field is, behind its value
};

/// The file's text. Fields stand in the order of the list of fields; a fastener in words that has fields of its own below
/// it is parted into kind, diameter and length.
std::string write_project(const ProjectText& project, const rules::RuleSet& rules);

}  // namespace jambcheck::dialog
