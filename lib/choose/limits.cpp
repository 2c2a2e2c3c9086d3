#include "choose/limits.h"

#include <algorithm>
#include <atomic>
#include <array>
#include <cmath>
#include <mutex>
#include <optional>
#include <unordered_map>

#include <fmt/format.h>

#include "threads/share_out.h"
#include "units/unit.h"
#include "verdict/link_memory.h"

namespace jambcheck::choose {
namespace {

using opening::Fact;
using opening::Opening;
using opening::Project;
using rules::State;

// Steps are those of a tape and of drawings. "wind.pressure" moves both directions at once.
constexpr std::array kAxes = {
    Axis{"wind.pressure", "psf", 0.5, 10, 60, 5, false},     Axis{"wind.speed", "mph", 1, 90, 180, 10, false},
    Axis{"width", "in", 1, 48, 192, 12, false},              Axis{"height", "in", 1, 60, 192, 12, false},
    Axis{"door.weight", "lbf", 5, 100, 600, 50, false},      Axis{"door.spring_torque", "ft-lbf", 1, 20, 120, 10, false},
    Axis{"gap", "in", 1.0 / 16, 0, 2, 0.25, false},
    Axis{"guide.spacing", "in", 0.25, 6, 32, 2, false},      Axis{"guide.edge", "in", 1.0 / 16, 0.75, 4, 0.25, true},
    Axis{"guide.end", "in", 1.0 / 16, 1, 12, 1, true},       Axis{"guide.lip", "in", 1.0 / 16, 0.5, 3, 0.25, false},
    Axis{"guide.fastener.length", "in", 0.5, 1.5, 8, 0.5, true}, Axis{"bracket.fastener.length", "in", 0.5, 1.5, 8, 0.5, true},
    Axis{"guide.fastener.embedment", "in", 0.25, 1.5, 6, 0.25, true}, Axis{"bracket.fastener.embedment", "in", 0.25, 1.5, 6, 0.25, true},
    Axis{"bracket.edge", "in", 1.0 / 16, 0.75, 4, 0.25, true}, Axis{"bracket.end", "in", 1.0 / 16, 1, 12, 1, true},
    Axis{"bracket.across", "in", 1.0 / 16, 1, 8, 0.5, true}, Axis{"bracket.along", "in", 1.0 / 16, 2, 12, 1, true},
    Axis{"jamb.strength", "psi", 50, 1000, 6000, 500, true}, Axis{"jamb.thickness", "in", 1.0 / 16, 1.5, 12, 0.5, true},
};
constexpr int kMostSteps = 2000;

std::vector<std::string> paths(const Project& project, const Axis& axis) {
  (void)project;
  if (axis.name == "wind.pressure") return {"site.wind.inward", "site.wind.outward"};
  if (axis.name == "wind.speed") return {"site.wind.speed"};
  return {std::string(axis.name)};
}
bool is_shared(const Axis& axis) { return axis.name.substr(0, 5) == "wind."; }

double canonical(const Axis& axis, double value) { return units::parse_unit(axis.unit)->to_canonical(value); }

bool is_number(const opening::Facts& facts, const std::string& path) {
  const auto it = facts.find(path);
  return it != facts.end() && !it->second.unknown && it->second.kind == Fact::Kind::number;
}

/// The pictures of one opening, one for each combination of the values that the file leaves open.
struct Pictures {
  std::vector<std::pair<Project, Opening>> all;
};

/// Whether a part held, by all that its answer hangs on: a table asks the same of its brackets for every edge of the guide.
/// Shared between threads.
class Known {
 public:
  std::optional<bool> find(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto it = holds_.find(key);
    return it == holds_.end() ? std::nullopt : std::optional(it->second);
  }
  void keep(std::string key, bool holds) {
    const std::lock_guard lock(mutex_);
    if (holds_.size() >= kMost) holds_.clear();
    holds_.emplace(std::move(key), holds);
  }

