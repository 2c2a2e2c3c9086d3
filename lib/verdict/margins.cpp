#include "verdict/margins.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "units/quantity.h"
#include "units/unit.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;
using rules::State;

/// A field that may slip, the step of its search in a unit, and how many steps are tried.
struct Slip {
  std::string_view path;
  bool falls;
  double step;
  std::string_view unit;
  int most;
};

// Steps are those of a tape: sixteenths of an inch for places of holes, quarters for spacings.
constexpr std::array kSlips = {
    Slip{"guide.edge", true, 1.0 / 16, "in", 400},          Slip{"guide.other_edge", true, 1.0 / 16, "in", 400},
    Slip{"guide.end", true, 1.0 / 16, "in", 400},           Slip{"guide.spacing", false, 1.0 / 4, "in", 200},
    Slip{"guide.lip", false, 1.0 / 16, "in", 100},          Slip{"bracket.edge", true, 1.0 / 16, "in", 400},
    Slip{"bracket.other_edge", true, 1.0 / 16, "in", 400},  Slip{"bracket.end", true, 1.0 / 16, "in", 400},
    Slip{"bracket.across", true, 1.0 / 16, "in", 200},      Slip{"bracket.along", true, 1.0 / 16, "in", 200},
    Slip{"guide.fastener.embedment", true, 1.0 / 8, "in", 100}, Slip{"bracket.fastener.embedment", true, 1.0 / 8, "in", 100},
    Slip{"guide.fastener.length", true, 1.0 / 8, "in", 100},    Slip{"bracket.fastener.length", true, 1.0 / 8, "in", 100},
    Slip{"gap", false, 1.0 / 16, "in", 100},                Slip{"buck.spacing", false, 1.0 / 4, "in", 200},
    Slip{"jamb.strength", true, 50, "psi", 200},            Slip{"jamb.specific_gravity", true, 0.01, "1", 100},
    Slip{"door.weight", false, 5, "lbf", 200},              Slip{"door.axle_projection", false, 1.0 / 4, "in", 200},
    Slip{"door.spring_torque", false, 5, "ft-lbf", 200},    Slip{"site.wind.speed", false, 1, "mph", 200},
    Slip{"site.wind.inward", false, 0.5, "psf", 400},       Slip{"site.wind.outward", false, 0.5, "psf", 400},
};

class Search {
 public:
  Search(const opening::Project& project, const opening::Opening& opening, const CheckOne& check_one) : opening_(opening), check_one_(check_one) {
    project_.facts = project.facts;
    project_.anchors = project.anchors;
  }

  void add(const Slip& slip, std::vector<Margin>& out) {
    const bool shared = slip.path.rfind("site.", 0) == 0;
    opening::Facts& facts = shared ? project_.facts : opening_.facts;
    for (const std::string_view side : {"", "left.", "right."}) {
      const auto it = facts.find(std::string(side) + std::string(slip.path));
      if (it == facts.end() || it->second.unknown || it->second.kind != Fact::Kind::number) continue;
      const Fact given = it->second;
      out.push_back(one(slip, std::string(side), it->second));
      it->second = given;
    }
  }

 private:
  /// The largest number of steps at which all still holds, by halving; the answers are those of the checks themselves.
  Margin one(const Slip& slip, const std::string& side, Fact& fact) {
    const double from = fact.value, step = (slip.falls ? -1 : 1) * units::parse_unit(slip.unit)->to_canonical(slip.step);
    int most = slip.most;
    if (slip.falls) most = std::min(most, static_cast<int>(std::ceil(from / -step)) - 1);
    const auto holds = [&](int k) {
      fact.value = from + k * step;
      return check_one_(project_, opening_).state == State::holds;
    };
    Margin m{side + std::string(slip.path), units::show(from, fact.shown), "", slip.falls, false, ""};
    int good = 0, bad = most + 1;
    for (int k = 1; k <= most && bad > most; k *= 2) (holds(k) ? good : bad) = k;  // near ones first
    if (bad > most && most > good && !holds(most)) bad = most;
    if (bad > most) good = std::max(good, most);
    while (bad <= most && bad - good > 1) {
      const int middle = (good + bad) / 2;
      (holds(middle) ? good : bad) = middle;
    }
    m.limit = units::show(from + good * step, fact.shown);
    m.beyond = bad > most;
    if (!m.beyond) {
      fact.value = from + (good + 1) * step;
      m.stops_at = check_one_(project_, opening_).governs;
    }
    return m;
  }

  opening::Project project_;
  opening::Opening opening_;
  const CheckOne& check_one_;
};

}  // namespace

std::vector<Margin> margins(const opening::Project& project, const opening::Opening& opening, const CheckOne& check_one) {
  std::vector<Margin> out;
  if (check_one(project, opening).state != State::holds) return out;
  Search search(project, opening, check_one);
  for (const Slip& slip : kSlips) search.add(slip, out);
  return out;
}

}  // namespace jambcheck::verdict
