#pragma once
// Inside of opening: `like`, the copying of one opening's facts to another.
#include "opening/model.h"

namespace jambcheck::opening {

/// Copies along every `like`. Problems: K007 no such mark, K008 a loop; notes K030 what is not copied, K031 a broken
/// original (the copy is broken too).
void copy_likes(std::vector<Opening>& openings, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