 private:
  static constexpr std::size_t kMost = 100000;  // some two hundred megabytes
  std::mutex mutex_;
  std::unordered_map<std::string, bool> holds_;
};

class Search {
 public:
  Search(verdict::Briefs& briefs, const rules::RuleSet& set, Known& known, const Pictures& pictures) : briefs_(briefs), set_(set), known_(known), pictures_(pictures) {
    for (const bool bracket : {false, true})
      for (const auto& part : verdict::sides_that_differ(pictures.all.front().second, bracket)) parts_.push_back(part);
  }
  void fix(const Axis& axis, double value) {
    for (auto& [p, o] : pictures_.all) put_axis(p, o, axis, value);
    if (!is_of_part(axis)) place_ += at(axis, value);
  }
  Limit of(const Axis& axis) {
    // From the harmless end: for an edge the widest, for a load the least. Steps are counted from there.
    const double step = canonical(axis, axis.step);
    const double span = canonical(axis, axis.to) * 4;
    const int last = std::min(kMostSteps, static_cast<int>(span / step));
    const auto value = [&](int k) { return axis.falls ? (last - k) * step : (k + 1) * step; };
    const auto holds = [&](int k) { return holds_at(axis, value(k)); };
    Limit out;
    const int now = std::clamp(step_of_now(axis, step, last), 0, last - 1);
    int good = now;
    while (good >= 0 && !holds(good)) --good;
    if (good < 0)
      for (good = now + 1; good < last && !holds(good);) ++good;
    if (good >= last) return out;
    int worst = good, best = good;
    while (worst + 1 < last && holds(worst + 1)) ++worst;
    while (best > 0 && holds(best - 1)) --best;
    out.kind = worst + 1 >= last ? Limit::Kind::beyond : Limit::Kind::at;
    out.value = value(worst);
    out.bounded = best > 0;
    out.inner = value(best);
    if (out.kind == Limit::Kind::at) out.stops = why_not_at(axis, value(worst + 1));
    return out;
  }

