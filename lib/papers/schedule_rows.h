#pragma once
// The schedule as rows: openings, types, what is missing, and components as building models exchange them.
#include <functional>
#include <map>

#include "papers/grid.h"
#include "papers/fastening.h"
#include "papers/schedule.h"

namespace jambcheck::papers {

/// Columns of the user's own schedule that are no fields, and their cells by mark.
struct OwnColumns {
  std::vector<std::string> heads;
  std::map<std::string, std::vector<std::string>> cells;
};

/// The project that counts for an opening: rows of a schedule may have their own wind.
using ProjectOf = std::function<const opening::Project&(const opening::Opening&)>;
using FasteningsOf = std::function<const Fastenings*(const opening::Opening&)>;

struct ScheduleInput {
  const opening::Project& project;
  const std::vector<Type>& types;
  std::vector<std::string> not_read;
  OwnColumns own;
  ProjectOf project_of;
  FasteningsOf fastenings_of;  ///< null where they are not known
};

/// One row an opening in the order of the file; the user's own columns stand at the right as they are.
Grid opening_grid(const ScheduleInput& input);
Grid type_grid(const ScheduleInput& input);
Grid missing_grid(const ScheduleInput& input);
/// Name, TypeName, Space, ExtIdentifier, as open exchange sheets for components have them.
Grid component_grid(const ScheduleInput& input);

}  // namespace jambcheck::papers
