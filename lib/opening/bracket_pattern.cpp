#include "opening/bracket_pattern.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::opening {
namespace {

constexpr double kSameLine = 0.25;  // in: holes this near to one upright (or level) line stand on it

const Fact* known(const Opening& o, std::string_view path, Side side) {
  const Fact* f = opening::fact(o, path, side);
  return f && !f->unknown ? f : nullptr;
}

std::size_t count_of(const Fact* f, std::size_t otherwise) { return f ? static_cast<std::size_t>(f->value + 0.5) : otherwise; }

/// Columns and rows of a rectangular pattern; what is not said follows from the count when it can.
bool grid(const Opening& o, Side side, std::size_t count, std::size_t& columns, std::size_t& rows) {
  const Fact *c = known(o, "bracket.columns", side), *r = known(o, "bracket.rows", side);
  const bool across = known(o, "bracket.across", side) != nullptr, along = known(o, "bracket.along", side) != nullptr;
  if (c || r) {
    columns = count_of(c, r && count != 0 && count % count_of(r, 1) == 0 ? count / count_of(r, 1) : 1);
    rows = count_of(r, count != 0 && count % columns == 0 ? count / columns : 1);
  } else if (across != along && count == 2) {  // of more it must be said whether they stand in one line
    columns = across ? 2 : 1;
    rows = along ? 2 : 1;
  } else if (across && along && count != 0 && count % 2 == 0) {
    columns = 2;
    rows = count / 2;
  } else {
    return false;
  }
  return columns * rows != 0 && (count == 0 || columns * rows == count) && (columns == 1 || across) && (rows == 1 || along);
}

}  // namespace

Pattern bracket_pattern(const Opening& o, Side side) {
  Pattern p;
  if (const Fact* holes = known(o, "bracket.holes", side)) {
    for (std::size_t i = 0; i + 1 < holes->list.size(); i += 2) p.holes.push_back({holes->list[i], holes->list[i + 1]});
    p.count = p.holes.size();
    measure(p);
    return p;
  }
  p.count = count_of(known(o, "bracket.count", side), 0);
  std::size_t columns = 0, rows = 0;
  if (p.count == 1) {
    p.holes.push_back({0, 0});
  } else if (grid(o, side, p.count, columns, rows)) {
    p.count = columns * rows;
    const Fact *across = known(o, "bracket.across", side), *along = known(o, "bracket.along", side);
    const double dx = across ? across->value : 0, dz = along ? along->value : 0;
    for (std::size_t r = 0; r < rows; ++r)
      for (std::size_t c = 0; c < columns; ++c)
        p.holes.push_back({(static_cast<double>(c) - static_cast<double>(columns - 1) / 2) * dx,
                           (static_cast<double>(r) - static_cast<double>(rows - 1) / 2) * dz});
  }
  measure(p);
  return p;
}

void measure(Pattern& p) {
  for (const PatternHole& a : p.holes) {
    std::size_t along = 0, across = 0;
    for (const PatternHole& b : p.holes) {
      const double dx = std::fabs(a.x - b.x), dz = std::fabs(a.z - b.z);
      if (dx <= kSameLine) ++along;
      if (dz <= kSameLine) ++across;
      if (&a == &b) continue;
      if (dx <= kSameLine && (p.spacing_along == 0 || dz < p.spacing_along)) p.spacing_along = dz;
      if (dz <= kSameLine && (p.spacing_across == 0 || dx < p.spacing_across)) p.spacing_across = dx;
    }
    p.along = std::max(p.along, along);
    p.across = std::max(p.across, across);
  }
  // Holes on no common line are still neighbours: the nearer coordinate counts as the spacing, on the safe side.
  if (p.holes.size() > 1 && p.along == 1 && p.across == 1) {
    double nearest = 0;
    for (const PatternHole& a : p.holes)
      for (const PatternHole& b : p.holes)
        if (&a != &b) {
          const double d = std::hypot(a.x - b.x, a.z - b.z);
          if (nearest == 0 || d < nearest) nearest = d;
        }
    p.along = p.across = p.holes.size();
    p.spacing_along = p.spacing_across = nearest;
  }
}

}  // namespace jambcheck::opening
