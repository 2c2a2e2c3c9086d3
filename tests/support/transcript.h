#pragma once
// Files of commands with what they must print:
//   # what this shows
//   $ jambcheck length 8
//   output lines; those of standard error begin with "2> " and follow those of standard output
//   [exit 3]
// $T is an empty scratch folder, one a file; its name is printed as $T.
#include <string>

namespace jambcheck::test {

/// Runs every command of `text` again and returns the transcript as it is now; `text` itself when nothing changed.
std::string replay(const std::string& text);

/// Makes a test named after `path` that replays it; with `accept` it rewrites the file instead.
void register_transcript(const std::string& suite, const std::string& path, bool accept);

}  // namespace jambcheck::test
