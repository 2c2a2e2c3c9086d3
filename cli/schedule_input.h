#pragma once
// Schedules as input: what stands once for all rows, and opening the file.
#include <fstream>
#include <optional>
#include <string>

#include "cli/context.h"
#include "opening/model.h"
#include "schedule/mapping.h"

namespace jambcheck::cli {

/// What stands once for all rows: the base project, or an empty one.
struct SharedByRows {
  schedule::Mapping mapping;
  opening::Project base;
};

/// Reads mapping file and base project, either of which may be missing (""). Problems are told.
std::optional<SharedByRows> read_shared(Context& context, const rules::RuleSet& set, const std::string& map, const std::string& base, Exit& problem);

/// Opens the schedule; tells why when it can't.
bool open_schedule(Context& context, const std::string& file, std::ifstream& in);

}  // namespace jambcheck::cli
