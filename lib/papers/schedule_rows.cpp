#include "papers/schedule_rows.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/schedule_cells.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/unit.h"

namespace jambcheck::papers {
namespace {

using opening::Opening;
using opening::Side;

std::string cell(double x, int digits = 8) { return std::isnan(x) ? std::string() : text::rounded(x, digits); }

/// A canonical value in a unit of the list.
std::string in_unit(double x, const char* name) {
  const auto unit = units::parse_unit(name);
  return unit && !std::isnan(x) ? text::rounded(unit->from_canonical(x), 8) : "";
}

const Fastening* part_of(const Fastenings* all, const char* part) {
  if (!all) return nullptr;
  for (const auto& f : all->parts)
    if (f.part == part) return &f;
  return nullptr;
}

std::string count_of(const Fastening* f) { return f && f->row.count != 0 ? fmt::format("{}", f->row.count) : ""; }

/// What lies in the jamb: the embedment of an anchor, else the length behind metal and gap.
std::string embed_of(const Fastening* f) {
  if (!f) return "";
  if (const double e = f->value("fastener.embedment"); !std::isnan(e)) return cell(e);
  const double gap = f->value("side.gap");
  return cell(f->value("fastener.length") - f->value("side.thickness") - (std::isnan(gap) ? 0 : gap));
}

std::string wind_source(const opening::Project& p) {
  const auto from = said(p.facts, "site.wind.from");
  if (!std::isnan(number(p.facts, "site.wind.inward"))) return from;
  const auto speed = said(p.facts, "site.wind.speed");
  return speed.empty() ? from : "worked out from " + speed + (from.empty() ? "" : ", " + from);
}

/// Weight as given; without it nothing, for it is then worked out from parts.
std::string weight_of(const Opening& o) { return in_unit(number(o.facts, "door.weight"), "lbf"); }

struct Named {
  Column column;
  std::function<std::string(const Type&, const Member&)> cell;
};

class Openings {
 public:
  explicit Openings(const ScheduleInput& in) : in_(in) {
    place();
    door();
    fastening();
    answer();
    model();
  }
  Grid grid() const {
    Grid g{"openings", {}, {}};
    for (const auto& n : named_) g.columns.push_back(n.column);
    own_heads(g);
    for (const auto& [type, member] : in_file_order(in_.project, in_.types)) {
      std::vector<std::string> row;
      for (const auto& n : named_) row.push_back(n.cell(*type, *member));
      const auto own = in_.own.cells.find(member->opening->mark);
      for (std::size_t i = 0; i < in_.own.heads.size(); ++i) row.push_back(own != in_.own.cells.end() && i < own->second.size() ? own->second[i] : "");
      g.rows.push_back(std::move(row));
    }
    add_not_read(g);
    return g;
  }

