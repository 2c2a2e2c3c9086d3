#include "papers/hole_table.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "csv/csv.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

using json = nlohmann::ordered_json;
using verdict::Bit;
using verdict::Hole;
using verdict::HoleList;
using verdict::HoleRow;

constexpr double kTapeSixteenths = 16;

// ---- text

/// A length as it is read at the jamb: sixteenths, or whole millimetres.
class Tape {
 public:
  explicit Tape(bool metric) : metric_(metric) {}
  std::string operator()(double in) const {
    if (std::isnan(in)) return "?";
    if (metric_) return fmt::format("{:.0f} mm", std::round(units::parse_unit("mm")->from_canonical(in)) + 0.0);
    return units::tape(std::round(in * kTapeSixteenths) / kTapeSixteenths);
  }
  /// A bit is finer than the tape.
  std::string bit(double in) const {
    constexpr double kParts = 64;
    const double parts = std::round(in * kParts);
    if (std::fabs(parts / kParts - in) > 1e-6) return text::rounded(in, 4) + " in";
    auto top = static_cast<long>(parts), bottom = static_cast<long>(kParts);
    const long whole = top / bottom;
    for (top %= bottom; top != 0 && top % 2 == 0; top /= 2) bottom /= 2;
    const std::string fraction = top == 0 ? "" : fmt::format("{}/{}", top, bottom);
    return whole == 0 && top != 0 ? fraction + "\"" : fmt::format("{}{}{}\"", whole, top == 0 ? "" : " ", fraction);
  }

 private:
  bool metric_;
};

struct Column {
  const char* head;
  std::vector<std::string> cells;
};

std::string table_of(const std::vector<Column>& columns) {
  std::string out;
  for (std::size_t r = 0; r <= columns.front().cells.size(); ++r) {
    std::string line = "  ";
    for (const Column& c : columns) {
      std::size_t width = std::string_view(c.head).size();
      for (const auto& cell : c.cells) width = std::max(width, cell.size());
      line += fmt::format("  {:<{}}", r == 0 ? c.head : c.cells[r - 1], width);
    }
    out += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
  }
  return out;
}

/// A column is left out where no hole has its value.
void add(std::vector<Column>& columns, const char* head, const HoleRow& row, double Hole::*member, const Tape& tape, bool always = false) {
  Column column{head, {}};
  bool any = always;
  for (const Hole& h : row.holes) {
    any = any || !std::isnan(h.*member);
    column.cells.push_back(tape(h.*member));
  }
  if (any) columns.push_back(std::move(column));
}

std::string holes_of(const HoleRow& row, const Tape& tape) {
  if (row.holes.empty()) return row.count == 0 ? "    holes not known\n" : fmt::format("    {} holes, their places are not known\n", row.count);
  std::vector<Column> columns = {{"hole", {}}};
  for (const Hole& h : row.holes) columns.front().cells.push_back(h.name);
  add(columns, "from floor", row, &Hole::height, tape, true);
  if (std::isnan(row.holes.front().height)) add(columns, "from lowest", row, &Hole::above_lowest, tape);
  add(columns, "edge", row, &Hole::edge, tape, true);
  add(columns, "other edge", row, &Hole::other_edge, tape);
  add(columns, "from left of opening", row, &Hole::across, tape);
  add(columns, "lower end", row, &Hole::end_below, tape);
  add(columns, "upper end", row, &Hole::end_above, tape);
  add(columns, "head joint", row, &Hole::joint, tape);
  Column next{"next hole", {}};
  for (const Hole& h : row.holes) next.cells.push_back(h.neighbour_name.empty() ? "-" : tape(h.neighbour) + " " + h.neighbour_name);
  columns.push_back(std::move(next));
  return table_of(columns);
}

std::string bit_text(const Bit& bit, const Tape& tape) {
  std::string out = bit.what + " ";
  out += std::isnan(bit.diameter) ? fmt::format("{} to {}, no stock bit", tape.bit(bit.least), tape.bit(bit.most)) : tape.bit(bit.diameter);
  if (!std::isnan(bit.depth)) out += fmt::format(", {} deep", tape(bit.depth));
  return out;
}

std::string drill_text(const HoleRow& row, const Tape& tape) {
  std::vector<std::string> parts;
  for (const Bit& bit : row.drill.bits) parts.push_back(bit_text(bit, tape));
  if (!row.drill.say.empty()) parts.push_back(row.drill.say);
  std::string out = "    drill   " + text::join(parts, "; ");
  if (row.drill.from_head) out += "; depths from under the head";
  out += "\n    tighten " + (std::isnan(row.drill.torque) ? std::string("no torque is given; see the fastener's own sheet, and stop when the parts touch")
                                                           : units::show(row.drill.torque, *units::parse_unit("ft-lbf"))) + "\n";
  return out;
}

std::string length_text(const HoleRow& row, const Tape& tape) {
  const auto& l = row.length;
  std::vector<std::string> parts;
  if (!std::isnan(l.given)) parts.push_back(tape(l.given) + " given");
  if (!std::isnan(l.least)) parts.push_back(tape(l.least) + " needed");
  if (!std::isnan(l.plate)) parts.push_back(fmt::format("{} of it in the part under the head", tape.bit(l.plate)));
  if (l.gap > 0) parts.push_back(fmt::format("{} of it in what holds nothing", tape(l.gap)));
  if (!std::isnan(l.reaches)) parts.push_back("deep enough from " + tape(l.reaches));
  if (!std::isnan(l.holds)) parts.push_back("holds from " + tape(l.holds));
  else if (!std::isnan(l.reaches)) parts.push_back("length alone makes none hold");
  return parts.empty() ? "" : "    length  " + text::join(parts, "; ") + "\n";
}

