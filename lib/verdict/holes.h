#pragma once
// The layout of an opening: where every hole really falls, what is drilled and how long the fasteners are. For tables at
// the jamb and for drawings; nothing here decides whether a fastening holds. Lengths in in, NaN where not known.
#include <limits>
#include <string>
#include <vector>

#include "text/diagnostic.h"
#include "verdict/check.h"

namespace jambcheck::verdict {

constexpr double kNotKnown = std::numeric_limits<double>::quiet_NaN();

struct Hole {
  std::string name;              ///< LG-1, counted from below; on one level from the edge at the opening
  double height = kNotKnown;       ///< above the floor
  double above_lowest = kNotKnown; ///< above the lowest hole of its row
  double across = kNotKnown;       ///< from the left edge of the opening, + to the right, seen from the side of the door
  double edge = kNotKnown;         ///< to the edge that `edge` is measured to: that at the opening
  double other_edge = kNotKnown;
  double end_below = kNotKnown, end_above = kNotKnown;  ///< to the ends of the jamb or board
  double neighbour = kNotKnown;    ///< to the nearest hole of its side and link
  std::string neighbour_name;
  double joint = kNotKnown;        ///< to the nearest head joint
};

/// One bit and how deep it goes.
struct Bit {
  std::string what;           ///< thread, shank, through, anchor
  double diameter = kNotKnown;  ///< of a stock bit; NaN when none lies between least and most
  double least = kNotKnown, most = kNotKnown;  ///< what the rule allows; NaN: as the data say
  double depth = kNotKnown;     ///< NaN: through, or as deep as the fastener
};

struct Drill {
  std::vector<Bit> bits;      ///< none where nothing is drilled, or nothing is known: `say` tells
  std::string say;
  bool from_head = false;     ///< depths are from under the head, else from the face of the wall
  double torque = kNotKnown;    ///< in-lbf; only from the anchor's data
};

/// Length of the fastener against what lies in front of the jamb and what must hold.
struct FastenerLength {
  double given = kNotKnown;
  double plate = kNotKnown, gap = kNotKnown;  ///< what holds nothing
  double least = kNotKnown;     ///< of an anchor: its embedment and what lies in front of the wall
  double reaches = kNotKnown;   ///< shortest stock length that is as deep as the rules ask
  double holds = kNotKnown;     ///< shortest stock length with which this link holds
  double longest = kNotKnown;   ///< of the stock; NaN: no stock lengths of this kind are known
  bool in_stock = false;      ///< the given one is a stock length
  bool deep_enough = true;    ///< the given one is as deep as the rules ask
};

/// The holes of one link of one guide or bracket, or of one board.
struct HoleRow {
  std::string id;         ///< LG; LK the left board
  std::string link_id;    ///< L1, L2
  std::string name, link; ///< "left guide", "guide to jamb"
  std::string fastener;
  opening::Side side = opening::Side::left;
  std::size_t count = 0;  ///< of fasteners; 0: not known
  std::vector<Hole> holes;
  double jamb_width = kNotKnown;
  Drill drill;
  FastenerLength length;
};

/// Widths across the opening.
struct Across {
  double opening = kNotKnown, height = kNotKnown;
  double curtain = kNotKnown;
  double guides_least = kNotKnown, guides_most = kNotKnown;  ///< outside to outside, by the trade's rule
  double guides = kNotKnown;  ///< the same by the edge distances that the holes have
};

struct HoleList {
  std::string mark;
  bool face_mounted = true;
  bool metric = false;     ///< the opening's size was written in metric units
  Across across;
  std::vector<HoleRow> rows;  ///< LG, RG, LK, RK, LB, RB; what is not there is left out
  std::vector<Assumed> assumed;
  std::vector<std::string> missing;  ///< fields without which something here is not known
};

/// On the tape where it is a sixteenth, else in inches; in metric openings in mm.
std::string as_measured(double in, bool metric);

/// Whether other lengths are tried on the checks, which takes a run a length: lists of hundreds of openings do without.
enum class Lengths { tried, left_out };

/// Of an opening that leaves nothing to choose. Misfits are told as warnings (H001 to H009); `checker` tries lengths.
HoleList hole_list(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Checker& checker,
                   text::Diagnostics& diagnostics, Lengths lengths = Lengths::tried);

}  // namespace jambcheck::verdict
