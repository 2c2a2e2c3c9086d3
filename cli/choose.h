#pragma once
// What the commands that look for fastenings share.
#include <optional>
#include <string>

#include "choose/finder.h"
#include "cli/context.h"
#include "opening/model.h"

namespace jambcheck::cli {

/// The project's price list, or an empty one; nothing, and told, when there is one that can't be read.
std::optional<choose::Prices> prices_of(Context& context, const opening::Project& project);

choose::Sides sides_of(const std::string& word);

}  // namespace jambcheck::cli
