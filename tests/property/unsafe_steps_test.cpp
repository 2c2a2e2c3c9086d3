// Search for unsafe steps: random projects, each made worse in one respect. The state must never improve, and no check may
// become easier where its rule is monotone. JAMBCHECK_SEARCH=100000 searches longer than the test suite does;
// JAMBCHECK_SEARCH_ONLY=guide.lip,guide.edge tries of the same steps those of these fields.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

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
};

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
  struct Broken {
    std::size_t states = 0, ratios = 0;
    std::map<std::string, std::size_t> where;
    std::map<std::string, std::string> example;  ///< the first of each
  };
  /// One broken step so that it can be done again: what was drawn, and what the check said before and after.
  static std::string told(const Opening& o, const std::string& path, double from, double to, const verdict::CheckResult& check, double ratio, double easier) {
    std::string out = fmt::format("{} {} {:.4f} -> {:.4f}, {}: {:.4f} -> {:.4f} ({});", o.mark, path, from, to, check.address, ratio, easier, check.load_case);
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
  static constexpr const char* kEdgesTooWide = "wider_than_board";  ///< flag of wood.edge.nearest
  /// Why a state may improve, each by what causes it.
  static bool may_improve(const verdict::OpeningResult& before, const verdict::OpeningResult& after, const std::string& path) {
    // loads.guide_beam o1: another spacing moves every fastener; the last one may come nearer to the head.
    if (path == "guide.spacing" || path == "buck.spacing") return true;
    // Edges that are wider together than the piece contradict each other; less of one ends that.
    const auto contradicts = [](const rules::Reason& r) { return r.code == kEdgesTooWide; };
    const bool about_edges = path.size() > 4 && path.compare(path.size() - 4, 4, "edge") == 0;
    if (about_edges && before.state == State::engineer && std::any_of(before.flags.begin(), before.flags.end(), contradicts)) return true;
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
};

TEST_F(UnsafeSteps, WorseNeverHelps) {
  const char* asked = std::getenv("JAMBCHECK_SEARCH");
  const int wanted = asked ? std::atoi(asked) : 1200;
  const char* only = std::getenv("JAMBCHECK_SEARCH_ONLY");
  const auto left_out = [&](const std::string& path) { return only && ("," + std::string(only) + ",").find("," + path + ",") == std::string::npos; };
  const auto project = read("cases/boat_lockers/project.yaml");
  verdict::Checker checker(set());
  Random random(2026);
  Broken broken;
  for (int n = 0; n < wanted; ++n) {
    Opening before = project.openings[random() % project.openings.size()];
    if (!before.choices.empty()) continue;
    draw(random, before);
    const Worse& step = kWorse[random() % std::size(kWorse)];
    const auto it = before.facts.find(step.path);
    if (it == before.facts.end() || it->second.unknown || it->second.kind != Fact::Kind::number) continue;
    if (moves_the_other_edge(before, step.path)) continue;
    Opening after = before;
    after.facts[step.path].value *= step.worse > 0 ? uniform(random, 1, 1.6) : uniform(random, 0.5, 1);
    if (left_out(step.path)) continue;
    const auto a = checker.check(project, before), b = checker.check(project, after);
    const std::string where = before.mark + " " + step.path;
    if (b.state < a.state && !may_improve(a, b, step.path)) {
      ++broken.states;
      ++broken.where["state of " + where + ": " + std::string(rules::word(a.state)) + " -> " + std::string(rules::word(b.state)) + " " + a.governs];
    }
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
        ++broken.ratios;
        ++broken.where[k.rule->id + " easier by " + step.path];
        broken.example.emplace(k.rule->id + " easier by " + step.path, told(before, step.path, it->second.value, after.facts[step.path].value, k, x, y));
      }
  }
  for (const auto& [where, count] : broken.where) ADD_FAILURE() << count << " x " << where << "\n" << broken.example[where];
}

}  // namespace
}  // namespace jambcheck
