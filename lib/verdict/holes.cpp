#include "verdict/holes.h"

#include <algorithm>
#include <cmath>

#include "text/number.h"
#include "units/quantity.h"
#include "verdict/demand.h"
#include "verdict/drills.h"
#include "verdict/fastener_length.h"
#include "verdict/hole_fit.h"
#include "verdict/hole_places.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;
using opening::Side;

constexpr char kBoard = 'K';  // LK: the left board

class Lister {
 public:
  Lister(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Checker& checker, Lengths lengths)
      : project_(project), opening_(opening), set_(set), checker_(checker), lengths_(lengths), links_(connections(project, opening, set, lengths == Lengths::tried ? Cases::all : Cases::first)) {}

  HoleList list(text::Diagnostics& diagnostics) {
    start();
    // From the floor up, as they are marked out; the board under both hardware is listed once.
    for (const bool bracket : {false, true})
      for (const char* link_id : {"L1", "L2"})
        for (const Side side : {Side::left, Side::right}) add(side, bracket, link_id);
    add_outside();
    find_neighbours(out_);
    tell_misfits(opening_, out_, of_rows_, diagnostics);
    return std::move(out_);
  }

 private:
  double number(const char* path) const {
    const Fact* f = opening::fact(opening_.facts, path);
    return f && !f->unknown && f->kind == Fact::Kind::number ? f->value : kNotKnown;
  }
  void start() {
    out_.mark = opening_.mark;
    const Fact* mount = opening::fact(opening_.facts, "mount");
    out_.face_mounted = !mount || mount->unknown || mount->word != "between";
    const Fact* width = opening::fact(opening_.facts, "width");
    out_.metric = width && (width->shown.name == "mm" || width->shown.name == "cm" || width->shown.name == "m");
    out_.across.opening = number("width");
    out_.across.height = number("height");
    if (!mount) miss("mount");
  }
  void miss(const char* path) { out_.missing.emplace_back(path); }
  const Connection* link_of(Side side, bool bracket, std::string_view link_id) const {
    const std::string id = std::string(side == Side::left ? "L" : "R") + (bracket ? "B" : "G");
    const auto it = std::find_if(links_.begin(), links_.end(), [&](const Connection& c) { return c.id == id && c.link_id == link_id; });
    return it == links_.end() ? nullptr : &*it;
  }
  void add(Side side, bool bracket, const std::string& link_id) {
    const Connection* link = link_of(side, bracket, link_id);
    const bool board = link_id == "L2";
    if (!link || (board && bracket)) return;
    HoleRow row;
    row.side = side;
    row.link_id = link_id;
    row.id = board ? std::string(side == Side::left ? "L" : "R") + kBoard : link->id;
    row.name = board ? std::string(opening::word(side)) + " board" : link->name;
    row.link = link->link;
    row.fastener = link->fastener;
    // The board's own edge counts for its own fasteners.
    row.jamb_width = key_values(set_, checker_.plans(), merged(*link, link->cases.front()), {board ? "side.width" : "member.width"}).begin()->second;
    const PlaceInput in{opening_, set_, checker_.plans(), *link, side, bracket, out_};
    if (board) place_board(in, row);
    else if (bracket) place_bracket(in, row);
    else place_guide(in, row);
    row.drill = drill_for(set_, checker_.plans(), *link);
    const std::string path = board ? "buck.fastener" : bracket ? "bracket.fastener" : "guide.fastener";
    if (lengths_ == Lengths::tried) row.length = fastener_length(project_, opening_, set_, checker_, *link, side, bracket, path);
    out_.rows.push_back(std::move(row));
    of_rows_.push_back(link);
  }
  /// Curtain and guides by the trade's rule, and the guides as their holes put them.
  void add_outside() {
    const Connection* left = link_of(Side::left, false, "L1");
    const Connection* right = link_of(Side::right, false, "L1");
    const auto widths = key_values(set_, checker_.plans(), merged(*left, left->cases.front()), {"door.curtain_width", "guide.outside_least", "guide.outside_most"});
    Across& a = out_.across;
    a.curtain = widths.at("door.curtain_width");
    if (!opening::fact(opening_.facts, "door.curtain_width") && !std::isnan(a.curtain))
      out_.assumed.push_back({"door.curtain_width", as_measured(a.curtain, out_.metric), "by the clear width; common practice, no source", {"opening"}, {}});
    if (!out_.face_mounted) return;
    a.guides_least = widths.at("guide.outside_least");
    a.guides_most = widths.at("guide.outside_most");
    if (!std::isnan(a.guides_least)) out_.assumed.push_back({"guide.outside", as_measured(a.guides_least, out_.metric) + " to " + as_measured(a.guides_most, out_.metric), "by the curtain; common practice, no source", {"opening"}, {}});
    a.guides = a.opening + reach(Side::left, *left) + reach(Side::right, *right);
  }
  double reach(Side side, const Connection& link) const {
    for (const HoleRow& row : out_.rows)
      if (row.side == side && row.id == link.id && !row.holes.empty()) return row.holes.front().edge + link.common.number("guide.lever_toe");
    return kNotKnown;
  }

  const opening::Project& project_;
  const opening::Opening& opening_;
  const rules::RuleSet& set_;
  Checker& checker_;
  Lengths lengths_;
  std::vector<Connection> links_;
  std::vector<const Connection*> of_rows_;
  HoleList out_;
};

}  // namespace

std::string as_measured(double in, bool metric) {
  constexpr int kDigits = 5;
  if (metric) return text::rounded(units::parse_unit("mm")->from_canonical(in), kDigits) + " mm";
  const std::string tape = units::tape(in);
  return tape.front() == '~' ? text::rounded(in, kDigits) + " in" : tape;
}

HoleList hole_list(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, Checker& checker, text::Diagnostics& diagnostics, Lengths lengths) {
  return Lister(project, opening, set, checker, lengths).list(diagnostics);
}

}  // namespace jambcheck::verdict
