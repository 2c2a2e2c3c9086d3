#pragma once
// The leaf of one type in a package: its links, every check on a line, and the working of those that decide.
#include "document/document.h"
#include "papers/revision.h"
#include "papers/types.h"
#include "papers/working.h"

namespace jambcheck::papers {

/// Checks whose ratio is at least this share of the worst of their link are worked out beside it.
constexpr double kClose = 0.9;

/// A guide or bracket; the one at the other side where it has the same numbers all through. Where some differ, the two
/// stand apart, and `like` of the later one is the earlier.
struct Twins {
  const verdict::ConnectionResult* first = nullptr;
  const verdict::ConnectionResult* also = nullptr;
  const verdict::ConnectionResult* like = nullptr;
  const verdict::ConnectionResult* unlike = nullptr;  ///< of the earlier one the later
};

/// The guides and brackets of an opening in their order, left and right together where they are alike.
std::vector<Twins> twins_of(const verdict::OpeningResult& opening);

/// "left bracket", or "left and right bracket".
std::string name_of(const Twins& twins);

/// What decides first, then the rest: checks that are worked out in a leaf, in the order of the lines.
std::vector<const verdict::CheckResult*> deciding(const verdict::ConnectionResult& connection);

/// The address at the other side of a check: D-1/RG/L1/W1 for D-1/LG/L1/W1; "" when the sides differ.
std::string also_at(const Twins& twins, const verdict::CheckResult& check);

/// How the tables of a leaf are filled.
struct LeafOptions {
  Extent extent = Extent::deciding;
  int digits = 4;
  const Revision& revision;
  double decisive = 0;  ///< the greatest ratio of the opening's strengths
};
void add_links(const std::vector<Twins>& parts, const LeafOptions& options, document::Document& out);
void add_checks(const Twins& twins, const LeafOptions& options, document::Document& out);
void add_workings(const Twins& twins, const LeafOptions& options, Workings& workings, document::Document& out);

/// Cells that all tables of answers share.
document::Cell ratio_cell(double ratio, bool counts, bool bar);
document::Cell state_cell(rules::State state);
document::Cell strong_cell(const std::string& text, const std::string& link = "");

}  // namespace jambcheck::papers