std::string across_text(const HoleList& list, const Tape& tape) {
  const auto& a = list.across;
  std::string out = fmt::format("  clear opening     {} x {}\n", tape(a.opening), tape(a.height));
  out += fmt::format("  curtain           {}\n", tape(a.curtain));
  if (!std::isnan(a.guides_least)) out += fmt::format("  guides, outside   {} to {} by the curtain{}\n", tape(a.guides_least), tape(a.guides_most), std::isnan(a.guides) ? "" : "; " + tape(a.guides) + " by the holes");
  return out;
}

// ---- JSON
json number(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }

json hole_json(const Hole& h) {
  return {{"name", h.name}, {"height", number(h.height)}, {"above_lowest", number(h.above_lowest)}, {"across", number(h.across)}, {"edge", number(h.edge)},
          {"other_edge", number(h.other_edge)}, {"end_below", number(h.end_below)}, {"end_above", number(h.end_above)}, {"neighbour", number(h.neighbour)},
          {"neighbour_name", h.neighbour_name}, {"joint", number(h.joint)}};
}

json row_json(const HoleRow& row) {
  json holes = json::array(), bits = json::array();
  for (const Hole& h : row.holes) holes.push_back(hole_json(h));
  for (const Bit& b : row.drill.bits)
    bits.push_back({{"what", b.what}, {"diameter", number(b.diameter)}, {"least", number(b.least)}, {"most", number(b.most)}, {"depth", number(b.depth)}});
  const auto& l = row.length;
  const json length = {{"given", number(l.given)}, {"plate", number(l.plate)}, {"gap", number(l.gap)}, {"needed", number(l.least)}, {"deep_enough_from", number(l.reaches)},
                       {"holds_from", number(l.holds)}, {"longest_in_stock", number(l.longest)}, {"in_stock", l.in_stock}, {"deep_enough", l.deep_enough}};
  return {{"id", row.id}, {"link", row.link_id}, {"name", row.name}, {"joins", row.link}, {"side", opening::word(row.side)}, {"fastener", row.fastener}, {"count", row.count},
          {"jamb_width", number(row.jamb_width)}, {"holes", holes},
          {"drill", {{"bits", bits}, {"depths_from", row.drill.from_head ? "head" : "wall"}, {"say", row.drill.say}, {"torque_in_lbf", number(row.drill.torque)}}}, {"length", length}};
}

}  // namespace

std::string holes_text(const HoleList& list) {
  const Tape tape(list.metric);
  std::string out = fmt::format("{}   {}; {}\n", list.mark, list.face_mounted ? "guides on the face of the wall" : "guides between the jambs",
                                "heights from the floor, distances to the middle of the hole");
  out += across_text(list, tape);
  for (const HoleRow& row : list.rows)
    out += fmt::format("\n  {}  {}, {}: {}{}\n", row.id, row.name, row.link, row.count == 0 ? "" : fmt::format("{} x ", row.count), row.fastener) + holes_of(row, tape) +
           drill_text(row, tape) + length_text(row, tape);
  if (!list.assumed.empty()) out += "\n  Assumed:\n";
  for (const auto& a : list.assumed) out += fmt::format("    {} {}: {} ({})\n", a.what, a.value, a.why, text::join(a.where));
  if (!list.missing.empty()) out += "\n  Not given: " + text::join(list.missing) + "\n";
  out += "\n  Where a hole lies says nothing about what it carries: jambcheck check tells that.\n";
  return out;
}

std::string holes_json(const HoleList& list) {
  json rows = json::array(), assumed = json::array();
  for (const HoleRow& row : list.rows) rows.push_back(row_json(row));
  for (const auto& a : list.assumed) assumed.push_back({{"what", a.what}, {"value", a.value}, {"why", a.why}, {"where", a.where}});
  const auto& a = list.across;
  const json out = {{"format", "holes/1"}, {"mark", list.mark}, {"mount", list.face_mounted ? "face" : "between"}, {"unit", "in"},
                    {"across", {{"opening", number(a.opening)}, {"height", number(a.height)}, {"curtain", number(a.curtain)}, {"guides_least", number(a.guides_least)}, {"guides_most", number(a.guides_most)}, {"guides", number(a.guides)}}},
                    {"rows", rows}, {"assumed", assumed}, {"missing", list.missing}};
  return out.dump(2) + "\n";
}

std::string holes_csv(const HoleList& list) {
  const auto cell = [](double value) { return std::isnan(value) ? std::string() : text::rounded(value, 7); };
  std::string out = csv::write_row({"mark", "row", "hole", "height_in", "edge_in", "other_edge_in", "across_in", "end_below_in", "end_above_in", "neighbour_in", "neighbour"});
  for (const HoleRow& row : list.rows)
    for (const Hole& h : row.holes)
      out += csv::write_row({list.mark, row.id, h.name, cell(h.height), cell(h.edge), cell(h.other_edge), cell(h.across), cell(h.end_below), cell(h.end_above), cell(h.neighbour), h.neighbour_name});
  return out;
}

}  // namespace jambcheck::papers
