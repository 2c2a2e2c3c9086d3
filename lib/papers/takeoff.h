#pragma once
// What to buy, what to bag for each opening, what to send in each phase: fasteners counted from the holes, and what else
// the same count asks for.
#include <limits>
#include <map>

#include "choose/prices.h"
#include "papers/fastening.h"
#include "papers/types.h"

namespace jambcheck::papers {

/// Goods are counted in pieces: fasteners, washers, screen tubes, shims. What is used up is counted by what uses it: bits
/// and vacuum bags by holes, adhesive by volume (in3), the puller by anchors.
enum class Good { fastener, washer, screen_tube, shim, bit, adhesive, vacuum_bag, puller_day };
bool in_pieces(Good good);
std::string_view word(Good good);  ///< "screen tube"

/// So much of one thing at one opening; quantities of openings are counted in.
struct Use {
  Good good = Good::fastener;
  std::string item;  ///< "lag screw 3/8 x 4"
  std::string key;   ///< its name in a price list
  std::string mark, phase, floor, type, part;
  std::string data;      ///< name of the anchor data that its strength rests on
  std::string strength;  ///< edition of the standard that its strength comes from
  std::string coating;
  double diameter = std::numeric_limits<double>::quiet_NaN(), length = std::numeric_limits<double>::quiet_NaN();  ///< in
  double net = 0;
  bool holds = false;  ///< whether the opening holds as it is
};

struct Line {
  Use what;               ///< its mark and part say nothing
  std::string phase;      ///< empty: the whole project
  double net = 0, open = 0;  ///< `open`: of these, at openings that do not hold (yet)
  double loss = 0, spares = 0, waste = 0;  ///< not rounded
  double pieces = std::numeric_limits<double>::quiet_NaN();  ///< not rounded; NaN: an input is missing, see `why_not`
  choose::Supply supply;
  double packs = std::numeric_limits<double>::quiet_NaN();   ///< whole; NaN: the size of a pack is not known
  double buy = std::numeric_limits<double>::quiet_NaN();     ///< rounded up, once
  double left_over = std::numeric_limits<double>::quiet_NaN();
  double cost = std::numeric_limits<double>::quiet_NaN();
  std::string why_not;
  std::vector<std::string> marks;
};

struct Takeoff {
  std::vector<Use> uses;
  std::vector<Line> lines;  ///< of each phase or of the project
  double loss = 0, spares = 0, waste = 0;  ///< shares, 0.03
  bool loss_given = false, spares_given = false, waste_given = false;
  bool by_phase = false;
  bool priced = false, packed = false;     ///< the price list says prices, packs
  /// "C-101 left bracket: how many is not said", then goods of the count that can't be counted, each with its reason.
  std::vector<std::string> uncounted;
  std::map<std::string, std::vector<std::string>> open_goods;  ///< reason to marks
};

/// Counts one opening.
void count(const Fastenings& all, const opening::Project& project, const opening::Opening& opening, const std::string& type, const verdict::OpeningResult& result, Takeoff& out);
/// Sums, allowances, packs, prices; after all openings are counted.
void sum_up(const opening::Project& project, const choose::Prices& prices, Takeoff& out);

/// Twelve marks, and how many more there are.
std::string join_some(const std::vector<std::string>& marks);

}  // namespace jambcheck::papers
