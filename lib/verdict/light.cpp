#include "verdict/light.h"

#include <cmath>
#include <limits>
#include <set>

#include "verdict/brief_memory.h"
#include "verdict/say.h"

namespace jambcheck::verdict {

using rules::State;

struct Light::Memory {
  Memory(const rules::RuleSet& set, rules::PlanCache& plans) : shapes(set, plans, solved) {}
  exec::Memo solved;
  Shapes shapes;
};

namespace {

/// Nothing but its ratios decides: then no check of the link has a reason that the row would have to print.
bool plain(const Shape& shape, std::span<const Worst> worst, const Connection& connection) {
  if (!connection.reasons.empty() || !shape.need.open.empty() || !shape.need.covered) return false;
  return std::all_of(worst.begin(), worst.end(), [](const Worst& w) { return w.state == State::holds || (w.state == State::short_ && w.by_ratio); });
}

}  // namespace

Light::Light(const rules::RuleSet& set, rules::PlanCache& plans) : set_(set), memory_(std::make_unique<Memory>(set, plans)) {}
Light::~Light() = default;

std::optional<LightResult> Light::check(const opening::Project& project, const opening::Opening& opening) {
  if (!project.choices.empty() || !opening.choices.empty()) return std::nullopt;
  Brief whole;
  LightResult out;
  std::set<AssumedValue> assumed;
  for (const bool bracket : {true, false})
    for (const Part part : sides_that_differ(opening, bracket)) {
      for (const auto& connection : links_of(project, opening, set_, part.side, part.bracket)) {
        Shape& shape = memory_->shapes.find(connection.common, connection.cases.front());
        if (!shape.plan) return std::nullopt;
        const auto common = rules::columns_of(*shape.plan, connection.common);
        const auto& worst = shape.run->run(shape.checks, common, {}, 1, columns_of_cases(*shape.plan, connection.cases), false);
        if (!plain(shape, worst, connection)) return std::nullopt;
        for (auto& value : assumed_by(*shape.plan, set_, connection)) assumed.insert(std::move(value));
        for (const auto& [what, why] : connection.assumed) assumed.insert({what, "", why});
        const Brief link = brief_of_link(shape, worst, Beside(connection), connection.link_id);
        if (!link.decided) return std::nullopt;
        if (whole.decided && !decides(link.state, link.ratio, whole.state, whole.ratio)) continue;
        whole = link;
        out.governs = opening.mark + "/" + connection.id + "/" + connection.link_id + "/" + link.rule->code;
        out.why = why_it_governs(connection.name, *link.rule, connection.cases[link.load_case].say);
      }
    }
  if (!whole.decided || !whole.rule) return std::nullopt;
  out.state = whole.state;
  out.ratio = whole.ratio;
  out.assumed = assumed.size();
  return out;
}

}  // namespace jambcheck::verdict
