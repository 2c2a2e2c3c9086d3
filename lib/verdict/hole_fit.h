#pragma once
// Inside of holes: whether guides, brackets and coil find room beside and above the opening and on the face of the jamb,
// and whether the fasteners are of a useful length. All of it is told, none of it decides.
#include "verdict/holes.h"

namespace jambcheck::verdict {

/// H001 to H010. `links` are those of the rows of `list`, in the same order.
void tell_misfits(const opening::Opening& opening, const HoleList& list, const std::vector<const Connection*>& links, text::Diagnostics& diagnostics);

}  // namespace jambcheck::verdict
