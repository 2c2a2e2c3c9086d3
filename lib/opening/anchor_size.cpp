// Finding the row of an anchor, and what it gives to a case.
#include <algorithm>
#include <cmath>

#include "opening/anchor_data.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::opening {
namespace {

constexpr double kSame = 1e-6;  // in: 12.7 mm is 1/2 in, as far as a tape tells

bool same(double a, double b) { return std::fabs(a - b) <= kSame; }

std::string length_text(const Fact& f) {
  return f.shown.name == "in" || f.shown.name == "ft" ? units::tape_inches(f.value) : units::show(f.value, f.shown);
}

std::string where_text(const AnchorSize& size) {
  if (size.base != "masonry") return size.base;
  return size.fill + " " + size.unit;
}

/// Units are filled or hollow, or solid throughout.
bool fits_fill(const AnchorSize& size, const std::string& filled) {
  return size.fill == "solid" || size.fill == (filled == "yes" ? "grouted" : "hollow");
}

std::string sizes_listed(const AnchorData& data) {
  std::vector<std::string> list;
  for (const auto& size : data.sizes) {
    const std::string text = size_text(size) + " in " + where_text(size);
    if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
  }
  return text::join(list);
}

}  // namespace

std::string size_text(const AnchorSize& size) { return length_text(size.diameter) + " x " + length_text(size.embedment); }

const AnchorData* find_data(const Project& project, std::string_view name) {
  for (const auto& data : project.anchors)
    if (data->name == name) return data.get();
  return nullptr;
}

AnchorMatch find_size(const AnchorData& data, const AnchorQuery& query) {
  AnchorMatch out;
  if (query.kind != data.kind) {
    out.why = data.name + " is for another kind of anchor";
    return out;
  }
  std::vector<const AnchorSize*> rows;
  for (const auto& size : data.sizes) {
    if (size.base != query.base || !same(size.diameter.value, query.diameter) || !same(size.embedment.value, query.embedment)) continue;
    const bool masonry = size.base == "masonry";
    if (masonry && !query.unit.empty() && size.unit != query.unit) continue;
    if (masonry && !query.filled.empty() && !fits_fill(size, query.filled)) continue;
    rows.push_back(&size);
  }
  const bool wall_known = query.base != "masonry" || (!query.unit.empty() && !query.filled.empty());
  if (rows.empty()) {
    out.why = data.name + " has only " + sizes_listed(data);
  } else if (!wall_known) {
    out.open = true;
    out.why = "which row counts depends on the masonry";
  } else {
    // A row for filled or hollow cells says more than one for solid units.
    const auto own = std::find_if(rows.begin(), rows.end(), [](const AnchorSize* s) { return s->fill != "solid"; });
    out.size = own == rows.end() ? rows.front() : *own;
  }
  return out;
}

std::vector<std::pair<std::string, Fact>> figures(const AnchorSize& size, std::optional<double> temperature) {
  std::vector<std::pair<std::string, Fact>> out;
  const auto add = [&](const Facts& facts) {
    for (const auto& [name, f] : facts) out.emplace_back("anchor." + name, f);
  };
  add(size.values);
  if (!temperature) return out;
  const auto row = std::find_if(size.bond.begin(), size.bond.end(), [&](const BondRow& r) { return *temperature <= r.to + kSame; });
  if (row != size.bond.end()) add(row->values);
  return out;
}

std::optional<bool> too_hot(const AnchorSize& size, std::optional<double> temperature) {
  if (size.bond.empty()) return false;
  if (!temperature) return std::nullopt;
  return *temperature > size.bond.back().to + kSame;
}

std::optional<bool> expired(const AnchorData& data, const Date& day) {
  if (!data.expires) return std::nullopt;
  return *data.expires < day;
}

}  // namespace jambcheck::opening
