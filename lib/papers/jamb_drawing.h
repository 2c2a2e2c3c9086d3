#pragma once
// Drawings of a jamb for the card: seen from the front with a running tape, and cut at one fastener of the guide.
#include "document/drawing.h"
#include "papers/card_words.h"
#include "papers/fastening.h"

namespace jambcheck::papers {

enum class Sides { left, right, both };

struct DrawingRoom {
  double width, height;
  double text = 9;  ///< size of words
};

/// To scale, one running tape from the finished floor; both jambs when they differ or are both asked for.
/// `no_drill` is the least distance of a hole from the edge at the opening; NaN: the one that is drawn.
document::Drawing elevation(const Fastenings& all, const std::string& jamb_kind, Sides sides, double no_drill, const CardWords& words, const DrawingRoom& room);

/// Metal, gap, board and jamb, with the fastener in it. `scale_name` is told back: "1:2".
document::Drawing section(const Fastening& guide, const std::string& jamb_kind, double no_drill, bool metric, const CardWords& words, const DrawingRoom& room, std::string& scale_name);

document::Hatch hatch_of(const std::string& base, const std::string& jamb_kind);

}  // namespace jambcheck::papers
