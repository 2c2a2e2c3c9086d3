#include "choose/space.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "choose/catalogue.h"
#include "opening/anchor_data.h"
#include "opening/fastener_text.h"
#include "text/number.h"
#include "units/quantity.h"
#include "opening/bracket_pattern.h"

namespace jambcheck::choose {
namespace {

using opening::Fact;
using opening::Facts;
using opening::Side;

// What is said of a fastener's place, not of the fastener: it stays whatever is tried there.
constexpr std::string_view kOfThePlace[] = {"joint_distance", "in_one_cell", "hole_state", "coating", "lead_hole", "hole_growth", "shear_planes"};
// What is tried, and so never kept from the file.
constexpr std::string_view kTried[] = {"", "kind", "diameter", "number", "length", "embedment", "data", "washers", "drill_point"};
// What an old fastener of the same kind says for any size of it.
constexpr std::string_view kOfTheKind[] = {"grade", "head", "through", "sleeve", "nut", "hardened"};
constexpr std::string_view kOfGuide[] = {"spacing", "heights"};
constexpr std::string_view kOfBracket[] = {"count", "columns", "rows", "across", "along", "holes"};

template <class List>
bool among(const List& list, std::string_view name) {
  return std::find(std::begin(list), std::end(list), name) != std::end(list);
}

std::string plain_kind(std::string kind) {
  if (kind == "lag_screw") return "lag";
  std::replace(kind.begin(), kind.end(), '_', ' ');
  return kind;
}

Item item_of(const rules::RuleSet& set, const std::string& kind, double diameter, double length) {
  Item item;
  item.kind = kind;
  item.diameter = diameter;
  item.length = length;
  item.facts["kind"] = word(kind);
  const int n = number_of_screw(set, kind, diameter);
  if (n != 0) item.facts["number"] = number(n, "1");
  else item.facts["diameter"] = number(diameter);
  item.text = fmt::format("{} {}", plain_kind(kind), n != 0 ? fmt::format("#{}", n) : inches(diameter));
  if (length > 0) {
    item.facts["length"] = number(length);
    item.text += " x " + inches(length);
  }
  for (const char* name : {"head", "grade"})
    if (const std::string w = word_at(set, "choose.usual", name, {kind}); !w.empty()) item.facts[name] = word(w);
  return item;
}

/// One item for each way of washers and, of drilling screws, for each point.
void add_ways(const rules::RuleSet& set, const Item& item, std::vector<Item>& out) {
  auto washers = words(set, "choose.washers", "washers", {item.kind});
  if (washers.empty()) washers = {""};
  std::vector<std::string> points = {""};
  const table::Table* drills = set.table("fasteners.drill_points");
  if (item.kind == "tapping_screw" && drills) points = drills->axes[0].words;
  for (const auto& washer : washers)
    for (const auto& point : points) {
      Item way = item;
      if (!washer.empty()) way.facts["washers"] = word(washer);
      // A loose washer is bought with its fastener: the standard one of that size.
      if (const double wide = number_at(set, "fasteners.bolts", "d_w", {}, item.diameter); !washer.empty() && washer != "none" && wide > 0) way.facts["washer_diameter"] = number(wide);
      if (!point.empty()) way.facts["drill_point"] = word(point);
      if (washers.size() > 1 && washer != "none") way.text += washer == "both" ? ", two washers" : ", washer";
      if (!point.empty()) way.text += ", point " + point.substr(point.rfind('_') + 1);
      out.push_back(std::move(way));
    }
}

void add_anchors(const opening::Project& project, const rules::RuleSet& set, const std::string& base, const std::string& kind, double least, double most, std::vector<Item>& out) {
  for (const auto& data : project.anchors) {
    if (data->kind != kind) continue;
    for (const auto& size : data->sizes) {
      if (size.base != base || size.diameter.value < least - 1e-9 || size.diameter.value > most + 1e-9) continue;
      Item item = item_of(set, kind, size.diameter.value, 0);
      item.length = size.embedment.value;
      item.facts["embedment"] = size.embedment;
      item.facts["data"] = word(data->name, Fact::Kind::text);
      item.text += fmt::format(", {} deep, {}", inches(size.embedment.value), data->name);
      const auto same = [&](const Item& o) { return o.text == item.text; };
      if (std::none_of(out.begin(), out.end(), same)) add_ways(set, item, out);
    }
  }
}

std::vector<Item> by_size(std::vector<Item> items) {
  std::stable_sort(items.begin(), items.end(), [](const Item& a, const Item& b) { return std::tie(a.diameter, a.length) < std::tie(b.diameter, b.length); });
  return items;
}

// ---- layouts
Layout spaced(const opening::Opening& o, Side side, double spacing) {
  Layout layout;
  layout.spacing = spacing;
  layout.facts["spacing"] = number(spacing);
  layout.text = "spacing " + units::tape_inches(spacing);
  const Fact *height = opening::fact(o, "height", side), *first = opening::fact(o, "guide.first", side);
  const bool known = height && first && !height->unknown && !first->unknown;
  layout.holes = known ? static_cast<std::size_t>(std::max(1.0, 1 + std::floor((height->value - first->value) / spacing + 1e-9))) : 0;
  return layout;
}

/// The guide's own holes: all of them, and every second one with both ends.
std::vector<Layout> own_heights(const Fact& heights) {
  std::vector<Layout> out;
  const auto add = [&](std::vector<double> at, const char* text) {
    Layout layout;
    layout.holes = at.size();
    layout.text = text;
    Fact f = heights;
    f.list = std::move(at);
    layout.facts["heights"] = f;
    out.push_back(std::move(layout));
  };
  add(heights.list, "all holes of the guide");
  if (heights.list.size() < 5 || heights.list.size() % 2 == 0) return out;
  std::vector<double> second;
  for (std::size_t i = 0; i < heights.list.size(); i += 2) second.push_back(heights.list[i]);
  add(std::move(second), "every second hole of the guide");
  return out;
}

/// Rows of the plate's own holes; the upper and the lower row stay, any of those between may be left out.
std::vector<Layout> own_rows(const Fact& holes) {
  std::map<long, std::vector<double>> rows;  // by height in 1/64 in
  for (std::size_t i = 0; i + 1 < holes.list.size(); i += 2) {
    auto& row = rows[std::lround(holes.list[i + 1] * 64)];
    row.push_back(holes.list[i]);
    row.push_back(holes.list[i + 1]);
  }
  std::vector<const std::vector<double>*> list;
  for (const auto& [z, row] : rows) list.push_back(&row);
  std::vector<Layout> out;
  const std::size_t inner = list.size() > 2 ? list.size() - 2 : 0;
  for (std::size_t mask = 0; mask < (std::size_t{1} << inner); ++mask) {
    Fact f = holes;
    f.list.clear();
    for (std::size_t r = 0; r < list.size(); ++r)
      if (r == 0 || r + 1 == list.size() || (mask >> (r - 1) & 1) != 0) f.list.insert(f.list.end(), list[r]->begin(), list[r]->end());
    Layout layout;
    layout.holes = f.list.size() / 2;
    layout.text = f.list.size() == holes.list.size() ? fmt::format("all {} holes of the plate", layout.holes) : fmt::format("{} of the plate's holes, rows left out", layout.holes);
    layout.facts["holes"] = f;
    if (layout.holes >= 2 && layout.holes <= 8) out.push_back(std::move(layout));
  }
  return out;
}

Layout grid(int columns, int rows, double wide, double high) {
  Layout layout;
  layout.holes = static_cast<std::size_t>(columns * rows);
  layout.facts["count"] = number(columns * rows, "1");
  layout.facts["columns"] = number(columns, "1");
  layout.facts["rows"] = number(rows, "1");
  layout.text = fmt::format("{} fasteners, {} x {}", layout.holes, columns, rows);
  if (columns > 1) layout.facts["across"] = number(wide / (columns - 1));
  if (rows > 1) layout.facts["along"] = number(high / (rows - 1));
  if (columns > 1) layout.text += ", across " + units::tape_inches(wide / (columns - 1));
  if (rows > 1) layout.text += ", along " + units::tape_inches(high / (rows - 1));
  return layout;
}

std::vector<Layout> guide_layouts(const opening::Opening& o, const rules::RuleSet& set, Side side) {
  if (const Fact* heights = opening::fact(o, "guide.heights", side); heights && !heights->unknown && !heights->list.empty()) return own_heights(*heights);
  std::vector<Layout> out;
  const double least = number_at(set, "choose.spacings", "least", {}, 1), most = number_at(set, "choose.spacings", "most", {}, 1), step = number_at(set, "choose.spacings", "step", {}, 1);
  for (int i = 0; least + i * step <= most + 1e-9; ++i) out.push_back(spaced(o, side, least + i * step));
  return out;
}

std::vector<Layout> bracket_layouts(const opening::Opening& o, const rules::RuleSet& set, Side side, std::vector<std::string>& notes) {
  if (const Fact* holes = opening::fact(o, "bracket.holes", side); holes && !holes->unknown && !holes->list.empty()) return own_rows(*holes);
  const opening::Pattern pattern = opening::bracket_pattern(o, side);
  double wide = 0, high = 0;
  for (const auto& a : pattern.holes)
    for (const auto& b : pattern.holes) {
      wide = std::max(wide, a.x - b.x);
      high = std::max(high, a.z - b.z);
    }
  std::vector<Layout> out;
  const auto columns = column(set, "choose.patterns", "columns"), rows = column(set, "choose.patterns", "rows");
  for (std::size_t i = 0; i < columns.size(); ++i)
    if ((columns[i] < 2 || wide > 0) && (rows[i] < 2 || high > 0)) out.push_back(grid(static_cast<int>(columns[i]), static_cast<int>(rows[i]), wide, high));
  if (out.empty()) notes.push_back("where the holes of the bracket may be is not known: give bracket.holes, or count, across and along");
  else notes.push_back("the outer holes of the bracket stay where the file has them; give bracket.holes for the holes that the plate really has");
  return out;
}

/// What the fastener goes into.
struct Base {
  std::string material;  ///< empty when it is not known
  bool on_wall = false;  ///< a board that lies on a wall: nothing can stand out behind it
  double front = 0;      ///< in: what lies in front of what holds, metal and gap
  double room = 0;       ///< in, on a wall: from under the head to the wall
};

Base base_of(const opening::Project& project, const opening::Opening& o, const rules::RuleSet& set, bool bracket, Side side) {
  const auto links = verdict::links_of(project, o, set, side, bracket, verdict::Cases::none);
  const auto& values = links.front().common;
  Base base;
  base.material = values.word("base.material");
  if (links.size() > 1) base.on_wall = links[1].common.word("base.material") != "wood";
  const auto known = [&](std::string_view key) {
    const double x = values.number(key);
    return std::isnan(x) ? 0 : x;
  };
  base.room = known("member.depth");
  base.front = known("side.thickness") + known("side.gap");
  base.room += base.front;
  return base;
}

/// Anchors are bought in steps: long enough for metal, gap, depth and a nut.
void give_lengths(const rules::RuleSet& set, const Base& base, std::vector<Item>& items) {
  const double step = number_at(set, "choose.lengths", "step", {}, 1);
  if (!(step > 0)) return;
  for (auto& item : items) {
    if (item.facts.count("embedment") == 0 || item.facts.count("length") != 0) continue;
    const double length = std::ceil((base.front + item.length + item.diameter) / step - 1e-9) * step;
    item.facts["length"] = number(length);
    item.text.insert(item.text.find(','), " x " + inches(length));
  }
}

/// A nut can't be set behind a board on a wall, and no point may stand on the wall.
void keep_off_wall(const Base& base, std::vector<Item>& items, std::vector<std::string>& notes) {
  if (!base.on_wall) return;
  items.erase(std::remove_if(items.begin(), items.end(), [&](const Item& i) { return i.kind == "bolt" || i.length > base.room + 1e-9; }), items.end());
  notes.push_back(fmt::format("the board lies on the wall: no bolts through it, and nothing longer than {} in", inches(base.room)));
}

}  // namespace

Fact number(double value, std::string_view unit) {
  Fact f;
  f.kind = Fact::Kind::number;
  f.value = value;
  f.shown = *units::parse_unit(unit);
  return f;
}

Fact word(std::string text, Fact::Kind kind) {
  Fact f;
  f.kind = kind;
  f.word = std::move(text);
  return f;
}

std::string inches(double value) {
  const double in64 = value * 64;
  if (std::fabs(in64 - std::round(in64)) > 1e-6) return text::rounded(value, 4);
  long part = std::lround(in64), under = 64;
  const long whole = part / under;
  part %= under;
  while (part != 0 && part % 2 == 0) part /= 2, under /= 2;
  if (part == 0) return std::to_string(whole);
  return whole == 0 ? fmt::format("{}/{}", part, under) : fmt::format("{}-{}/{}", whole, part, under);
}

std::vector<Item> items_for(const opening::Project& project, const rules::RuleSet& set, const std::string& base) {
  std::vector<Item> out;
  for (const auto& kind : kinds_for(set, base)) {
    const auto lengths = column(set, "fasteners.stock_lengths", "L", {kind});
    for (const double d : diameters(set, base, kind))
      for (const double length : lengths) add_ways(set, item_of(set, kind, d, length), out);
    add_anchors(project, set, base, kind, number_at(set, "choose.kinds", "D_least", {base, kind}), number_at(set, "choose.kinds", "D_most", {base, kind}), out);
  }
  return by_size(std::move(out));
}

std::vector<Layout> layouts_of(const opening::Opening& o, const rules::RuleSet& set, bool bracket, Side side, std::vector<std::string>& notes) {
  auto out = bracket ? bracket_layouts(o, set, side, notes) : guide_layouts(o, set, side);
  std::stable_sort(out.begin(), out.end(), [](const Layout& a, const Layout& b) { return a.holes != b.holes ? a.holes < b.holes : a.spacing > b.spacing; });
  return out;
}

Space space_of(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, bool bracket, Sides sides) {
  Space space;
  space.bracket = bracket;
  space.sides = sides;
  const Side side = sides == Sides::right ? Side::right : Side::left;
  const Base base = base_of(project, opening, set, bracket, side);
  space.base = base.material;
  if (space.base.empty()) {
    space.notes.push_back("what the jamb is made of is not known: nothing can be chosen for it");
    return space;
  }
  space.items = items_for(project, set, space.base);
  keep_off_wall(base, space.items, space.notes);
  give_lengths(set, base, space.items);
  if (space.base == "concrete" || space.base == "masonry") space.notes.push_back("anchors go by the project's anchor data only; bolts cast in beforehand are not chosen here");
  if (space.items.empty()) space.notes.push_back("no fastener of the catalogue suits " + space.base + " without anchor data: name the files of reports under anchor_data:");
  space.layouts = layouts_of(opening, set, bracket, side, space.notes);
  space.list_candidates();
  return space;
}

void Space::list_candidates() {
  candidates.clear();
  for (std::size_t l = 0; l < layouts.size(); ++l)
    for (std::size_t i = 0; i < items.size(); ++i) candidates.push_back({i, l});
}

// ---- an opening with another fastening
Place::Place(const opening::Opening& opening, bool bracket, Sides sides) : opening_(opening), part_(bracket ? "bracket." : "guide.") {
  const auto of_layout = [&](std::string_view name) { return bracket ? among(kOfBracket, name) : among(kOfGuide, name); };
  const std::string fastener = part_ + "fastener";
  if (sides != Sides::both) {  // what holds for both sides is written to each, so that one can change alone
    Facts own;
    for (const auto& [path, f] : opening.facts)
      if (path.compare(0, part_.size(), part_) == 0)
        for (const Side side : {Side::left, Side::right})
          if (const Fact* here = opening::fact(opening, path, side)) own[std::string(opening::word(side)) + "." + path] = *here;
    for (auto it = opening_.facts.begin(); it != opening_.facts.end();) it = it->first.compare(0, part_.size(), part_) == 0 ? opening_.facts.erase(it) : std::next(it);
    for (auto& [path, f] : own) opening_.facts.insert_or_assign(path, f);
  }
  prefixes_ = {sides == Sides::both ? "" : sides == Sides::left ? "left." : "right."};
  std::vector<std::string> cleared = prefixes_;
  if (sides == Sides::both) cleared = {"", "left.", "right."};
  for (auto it = opening_.facts.begin(); it != opening_.facts.end();) {
    bool gone = false;
    for (const auto& prefix : cleared) {
      if (it->first.compare(0, prefix.size() + part_.size(), prefix + part_) != 0) continue;
      const std::string_view name = std::string_view(it->first).substr(prefix.size() + part_.size());
      const bool item = name == "fastener" || (name.substr(0, 9) == "fastener." && !among(kOfThePlace, name.substr(9)));
      gone = item || of_layout(name);
    }
    if (gone) given_.insert(*it);
    it = gone ? opening_.facts.erase(it) : std::next(it);
  }
  auto& choices = opening_.choices;
  choices.erase(std::remove_if(choices.begin(), choices.end(), [&](const opening::Choice& c) { return given_.count(c.path) != 0 || c.path.find(fastener) != std::string::npos; }), choices.end());
}

void Place::take_back() {
  for (const auto& path : put_) opening_.facts.erase(path);
  put_.clear();
}

void Place::put(const std::string& path, const Fact& fact) {
  opening_.facts[path] = fact;
  put_.push_back(path);
}

void Place::put_item(const Item& item) {
  const auto given = [&](const std::string& path) {
    const auto it = given_.find(path);
    return it == given_.end() || it->second.unknown ? nullptr : &it->second;
  };
  for (const auto& prefix : prefixes_) {
    const std::string at = prefix + part_ + "fastener";
    const Fact *kind = given(at + ".kind"), *diameter = given(at + ".diameter"), *number = given(at + ".number");
    const bool same_kind = kind && kind->word == item.kind;
    const auto n = item.facts.find("number");
    const bool same_size = same_kind && ((diameter && std::fabs(diameter->value - item.diameter) < 1e-6) || (number && n != item.facts.end() && number->value == n->second.value));
    for (auto it = given_.lower_bound(at + "."); it != given_.end() && it->first.compare(0, at.size() + 1, at + ".") == 0; ++it) {
      const std::string_view name = std::string_view(it->first).substr(at.size() + 1);
      if (among(kTried, name) || name == "thread_length") continue;
      if (same_size || (same_kind && among(kOfTheKind, name))) put(it->first, it->second);
    }
    put(at, word(item.text, Fact::Kind::text));
    for (const auto& [name, f] : item.facts)
      if (!opening_.facts.count(at + "." + name)) put(at + "." + name, f);
  }
}

const opening::Opening& Place::with(const Item& item, const Layout& layout) {
  take_back();
  put_item(item);
  for (const auto& prefix : prefixes_)
    for (const auto& [name, f] : layout.facts) put(prefix + part_ + name, f);
  return opening_;
}

const opening::Opening& Place::with(const Item& item) {
  take_back();
  put_item(item);
  for (const auto& [path, f] : given_)
    if (path.find("fastener") == std::string::npos) put(path, f);
  return opening_;
}

std::vector<Item> items_of(const opening::Project& project, const rules::RuleSet& set, std::string_view text, text::Problem& problem) {
  const auto parsed = opening::parse_fastener(text);
  if (!parsed) {
    problem = parsed.error();
    return {};
  }
  Item item;
  item.kind = parsed->kind;
  item.text = std::string(text);
  item.facts["kind"] = word(parsed->kind);
  if (parsed->number) item.facts["number"] = number(*parsed->number, "1");
  if (parsed->diameter) item.diameter = parsed->diameter->value;
  if (parsed->diameter) item.facts["diameter"] = number(item.diameter);
  if (parsed->length) item.length = parsed->length->value;
  if (parsed->length) item.facts["length"] = number(item.length);
  for (const char* name : {"head", "grade"})
    if (const std::string w = word_at(set, "choose.usual", name, {item.kind}); !w.empty()) item.facts[name] = word(w);
  if (const auto washers = words(set, "choose.washers", "washers", {item.kind}); !washers.empty()) item.facts["washers"] = word(washers.front());
  std::vector<Item> out;
  for (const auto& data : project.anchors) {
    if (data->kind != item.kind) continue;
    for (const auto& size : data->sizes) {
      if (std::fabs(size.diameter.value - item.diameter) > 1e-6 || (item.length > 0 && size.embedment.value > item.length)) continue;
      Item row = item;
      row.facts["embedment"] = size.embedment;
      row.facts["data"] = word(data->name, Fact::Kind::text);
      row.text += fmt::format(", {} deep, {}", inches(size.embedment.value), data->name);
      if (std::none_of(out.begin(), out.end(), [&](const Item& o) { return o.text == row.text; })) out.push_back(std::move(row));
    }
  }
  if (out.empty()) out.push_back(std::move(item));
  return out;
}

}  // namespace jambcheck::choose
