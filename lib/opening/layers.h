#pragma once
// Layers on the jamb that hold nothing: their sum is the gap between hardware and jamb.
#include "opening/model.h"

namespace jambcheck::opening {

/// Fills `gap` from `jamb.layers` where it is not given. K049 where both are given and differ.
void gap_from_layers(Opening& opening, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
