#include "verdict/by_others.h"

#include <cmath>
#include <tuple>

#include <fmt/format.h>

#include "text/suggest.h"
#include "units/quantity.h"
#include "verdict/demand.h"
#include "verdict/key_values.h"

namespace jambcheck::verdict {
namespace {

struct Wanted {
  const char* key;
  Greatest& (*of)(ByOthers&);
};

constexpr Wanted kWanted[] = {
    {"others.one_pull", [](ByOthers& b) -> Greatest& { return b.one.pull; }},     {"others.one_push", [](ByOthers& b) -> Greatest& { return b.one.push; }},
    {"others.one_across", [](ByOthers& b) -> Greatest& { return b.one.across; }}, {"others.one_along", [](ByOthers& b) -> Greatest& { return b.one.along; }},
    {"others.all_pull", [](ByOthers& b) -> Greatest& { return b.all.pull; }},     {"others.all_push", [](ByOthers& b) -> Greatest& { return b.all.push; }},
    {"others.all_across", [](ByOthers& b) -> Greatest& { return b.all.across; }}, {"others.all_along", [](ByOthers& b) -> Greatest& { return b.all.along; }},
    {"others.moment", [](ByOthers& b) -> Greatest& { return b.moment; }},
};

void take(Greatest& most, double value, const std::string& load_case) {
  if (std::isnan(value) || value <= most.value * kTie) return;
  most = {value, value == 0 ? std::string() : load_case};
}

/// Every fastener of a bracket has its turn in the load cases, but each turn works out all of them.
bool is_first_turn(const LoadCase& c) {
  const auto* turn = c.values.find("hole.index");
  return !turn || turn->value == 1;
}
std::string without_turn(const std::string& say) { return say.substr(0, say.rfind(", fastener 1")); }

ByOthers of_link(const rules::RuleSet& set, rules::PlanCache& plans, const Connection& link, bool has_board) {
  ByOthers out{link.id, link.name, link.link_id, link.link, link.common.word("basis.method"), has_board && link.link_id == "L1", {}, {}, {}};
  std::vector<std::string_view> keys;
  for (const auto& wanted : kWanted) keys.push_back(wanted.key);
  for (const LoadCase& c : link.cases) {
    if (!is_first_turn(c)) continue;
    const KeyValues values = key_values(set, plans, merged(link, c), keys);
    for (const auto& wanted : kWanted) take(wanted.of(out), values.at(wanted.key), without_turn(c.say));
  }
  return out;
}

void add(std::vector<std::string>& parts, const char* what, const Greatest& g, const char* unit, int digits) {
  if (std::isnan(g.value)) return;
  const std::string amount = units::show(g.value, *units::parse_unit(unit), digits);
  parts.push_back(fmt::format("{} {}{}", what, amount, g.load_case.empty() ? "" : " (" + g.load_case + ")"));
}

std::string forces_text(const char* who, const Forces& f, int digits) {
  std::vector<std::string> parts;
  add(parts, "pull", f.pull, "lbf", digits);
  add(parts, "push", f.push, "lbf", digits);
  add(parts, "across", f.across, "lbf", digits);
  add(parts, "along", f.along, "lbf", digits);
  return parts.empty() ? fmt::format("{}: not worked out", who) : fmt::format("{}: {}", who, text::join(parts));
}

}  // namespace

std::vector<ByOthers> by_others(const rules::RuleSet& set, rules::PlanCache& plans, const std::vector<Connection>& links) {
  std::vector<ByOthers> out;
  for (std::size_t i = 0; i < links.size(); ++i) {
    const bool has_board = i + 1 < links.size() && links[i + 1].id == links[i].id;
    out.push_back(of_link(set, plans, links[i], has_board));
  }
  return out;
}

void take_greater(std::vector<ByOthers>& into, const std::vector<ByOthers>& more) {
  if (into.size() != more.size()) return;
  for (std::size_t i = 0; i < into.size(); ++i) {
    ByOthers next = more[i];
    for (const auto& wanted : kWanted) take(wanted.of(into[i]), wanted.of(next).value, wanted.of(next).load_case);
  }
}

std::string by_others_text(const ByOthers& b, int digits) {
  std::string out = fmt::format("By others: {}, {}{}{}: {}; {}", b.name, b.link, b.level.empty() ? "" : ", " + b.level, b.in_board ? ", on the board" : "",
                                forces_text("one fastener", b.one, digits), forces_text("all together", b.all, digits));
  std::vector<std::string> moment;
  add(moment, "; moment off the wall or toward it", b.moment, "in-lbf", digits);
  return moment.empty() ? out : out + moment.front();
}

}  // namespace jambcheck::verdict
