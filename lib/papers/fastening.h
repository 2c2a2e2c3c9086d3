#pragma once
// The fasteners of an opening as somebody buys and sets them: the holes and bits of verdict/holes.h, with what the cards
// and lists need to know of the fastener and of what it goes through.
#include <string>
#include <vector>

#include "opening/model.h"
#include "verdict/holes.h"
#include "verdict/key_values.h"

namespace jambcheck::papers {

struct Fastening {
  verdict::HoleRow row;
  std::string part;     ///< guide, bracket, buck
  std::string kind;     ///< lag_screw; empty: not known
  std::string washers;  ///< none, head, both; empty: not said
  std::string base;     ///< material that holds: wood, steel, concrete, masonry
  verdict::KeyValues values;  ///< of the case, canonical, NaN where not known
  [[nodiscard]] double value(std::string_view key) const;
  /// Same fastener, same holes, same distances: one line does for both sides.
  [[nodiscard]] bool alike(const Fastening& other) const;
};

struct Fastenings {
  verdict::HoleList holes;
  std::vector<Fastening> parts;  ///< left, then right, of guide, bracket, board
};

Fastenings fastenings(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, verdict::Checker& checker);

/// Every listed field with its first value: of an opening that leaves choices, a place to measure from.
opening::Opening first_choices(const opening::Opening& opening);
/// The shared facts alone, without openings.
opening::Project first_choices(const opening::Project& project);

/// What stands in a project as text; "" when it is not there, "unknown" when that is what it says.
std::string said(const opening::Facts& facts, std::string_view path);
std::string said(const opening::Opening& opening, std::string_view path, opening::Side side);

/// A length as a tape has it, the other way of measuring behind: 2" (51 mm). Sixteenths; "--" when not known.
std::string on_tape(double inches, bool metric);
/// The first way alone: 2" or 51 mm.
std::string on_tape_short(double inches, bool metric);

/// lag_screw as "lag screw".
std::string spaced(std::string word);

}  // namespace jambcheck::papers