 private:
  using M = const Member&;
  using T = const Type&;
  void add(const char* name, bool number, std::function<std::string(T, M)> cell) { named_.push_back({{name, number}, std::move(cell)}); }
  void word(const char* name, const char* path) {
    add(name, false, [path](T, M m) { return said(m.opening->facts, path); });
  }
  void place() {
    add("mark", false, [](T, M m) { return m.opening->mark; });
    word("location", "location");
    word("floor", "floor");
    word("phase", "phase");
    add("quantity", true, [](T, M m) { return fmt::format("{}", m.quantity); });
    for (const char* name : {"width", "height"}) {
      add((std::string(name) + "_in").c_str(), true, [name](T, M m) { return cell(number(m.opening->facts, name)); });
      add((std::string(name) + "_mm").c_str(), true, [name](T, M m) { return in_unit(number(m.opening->facts, name), "mm"); });
    }
    word("mount", "mount");
    add("base", false, [](T, M m) { return base_of(*m.opening); });
  }
  void door() {
    word("windlocks", "door.windlocks");
    const auto pressure = [this](const char* name, const char* path) {
      add(name, true, [this, path](T, M m) { return in_unit(number(in_.project_of(*m.opening).facts, path), "psf"); });
    };
    pressure("p_in_psf", "site.wind.inward");
    pressure("p_out_psf", "site.wind.outward");
    add("p_source", false, [this](T, M m) { return wind_source(in_.project_of(*m.opening)); });
    add("rated_in_psf", true, [](T, M m) { return in_unit(number(m.opening->facts, "door.rated_inward"), "psf"); });
    add("rated_out_psf", true, [](T, M m) { return in_unit(number(m.opening->facts, "door.rated_outward"), "psf"); });
    word("approval", "door.approval");
    add("weight_lbf", true, [](T, M m) { return weight_of(*m.opening); });
  }
  void fastening() {
    add("type", false, [](T t, M) { return t.letter; });
    add("guide_fastener", false, [](T, M m) { return fastener_of(*m.result, 'G'); });
    add("guide_count", true, [this](T, M m) { return count_of(part_of(in_.fastenings_of(*m.opening), "guide")); });
    add("guide_spacing_in", true, [](T, M m) { return cell(number(*m.opening, "guide.spacing", Side::left)); });
    add("guide_embed_in", true, [this](T, M m) { return embed_of(part_of(in_.fastenings_of(*m.opening), "guide")); });
    add("guide_edge_in", true, [](T, M m) { return cell(number(*m.opening, "guide.edge", Side::left)); });
    add("bracket_fastener", false, [](T, M m) { return fastener_of(*m.result, 'B'); });
    add("bracket_count", true, [this](T, M m) { return count_of(part_of(in_.fastenings_of(*m.opening), "bracket")); });
  }
  void answer() {
    add("state", false, [](T, M m) { return std::string(rules::word(m.result->state)); });
    add("ratio", true, [](T, M m) { return ratio_of(*m.result) == "--" ? "" : ratio_of(*m.result); });
    add("governs", false, [](T, M m) { return m.result->governs; });
    add("why", false, [](T, M m) { return m.result->why; });
    add("flags", false, [](T, M m) {
      std::vector<std::string> flags;
      for (const auto& f : m.result->flags) flags.push_back(f.code);
      return text::join(flags);
    });
    add("missing", false, [](T, M m) { return missing_in(*m.result); });
  }
  /// Names of open exchange sheets for building models.
  void model() {
    word("remarks", "remarks");
    add("Name", false, [](T, M m) { return m.opening->mark; });
    word("TypeName", "type");
    word("Space", "space");
    word("ExtIdentifier", "ifc_guid");
  }
  /// A head of the user's that is also ours says whose it is.
  void own_heads(Grid& g) const {
    for (std::size_t i = 0; i < in_.own.heads.size(); ++i) {
      const auto& head = in_.own.heads[i];
      const bool taken = std::any_of(g.columns.begin(), g.columns.end(), [&](const Column& c) { return c.name == head; });
      g.columns.push_back({taken ? head + " (own)" : head, all_numbers(i)});
    }
  }
  /// Numbers that a spreadsheet would show as they stand: 007 and 1.50 stay text.
  [[nodiscard]] bool all_numbers(std::size_t i) const {
    bool any = false;
    for (const auto& [mark, cells] : in_.own.cells) {
      if (i >= cells.size() || cells[i].empty()) continue;
      const auto n = text::parse_number(cells[i]);
      if (!n || text::shortest(*n) != cells[i]) return false;
      any = true;
    }
    return any;
  }
  void add_not_read(Grid& g) const {
    const auto at = [&](const char* name) { return static_cast<std::size_t>(std::find_if(g.columns.begin(), g.columns.end(), [&](const Column& c) { return c.name == name; }) - g.columns.begin()); };
    for (const auto& mark : in_.not_read) {
      std::vector<std::string> row(g.columns.size());
      row[at("mark")] = mark;
      row[at("state")] = "not read";
      const auto own = in_.own.cells.find(mark);
      for (std::size_t i = 0; own != in_.own.cells.end() && i < own->second.size(); ++i) row[g.columns.size() - in_.own.heads.size() + i] = own->second[i];
      g.rows.push_back(std::move(row));
    }
  }

  const ScheduleInput& in_;
  std::vector<Named> named_;
};

}  // namespace

Grid opening_grid(const ScheduleInput& input) { return Openings(input).grid(); }

Grid type_grid(const ScheduleInput& input) {
  Grid g{"types", {{"type"}, {"fingerprint"}, {"openings", true}, {"base"}, {"guide_fastener"}, {"bracket_fastener"}, {"members"}, {"decided_by"}, {"ratio", true}, {"state"}}, {}};
  for (const auto& t : input.types) {
    std::size_t many = 0;
    std::vector<std::string> marks;
    for (const auto& m : t.members) {
      many += m.quantity;
      marks.push_back(m.opening->mark);
    }
    const auto& worst = *t.worst().result;
    g.rows.push_back({t.letter, t.fingerprint, fmt::format("{}", many), base_of(*t.worst().opening), fastener_of(worst, 'G'), fastener_of(worst, 'B'), text::join(marks), worst.governs.empty() ? worst.mark : worst.governs,
                      ratio_of(worst) == "--" ? "" : ratio_of(worst), std::string(rules::word(worst.state))});
  }
  return g;
}

Grid missing_grid(const ScheduleInput& input) {
  Grid g{"missing", {{"ask"}, {"find_out"}, {"fields"}, {"settles_alone", true}, {"asked_for", true}, {"openings"}}, {}};
  for (const auto& m : missing_of(input.types))
    g.rows.push_back({m.question->ask, m.question->find, text::join(m.question->fields), fmt::format("{}", m.alone), fmt::format("{}", m.openings), text::join(m.marks)});
  return g;
}

Grid component_grid(const ScheduleInput& input) {
  Grid g{"components", {{"Name"}, {"TypeName"}, {"Space"}, {"ExtIdentifier"}, {"FasteningType"}, {"FasteningState"}}, {}};
  for (const auto& [type, m] : in_file_order(input.project, input.types)) {
    const auto& f = m->opening->facts;
    g.rows.push_back({m->opening->mark, said(f, "type"), said(f, "space"), said(f, "ifc_guid"), type->letter, std::string(rules::word(m->result->state))});
  }
  return g;
}

}  // namespace jambcheck::papers
