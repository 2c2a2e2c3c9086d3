#pragma once
// Small pictures for the safety box of a card: drawn here, in black on white, each with its words below.
#include <string>
#include <vector>

#include "document/drawing.h"

namespace jambcheck::papers {

enum class Picture { spring, people, eyes, wires, vacuum };

/// A row of pictures, each in a frame, with up to two lines of words below it. `size` is that of a frame, in points.
document::Drawing picture_row(const std::vector<std::pair<Picture, std::vector<std::string>>>& pictures, double size, double between, double text);

}  // namespace jambcheck::papers
