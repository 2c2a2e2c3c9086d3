#pragma once
// Types of fastening under the letters of a file that is kept from run to run.
#include <string>
#include <vector>

#include "cli/context.h"
#include "papers/types.h"

namespace jambcheck::cli {

/// The file gets letters that are new; "" keeps none. When it can't be read it is left as it is, the reason is told, and
/// false comes back.
bool types_by_letters(Context& context, const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::string& file, std::vector<papers::Type>& types);

}  // namespace jambcheck::cli
