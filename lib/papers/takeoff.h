#pragma once
// What to buy, what to bag for each opening, what to send in each phase: fasteners counted from the holes.
#include "document/document.h"
#include "papers/fastening.h"
#include "papers/types.h"

namespace jambcheck::papers {

/// So many of one thing at one opening; quantities of openings are counted in.
struct Use {
  std::string item;    ///< "lag screw 3/8 x 4"
  std::string kind;    ///< fastener, washer, bit
  std::string mark, phase, type, part;
  std::string data;    ///< name of the anchor data that its strength rests on
  std::size_t net = 0;
  bool holds = false;  ///< whether the opening holds as it is
};

struct Line {
  std::string item, kind, phase, data;  ///< phase empty: the whole project
  std::size_t net = 0, open = 0;        ///< `open`: of these, at openings that do not hold (yet)
  double loss = 0, spares = 0;          ///< not rounded
  std::size_t buy = 0;                  ///< rounded up, once
  std::vector<std::string> marks;
};

struct Takeoff {
  std::vector<Use> uses;
  std::vector<Line> lines;         ///< by item, of each phase or of the project
  double loss = 0, spares = 0;     ///< shares, 0.03
  bool loss_given = false, spares_given = false;
  bool by_phase = false;
  std::vector<std::string> uncounted;  ///< "C-101 left bracket: how many is not said"
};

/// Counts one opening.
void count(const Fastenings& all, const opening::Opening& opening, const std::string& type, rules::State state, Takeoff& out);
/// Sums, allowances, rounding; after all openings are counted.
void sum_up(const opening::Project& project, Takeoff& out);

document::Document takeoff_paper(const opening::Project& project, const Takeoff& takeoff, document::Paper paper);
/// One line an item, and one an opening and item.
std::vector<std::vector<std::string>> takeoff_rows(const Takeoff& takeoff);
std::vector<std::vector<std::string>> bag_rows(const Takeoff& takeoff);

}  // namespace jambcheck::papers
