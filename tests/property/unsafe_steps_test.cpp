// Search for unsafe steps: random projects, each made worse in one respect. The state must never improve, and no check may
// become easier where its rule is monotone. JAMBCHECK_SEARCH=100000 makes that many steps, more than the test suite does;
// JAMBCHECK_SEARCH_SEED=2 draws others; JAMBCHECK_SEARCH_ONLY="S-203 width" looks nearer at one opening and field.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstdio>
#include <map>
#include <random>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "opening/field.h"
#include "support/shipped.h"
#include "units/unit.h"

namespace jambcheck {
namespace {

using opening::Fact;
using opening::Opening;
using rules::State;
using Random = std::mt19937_64;

/// A field whose growth is worse (+1) or whose loss is worse (-1), and by which factor at most it is moved.
struct Worse {
  const char* path;
  int worse;
};
constexpr Worse kWorse[] = {
    {"guide.edge", -1},     {"guide.other_edge", -1}, {"guide.end", -1},        {"guide.spacing", +1},  {"guide.lip", +1},       {"guide.fastener.embedment", -1},
    {"bracket.edge", -1},   {"bracket.other_edge", -1}, {"bracket.end", -1},    {"bracket.fastener.embedment", -1}, {"jamb.strength", -1}, {"gap", +1},
    {"door.weight", +1},    {"door.axle_projection", +1}, {"width", +1},    {"buck.spacing", +1},    {"buck.edge", -1},
    {"jamb.specific_gravity", -1}, {"door.windlock_pull", +1}, {"jamb.thickness", -1}, {"bracket.axle_offset", +1},
    // Of the project, for all its openings.
    {"site.wind.speed", +1}, {"site.wind.topography", +1}, {"building.height", +1},
};
/// One step in so many takes a value away instead.
constexpr unsigned kRemovedOneIn = 6;

/// What a project says beside its own values: any may be drawn.
struct Drawn {
  const char* path;
  std::vector<const char*> words;
  double lo, hi;
  const char* unit;
};
const std::vector<Drawn>& drawn() {
  static const std::vector<Drawn> all = {
      {"guide.edge", {}, 0.5, 6, "in"},      {"guide.spacing", {}, 8, 36, "in"},   {"guide.lip", {}, 0.5, 3, "in"},       {"guide.toe", {}, 0.5, 3, "in"},
      {"guide.first", {}, 3, 14, "in"},      {"bracket.edge", {}, 0.75, 6, "in"},  {"bracket.across", {}, 1.5, 10, "in"}, {"bracket.along", {}, 2, 10, "in"},
      {"width", {}, 48, 140, "in"},          {"height", {}, 72, 140, "in"},        {"door.axle_projection", {}, 6, 14, "in"}, {"gap", {}, 0, 0.6, "in"},
      {"jamb.strength", {}, 1600, 5000, "psi"}, {"face", {"inside", "outside"}, 0, 0, ""}, {"mount", {"face", "between"}, 0, 0, ""},
      {"door.torque_at", {"left", "right", "both"}, 0, 0, ""}, {"door.curtain_leaves", {"wall_side", "room_side"}, 0, 0, ""},
  };
  return all;
}

double uniform(Random& random, double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(random); }

/// What is checked: an opening, and what the job says for all.
struct Case {
  opening::Project job;  ///< without its openings
  Opening opening;
  /// The place of a fact of either, or null.
  opening::Facts* holder(const std::string& path) {
    return opening.facts.count(path) ? &opening.facts : job.facts.count(path) ? &job.facts : nullptr;
  }
};

void draw_wind(Random& random, opening::Facts& facts) {
  facts.at("site.wind.speed").value = units::parse_unit("mph")->to_canonical(uniform(random, 90, 150));
  facts.at("building.height").value = units::parse_unit("ft")->to_canonical(uniform(random, 10, 40));
}

void draw(Random& random, Opening& o) {
  const auto& list = drawn();
  for (int n = 0; n < 4; ++n) {
    const Drawn& d = list[random() % list.size()];
    const auto it = o.facts.find(d.path);
    if (it == o.facts.end() || it->second.unknown) continue;
    if (!d.words.empty()) it->second.word = d.words[random() % d.words.size()];
    else it->second.value = units::parse_unit(d.unit)->to_canonical(uniform(random, d.lo, d.hi));
  }
}

class UnsafeSteps : public Shipped {
 protected:
  /// Edges that are wider together than the piece contradict each other (flag of wood.edge.nearest); less of one, or one
  /// left out, ends that.
  static bool ends_a_contradiction(const verdict::OpeningResult& before, const std::string& step) {
    const auto contradicts = [](const rules::Reason& r) { return r.code == "wider_than_board"; };
    return step.find("edge") != std::string::npos && before.state == State::engineer && std::any_of(before.flags.begin(), before.flags.end(), contradicts);
  }
  struct Broken {
    std::map<std::string, std::size_t> where;
    std::map<std::string, std::string> example;  ///< the first of each
    void add(const std::string& what, const std::string& first) {
      ++where[what];
      example.emplace(what, first);
    }
    /// Without a value nothing comes to hold. (What was SHORT may then be NOT SHOWN: no yes either.)
    void compare_removed(const verdict::OpeningResult& a, const verdict::OpeningResult& b, const std::string& what) {
      if (a.state == State::holds || b.state != State::holds || ends_a_contradiction(a, what)) return;
      // loads.guide_face_mounted o5: the maker's reaction goes before statics; where no sheet is named, statics stands.
      if (what.rfind("reactions.guide_", 0) == 0 && what.find("left out") != std::string::npos) return;
      ++where[fmt::format("{} is {} by {} and holds with {}", a.mark, rules::word(a.state), a.governs, what)];
    }
  };
  struct Step {
    std::string path;
    double from, to;
  };
  /// One broken step so that it can be done again: what was drawn.
  static std::string told(const Opening& o, const Step& step) {
    std::string out = fmt::format("{} {} {:.4f} -> {:.4f};", o.mark, step.path, step.from, step.to);
    for (const Drawn& d : drawn())
      if (const auto it = o.facts.find(d.path); it != o.facts.end()) out += fmt::format(" {} {}", d.path, it->second.word.empty() ? fmt::format("{:.4f}", it->second.value) : it->second.word);
    return out;
  }
  /// Checks that may become easier, each by its clause: the list of the monotone test, and what moves the load itself.
  static bool excepted(const std::string& rule, const std::string& path) {
    // Another spacing moves every fastener, the last one nearer to the head among them; another hole of the board has
    // other levers. The states are still held against each other.
    if (path == "guide.spacing" || path == "buck.spacing" || path == "buck.edge") return true;
    static const std::set<std::pair<std::string, std::string>> kExceptions = {
        {"wood.lag_screw.edge_any", "guide.edge"},           // nds-2018 12.5.1C: half the distance of the rows is asked for
        {"wood.lag_screw.edge_any", "bracket.edge"},
        {"steel.screw.drill_reach", "jamb.thickness"},       // thinner steel is easier to drill and to reach through
        {"steel.screw.thread_through", "jamb.thickness"},
        {"steel.bolt.length", "jamb.thickness"},
        {"steel.bolt.edge", "jamb.thickness"},               // aisi-s100-16 J3.2: 1.5 d under 3/16 in; thicker steel follows aisc360-16 J3.4
        {"anchor.reach", "guide.fastener.embedment"},        // a shallower anchor is longer than it needs to be
        {"anchor.reach", "bracket.fastener.embedment"},
        {"wood.lag_screw.spacing_along", "jamb.thickness"},  // nds-2018 12.5.1D: a stockier screw may stand nearer
        {"concrete.shear.edge_other", "guide.other_edge"},   // aci318-19 17.7.2.4: beside a far edge a near side counts more
        {"concrete.shear.edge_other", "bracket.other_edge"},
        {"concrete.shear.pryout", "guide.fastener.embedment"},  // aci318-19 17.5.1.3: shallower anchors come to act alone
        {"concrete.shear.pryout", "bracket.fastener.embedment"},
        {"concrete.shear.along", "guide.other_edge"},
        {"concrete.shear.along", "bracket.other_edge"},
        {"concrete.shear.oblique", "guide.other_edge"},
        {"concrete.shear.oblique", "bracket.other_edge"},
    };
    return kExceptions.count({rule, path}) != 0;
  }
  /// The guide's hole and lip are levers about the board's own fasteners, to either side of them. With windlocks a longer
  /// lip lessens the pull of their moment (loads.guide_face_mounted o1: T_heel).
  static bool moves_a_lever(const Opening& o, const std::string& address, const std::string& path) {
    const auto locks = o.facts.find("door.windlocks");
    if (path == "guide.lip" && locks != o.facts.end() && locks->second.word == "yes") return true;
    return address.find("/L2/") != std::string::npos && (path == "guide.edge" || path == "guide.lip");
  }
  /// Why a state may improve, each by what causes it.
  static bool may_improve(const verdict::OpeningResult& before, const verdict::OpeningResult& after, const std::string& path) {
    // loads.guide_beam o1: another spacing moves every fastener; the last one may come nearer to the head.
    if (path == "guide.spacing" || path == "buck.spacing") return true;
    // asce7-16 figure 30.3-1: a wider door takes less pressure, and the flag on more than 35 psf asks no engineer then.
    if (path == "width" && before.state == State::engineer && before.why.rfind("more than 35 psf", 0) == 0) return true;
    if (ends_a_contradiction(before, path)) return true;
    // aisi-s100-16 J3.2 asks 1.5 d of sheet under 3/16 in, aisc360-16 J3.4 more of thicker steel.
    if (path == "jamb.thickness" && before.state == State::short_ && before.governs.size() > 4 && before.governs.substr(before.governs.size() - 4) == "/B18") return true;
    // A depth that is no size of an anchor's report has no strength there: no number, and no yes.
    return path.find("embedment") != std::string::npos && after.state == State::engineer;
  }
  /// Where only one edge is given, the other follows from the width of the jamb: less of the one is more of the other.
  static bool moves_the_other_edge(const Opening& o, const std::string& path) {
    const std::string part = path.substr(0, path.find('.'));
    return path == part + ".edge" && o.facts.count(part + ".other_edge") == 0;
  }
  static void compare(Broken& broken, const Opening& before, const Step& step, const verdict::OpeningResult& a, const verdict::OpeningResult& b) {
    if (b.state < a.state && !may_improve(a, b, step.path))
      broken.add(fmt::format("state of {} {}: {} -> {} {}", before.mark, step.path, rules::word(a.state), rules::word(b.state), a.governs), told(before, step) + "\n" + a.why);
    std::map<std::string, const verdict::CheckResult*> first;
    for (const auto& c : a.connections)
      for (const auto& k : c.checks) first[k.address] = &k;
    for (const auto& c : b.connections)
      for (const auto& k : c.checks) {
        const auto old = first.find(k.address);
        if (old == first.end() || k.rule->check->kind == rules::CheckKind::gate || excepted(k.rule->id, step.path) || moves_a_lever(before, k.address, step.path)) continue;
        // A check whose state got worse shows the ratio of the load case with that state, which may be less.
        if (k.judgement.state > old->second->judgement.state) continue;
        const double x = old->second->judgement.ratio, y = k.judgement.ratio;
        if (std::isnan(x) || std::isnan(y) || y >= x * (1 - 1e-9) - 1e-9) continue;
        const std::string where = k.rule->id + " easier by " + step.path;
        broken.add(where, told(before, step) + fmt::format("\n{}: {:.4f} -> {:.4f} ({})", k.address, x, y, k.load_case));
      }
  }
};

/// Takes away one value that something hangs on: called unknown, or left out. The path, or nothing where there is none to take.
std::string remove_one(Random& random, Opening& o) {
  const auto fact = std::next(o.facts.begin(), static_cast<long>(random() % o.facts.size()));
  const std::string path = fact->first;
  const bool left_out = random() % 2 == 0;
  if (!left_out) fact->second.unknown = true;
  else if (only_tells(path) || path == "gap" || path.rfind("buck.", 0) == 0) return {};  // no buck said is no buck
  else o.facts.erase(fact);
  return path + (left_out ? " left out" : " unknown");
}

TEST_F(UnsafeSteps, WorseNeverHelps) {
  const auto number_of = [](const char* name, int usual) { const char* asked = std::getenv(name); return asked ? std::atoi(asked) : usual; };
  const int wanted = number_of("JAMBCHECK_SEARCH", 600);
  const char* only = std::getenv("JAMBCHECK_SEARCH_ONLY");
  auto project = read("cases/boat_lockers/project.yaml");
  const auto openings = std::exchange(project.openings, {});
  verdict::Checker checker(set());
  Random random(static_cast<unsigned>(number_of("JAMBCHECK_SEARCH_SEED", 2026)));
  Broken broken;
  std::map<std::string, int> made;
  for (int steps = 0; steps < wanted;) {
    Case before{project, openings[random() % openings.size()]};
    if (!before.opening.choices.empty()) continue;
    draw(random, before.opening);
    draw_wind(random, before.job.facts);
    Case after = before;
    if (!only && random() % kRemovedOneIn == 0) {
      const std::string what = remove_one(random, after.opening);
      if (what.empty()) continue;
      ++steps, ++made["a value removed"];
      broken.compare_removed(checker.check(before.job, before.opening), checker.check(after.job, after.opening), what);
      continue;
    }
    const Worse& step = kWorse[random() % std::size(kWorse)];
    if (only && before.opening.mark + " " + step.path != only) continue;
    opening::Facts* facts = after.holder(step.path);
    if (!facts) continue;
    Fact& fact = facts->at(step.path);
    if (fact.unknown || fact.kind != Fact::Kind::number || moves_the_other_edge(before.opening, step.path)) continue;
    const double was = fact.value;
    fact.value *= step.worse > 0 ? uniform(random, 1, 1.6) : uniform(random, 0.5, 1);
    ++steps, ++made[step.path];
    compare(broken, before.opening, {step.path, was, fact.value}, checker.check(before.job, before.opening), checker.check(after.job, after.opening));
  }
  for (const auto& [path, count] : made) RecordProperty(path, count);
  if (wanted > 10000)
    for (const auto& [path, count] : made) std::printf("%7d x %s\n", count, path.c_str());
  for (const auto& [where, count] : broken.where) ADD_FAILURE() << count << " x " << where << "\n" << broken.example[where];
}

}  // namespace
}  // namespace jambcheck
