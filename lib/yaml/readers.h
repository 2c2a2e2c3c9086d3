#pragma once
// Inside of yaml: the two readers behind parse(). Rules are many, and most of a cold start is reading them.
#include <optional>
#include <vector>

#include "yaml/node.h"

namespace jambcheck::yaml {

/// Reads the plain part of YAML that our files are written in: block and flow maps and lists, texts on one line, comments.
/// Empty for everything else, right or wrong: the full reader has the word then. Where it answers, it answers as that
/// one does, places included; a test compares them.
std::optional<Node> read_plain(const text::SourceFile& file);

/// All of YAML that is read here at all.
std::vector<Node> read_full(const text::SourceFile& file, text::Diagnostics& diagnostics);

}  // namespace jambcheck::yaml
