#pragma once
// The layout of holes as a table to read at the jamb, as JSON (holes/1) and as rows of comma-separated values.
#include <string>

#include "verdict/holes.h"

namespace jambcheck::papers {

std::string holes_text(const verdict::HoleList& list);
std::string holes_json(const verdict::HoleList& list);
/// One row a hole; lengths in in, empty where not known.
std::string holes_csv(const verdict::HoleList& list);

}  // namespace jambcheck::papers