 private:
  int step_of_now(const Axis& axis, double step, int last) const {
    const auto& [p, o] = pictures_.all.front();
    const auto& facts = is_shared(axis) ? p.facts : o.facts;
    double now = 0;
    for (const auto& path : paths(p, axis))
      if (is_number(facts, path)) now = std::max(now, facts.at(path).value);
    if (now <= 0) return -1;
    return axis.falls ? last - static_cast<int>(std::ceil(now / step - 1e-9)) : static_cast<int>(std::floor(now / step + 1e-9)) - 1;
  }
  /// Each picture with the axis at this value, until one says enough.
  template <class Enough>
  void each(const Axis& axis, double value, const Enough& enough) {
    for (const auto& [p, o] : pictures_.all) {
      Project project;
      project.facts = p.facts;
      project.anchors = p.anchors;
      Opening opening = o;
      put_axis(project, opening, axis, value);
      if (enough(project, opening)) return;
    }
  }
  bool holds_at(const Axis& axis, double value) {
    bool all = true;
    const std::string place = is_of_part(axis) ? place_ : place_ + at(axis, value);
    std::size_t picture = 0;
    each(axis, value, [&](const Project& project, const Opening& opening) {
      const std::string where = std::to_string(picture++) + place;
      for (std::size_t i = 0; all && i < parts_.size(); ++i) {
        if (holds(project, opening, parts_[i], where)) continue;
        all = false;
        std::rotate(parts_.begin(), parts_.begin() + static_cast<long>(i), parts_.end());  // the next step likely fails here too
      }
      return !all;
    });
    return all;
  }
  /// Loads hang on nothing that stands below a part but on how many fasteners have their turn (Briefs::hold_loads): with
  /// the picture, the axes that are of no part, and what the part's links say, all is told.
  bool holds(const Project& project, const Opening& opening, verdict::Part part, const std::string& where) {
    std::string key = verdict::id_of(part) + where;
    for (const auto& link : verdict::links_of(project, opening, set_, part.side, part.bracket, verdict::Cases::none)) {
      key += '/' + std::to_string(link.turns) + verdict::LinkMemory::key_of(link);
      for (const auto& reason : link.reasons) key += reason.code + ' ' + std::string(rules::word(reason.leads_to)) + ';';
    }
    if (const auto known = known_.find(key)) return *known;
    const bool out = briefs_.part(project, opening, part).state == State::holds;
    known_.keep(std::move(key), out);
    return out;
  }
  static bool is_of_part(const Axis& axis) { return axis.name.starts_with("guide.") || axis.name.starts_with("bracket."); }
  static std::string at(const Axis& axis, double value) { return fmt::format(";{}={}", axis.name, value); }
  std::string why_not_at(const Axis& axis, double value) {
    State worst = State::holds;
    std::string why;
    each(axis, value, [&](const Project& project, const Opening& opening) {
      const auto brief = briefs_.whole(project, opening);
      if (brief.state <= worst) return false;
      worst = brief.state;
      why = brief.rule ? std::string(rules::word(brief.state)) + ": " + brief.rule->title : std::string(rules::word(brief.state));
      return false;
    });
    return why;
  }
  verdict::Briefs& briefs_;
  const rules::RuleSet& set_;
  Known& known_;
  Pictures pictures_;
  std::string place_;  ///< where the table stands: the axes that are of no part
  std::vector<verdict::Part> parts_;  ///< what failed last comes first
};

std::vector<std::vector<double>> grid(const std::vector<const Axis*>& over) {
  std::vector<std::vector<double>> rows = {{}};
  for (const Axis* axis : over) {
    std::vector<std::vector<double>> longer;
    for (const auto& row : rows)
      for (int k = 0; axis->from + k * axis->pace <= axis->to + 1e-9; ++k) {
        longer.push_back(row);
        longer.back().push_back(canonical(*axis, axis->from + k * axis->pace));
      }
    rows = std::move(longer);
  }
  return rows;
}

}  // namespace

const Axis* find_axis(std::string_view name) {
  for (const Axis& axis : kAxes)
    if (axis.name == name) return &axis;
  return nullptr;
}

std::vector<std::string> axis_names() {
  std::vector<std::string> out;
  for (const Axis& axis : kAxes) out.emplace_back(axis.name);
  return out;
}

bool has_axis(const Project& project, const Opening& opening, const Axis& axis) {
  const auto& facts = is_shared(axis) ? project.facts : opening.facts;
  for (const auto& path : paths(project, axis))
    for (const char* side : {"", "left.", "right."})
      if (is_number(facts, side + path)) return true;
  return axis.name == "gap";
}

std::vector<std::string> usual_limits(const Project& project, const Opening& opening) {
  std::vector<std::string> out;
  for (const char* name : {"wind.pressure", "wind.speed", "width", "door.weight", "guide.edge", "bracket.edge"})
    if (has_axis(project, opening, *find_axis(name)) && !(std::string_view(name) == "wind.speed" && !out.empty())) out.emplace_back(name);
  return out;
}

void put_axis(Project& project, Opening& opening, const Axis& axis, double value) {
  auto& facts = is_shared(axis) ? project.facts : opening.facts;
  for (const auto& path : paths(project, axis))
    for (const char* side : {"", "left.", "right."}) {
      const auto it = facts.find(side + path);
      if (it != facts.end()) it->second.value = value;
    }
  if (axis.name == "gap" && !facts.count("gap")) facts["gap"] = number(value);
}

LimitTable limits(verdict::Checker& checker, const rules::RuleSet& set, const Project& project, const Opening& opening, const std::vector<const Axis*>& over, const std::vector<const Axis*>& of, int jobs) {
  LimitTable table;
  table.over = over;
  table.of = of;
  for (const auto& at : grid(over)) table.rows.push_back({at, std::vector<Limit>(of.size())});
  Pictures pictures;
  for_each_answer(project, opening, [&](const Project& p, const Opening& o) {
    Project copy;
    copy.facts = p.facts;
    copy.anchors = p.anchors;
    pictures.all.emplace_back(std::move(copy), o);
  });
  std::atomic<std::size_t> evaluations{0};
  Known known;
  threads::share_out(table.rows.size(), jobs, [&](threads::Turns& turns, std::size_t) {
    verdict::Briefs briefs(set, checker.plans());
    while (const auto r = turns.next()) {
      Search search(briefs, set, known, pictures);
      for (std::size_t i = 0; i < over.size(); ++i) search.fix(*over[i], table.rows[*r].at[i]);
      for (std::size_t k = 0; k < of.size(); ++k) table.rows[*r].limits[k] = search.of(*of[k]);
    }
    evaluations += briefs.evaluations();
  });
  table.evaluations = evaluations;
  return table;
}

}  // namespace jambcheck::choose
