#include "verdict/hole_fit.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "text/number.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;
using text::MessageId;

constexpr double kEnough = 1e-6;  // in: sums of lengths that were written in different units

class Fit {
 public:
  Fit(const opening::Opening& opening, const HoleList& list, text::Diagnostics& diagnostics) : opening_(opening), list_(list), diagnostics_(diagnostics) {}

  void row(const HoleRow& row, const Connection& link) {
    if (row.link_id == "L1" && list_.face_mounted) {
      const bool guide = link.id.back() == 'G';
      const double reach = guide ? guide_reach(row, link) : plate_reach(row, link);
      const std::string what = guide ? "guide" : "bracket";
      beside(row, what, reach);
      on_face(row, what, reach);
      if (!guide) above(row, link);
    }
    holes_on_face(row);
    length(row);
    bits(row);
  }
  void widths() {
    const Across& a = list_.across;
    const bool by_tape = !std::isnan(of_side("guide.edge", opening::Side::left)) && !std::isnan(of_side("guide.edge", opening::Side::right));
    if (!by_tape || std::isnan(a.guides) || (a.guides >= a.guides_least - kEnough && a.guides <= a.guides_most + kEnough)) return;
    if (std::isnan(a.guides_least)) return;
    tell(MessageId::H009, "guide.edge", opening::Side::left, {opening_.mark, shown(a.guides), shown(a.guides_least), shown(a.guides_most)});
  }

 private:
  std::string shown(double in) const { return as_measured(in, list_.metric); }
  double of_side(const std::string& path, opening::Side side) const {
    const Fact* f = opening::fact(opening_, path, side);
    return f && !f->unknown && f->kind == Fact::Kind::number ? f->value : kNotKnown;
  }
  std::string label(const HoleRow& row) const { return opening_.mark + " " + row.name; }
  void tell(MessageId id, const std::string& path, opening::Side side, const text::Args& args) {
    const Fact* f = opening::fact(opening_, path, side);
    diagnostics_.add(id, f ? f->place : opening_.place, args);
  }

  /// Outer edge of the guide, from the edge of the opening outward.
  static double guide_reach(const HoleRow& row, const Connection& link) { return row.holes.empty() ? kNotKnown : row.holes.front().edge + link.common.number("guide.lever_toe"); }
  /// Outer edge of the bracket's plate: the plate ends left of its holes where x grows toward the opening.
  static double plate_reach(const HoleRow& row, const Connection& link) {
    double edge = kNotKnown, x = kNotKnown;
    for (std::size_t i = 0; i < row.holes.size(); ++i) {
      const double xi = link.common.number(fmt::format("bracket.hole.{}.x", i + 1));
      if (!(xi <= x)) x = xi;
      if (!(row.holes[i].edge >= edge)) edge = row.holes[i].edge;
    }
    return edge + (x - link.common.number("bracket.plate.left"));
  }
  void beside(const HoleRow& row, const std::string& what, double reach) {
    const double room = of_side("jamb.side_room", row.side);
    if (!(reach > room + kEnough)) return;
    tell(MessageId::H001, "jamb.side_room", row.side, {label(row), what, shown(reach), shown(room), shown(reach - room)});
  }
  void on_face(const HoleRow& row, const std::string& what, double reach) {
    if (!(reach > row.jamb_width + kEnough)) return;
    tell(MessageId::H002, "jamb.size", row.side, {label(row), what, shown(reach - row.jamb_width), shown(row.jamb_width)});
  }
  void above(const HoleRow& row, const Connection& link) {
    const Fact* room = opening::fact(opening_.facts, "head_room");
    const double middle = of_side("bracket.height", row.side);
    if (!room || room->unknown || std::isnan(middle)) return;
    const double coil = middle + link.common.number("bracket.axle_height") + of_side("door.coil_radius", row.side);
    double z = 0;
    for (std::size_t i = 0; i < row.holes.size(); ++i) z += link.common.number(fmt::format("bracket.hole.{}.z", i + 1)) / static_cast<double>(row.holes.size());
    const double plate = middle + link.common.number("bracket.plate.bottom") + link.common.number("bracket.plate.height") - z;
    for (const auto& [what, top] : {std::pair("coil", coil), std::pair("plate of the bracket", plate)}) {
      const double need = top - list_.across.height;
      if (need > room->value + kEnough)
        diagnostics_.add(MessageId::H003, room->place, {label(row), what, shown(need), shown(room->value), shown(need - room->value)});
    }
  }
  void holes_on_face(const HoleRow& row) {
    for (const Hole& h : row.holes)
      if (h.edge >= row.jamb_width - kEnough) {
        tell(MessageId::H004, "jamb.size", row.side, {label(row), h.name, shown(h.edge), shown(row.jamb_width)});
        return;
      }
  }
  void length(const HoleRow& row) {
    const FastenerLength& l = row.length;
    const std::string path = row.link_id == "L2" ? "buck.fastener" : (row.id.back() == 'G' ? "guide.fastener" : "bracket.fastener");
    const auto say = [&](MessageId id, text::Args args) {
      args.insert(args.begin(), label(row));
      tell(id, path + ".length", row.side, args);
    };
    if (!std::isnan(l.longest) && std::isnan(l.reaches) && !std::isnan(l.given) && !l.deep_enough) return say(MessageId::H005, {shown(l.longest)});
    if (std::isnan(l.given)) return;
    if (!l.deep_enough) {
      const bool anchor = !std::isnan(l.least);
      return say(MessageId::H006, {shown(l.given), anchor ? fmt::format("embedment and what lies in front of the wall need {}", shown(l.least))
                                                          : fmt::format("the shortest stock length that is deep enough is {}", shown(l.reaches))});
    }
    if (l.holds < l.given - kEnough) say(MessageId::H007, {shown(l.given), shown(l.holds)});
    if (!std::isnan(l.longest) && !l.in_stock) say(MessageId::H008, {shown(l.given)});
  }
  void bits(const HoleRow& row) {
    for (const Bit& bit : row.drill.bits)
      if (std::isnan(bit.diameter))
        diagnostics_.add(MessageId::H010, opening_.place, {label(row), bit.what, text::rounded(bit.least, 4), text::rounded(bit.most, 4)});
  }

  const opening::Opening& opening_;
  const HoleList& list_;
  text::Diagnostics& diagnostics_;
};

}  // namespace

void tell_misfits(const opening::Opening& opening, const HoleList& list, const std::vector<const Connection*>& links, text::Diagnostics& diagnostics) {
  Fit fit(opening, list, diagnostics);
  fit.widths();
  for (std::size_t i = 0; i < list.rows.size(); ++i) fit.row(list.rows[i], *links[i]);
}

}  // namespace jambcheck::verdict
