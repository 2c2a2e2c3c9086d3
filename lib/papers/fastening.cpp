#include "papers/fastening.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "opening/choices.h"
#include "text/number.h"
#include "units/quantity.h"
#include "verdict/connection.h"

namespace jambcheck::papers {
namespace {

using opening::Fact;
using opening::Side;

constexpr std::string_view kKeys[] = {"member.depth", "member.width", "side.thickness", "side.gap", "fastener.diameter", "fastener.length",
                                      "fastener.embedment", "edge.loaded", "end.distance", "guide.fastener_spacing", "bracket.plate.width", "bracket.plate.height"};

bool same(double a, double b) { return (std::isnan(a) && std::isnan(b)) || std::fabs(a - b) < 1e-9; }

/// Which link of which part a row of holes belongs to: the board of the left side hangs on LG's second link.
bool belongs(const verdict::Connection& c, const verdict::HoleRow& row) {
  const std::string id = row.id.back() == 'K' ? std::string(1, row.id.front()) + "G" : row.id;
  return c.id == id && c.link_id == row.link_id;
}

Fastening fastening_of(const verdict::HoleRow& row, const verdict::Connection& c, const rules::RuleSet& set, verdict::Checker& checker) {
  Fastening f;
  f.row = row;
  f.part = row.id.back() == 'K' ? "buck" : row.id.back() == 'B' ? "bracket" : "guide";
  rules::Case values;
  if (!c.cases.empty()) values = c.cases.front().values;
  values.set(c.common);
  f.kind = values.word("fastener.kind");
  f.washers = values.word("fastener.washers");
  f.base = values.word("base.material");
  f.values = verdict::key_values(set, checker.plans(), values, {std::begin(kKeys), std::end(kKeys)});
  return f;
}

}  // namespace

double Fastening::value(std::string_view key) const {
  const auto it = values.find(key);
  return it == values.end() ? std::nan("") : it->second;
}

bool Fastening::alike(const Fastening& o) const {
  if (part != o.part || kind != o.kind || washers != o.washers || base != o.base || row.fastener != o.row.fastener || row.count != o.row.count || row.holes.size() != o.row.holes.size()) return false;
  for (std::size_t i = 0; i < row.holes.size(); ++i) {
    const auto &a = row.holes[i], &b = o.row.holes[i];
    if (!same(a.height, b.height) || !same(a.above_lowest, b.above_lowest) || !same(a.edge, b.edge)) return false;
  }
  if (row.drill.bits.size() != o.row.drill.bits.size()) return false;
  for (std::size_t i = 0; i < row.drill.bits.size(); ++i)
    if (!same(row.drill.bits[i].diameter, o.row.drill.bits[i].diameter) || !same(row.drill.bits[i].depth, o.row.drill.bits[i].depth)) return false;
  return std::all_of(std::begin(kKeys), std::end(kKeys), [&](std::string_view key) { return same(value(key), o.value(key)); });
}

opening::Opening first_choices(const opening::Opening& opening) {
  opening::Opening out = opening;
  for (const auto& choice : opening.choices) opening::pick(choice, 0, out.facts);
  out.choices.clear();
  return out;
}

opening::Project first_choices(const opening::Project& project) {
  // Without its openings: hundreds would be copied for each one of them.
  opening::Project out;
  out.facts = project.facts;
  out.anchors = project.anchors;
  out.place = project.place;
  out.file = project.file;
  out.broken = project.broken;
  for (const auto& choice : project.choices) opening::pick(choice, 0, out.facts);
  return out;
}

Fastenings fastenings(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, verdict::Checker& checker) {
  const opening::Project p = first_choices(project);
  const opening::Opening o = first_choices(opening);
  text::Diagnostics warnings;  // misfits are the matter of `holes`
  Fastenings out;
  out.holes = verdict::hole_list(p, o, set, checker, warnings, verdict::Lengths::left_out);
  const auto connections = verdict::connections(p, o, set, verdict::Cases::first);
  for (const auto& row : out.holes.rows)
    for (const auto& c : connections)
      if (belongs(c, row)) {
        out.parts.push_back(fastening_of(row, c, set, checker));
        break;
      }
  const auto rank = [](const Fastening& f) { return f.part == "guide" ? 0 : f.part == "bracket" ? 1 : 2; };
  std::stable_sort(out.parts.begin(), out.parts.end(), [&](const auto& a, const auto& b) { return std::pair(rank(a), a.row.side) < std::pair(rank(b), b.row.side); });
  return out;
}

namespace {
std::string text_of(const Fact* f) {
  if (!f) return "";
  if (f->unknown) return "unknown";
  return f->kind == Fact::Kind::number ? units::show(f->value, f->shown) : f->word;
}
}  // namespace

std::string said(const opening::Facts& facts, std::string_view path) { return text_of(opening::fact(facts, path)); }
std::string said(const opening::Opening& opening, std::string_view path, Side side) { return text_of(opening::fact(opening, path, side)); }

namespace {
std::string mm(double inches) {
  constexpr double kMmPerInch = 25.4;
  return fmt::format("{} mm", text::rounded(std::round(inches * kMmPerInch), 6));
}
/// To the sixteenth: nobody reads a tape nearer than that. A thin gap or sheet is no length off a tape: 0.1" is not 1/8".
std::string sixteenths(double inches) {
  constexpr double kThin = 0.25, kSame = 1e-6;
  const double nearest = std::round(inches * 16) / 16;
  if (inches > 0 && inches < kThin && std::fabs(nearest - inches) > kSame) return text::rounded(inches, 3) + "\"";
  return units::tape(nearest);
}
}  // namespace

std::string on_tape_short(double inches, bool metric) { return std::isnan(inches) ? "--" : metric ? mm(inches) : sixteenths(inches); }

std::string on_tape(double inches, bool metric) {
  return std::isnan(inches) ? "--" : fmt::format("{} ({})", on_tape_short(inches, metric), on_tape_short(inches, !metric));
}

std::string spaced(std::string word) {
  std::replace(word.begin(), word.end(), '_', ' ');
  return word;
}

}  // namespace jambcheck::papers
