#include "verdict/brief.h"

#include <limits>

#include "verdict/brief_memory.h"
#include "verdict/demand.h"

namespace jambcheck::verdict {

using rules::State;

namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

bool has_sides(const opening::Opening& o) {
  for (const std::string_view side : {"left.", "right."}) {
    const auto it = o.facts.lower_bound(side);
    if (it != o.facts.end() && it->first.compare(0, side.size(), side) == 0) return true;
  }
  return false;
}

}  // namespace

void raise(Brief& whole, const Brief& part) {
  if (whole.decided && !decides(part.state, part.ratio, whole.state, whole.ratio)) return;
  whole = part;
  whole.decided = true;
}

Brief brief_of_link(const Shape& shape, std::span<const Worst> worst, const Beside& beside, const std::string& link_id) {
  Brief out{State::holds, kNone, nullptr, link_id, false, 0};
  for (const bool others : {false, true})
    for (std::size_t k = 0; k < worst.size(); ++k)
      if (shape.no_strength[k] == others && !(others && worst[k].state == State::holds && out.decided))
        raise(out, {worst[k].state, worst[k].ratio, shape.checks[k]->rule, link_id, true, worst[k].lane});
  for (const State state : beside.leads_to) raise(out, {state, kNone, nullptr, link_id, true, 0});
  for (std::size_t i = 0; i < shape.need.open.size(); ++i) raise(out, {State::not_shown, kNone, nullptr, link_id, true, 0});
  if (!shape.need.covered && shape.need.open.empty()) raise(out, {State::engineer, kNone, nullptr, link_id, true, 0});
  return out;
}

const std::vector<Part>& parts() {
  static const std::vector<Part> kParts = {{opening::Side::left, true}, {opening::Side::right, true}, {opening::Side::left, false}, {opening::Side::right, false}};
  return kParts;
}

std::string id_of(Part part) { return std::string(part.side == opening::Side::left ? "L" : "R") + (part.bracket ? "B" : "G"); }

std::vector<Part> sides_that_differ(const opening::Opening& o, bool bracket) {
  const auto torque = o.facts.find("door.torque_at");
  const bool alike = !has_sides(o) && (!bracket || torque == o.facts.end() || torque->second.unknown || torque->second.word == "both");
  if (alike) return {{opening::Side::left, bracket}};
  return {{opening::Side::left, bracket}, {opening::Side::right, bracket}};
}

Briefs::Briefs(const rules::RuleSet& set, rules::PlanCache& plans) : set_(set), plans_(plans), memory_(std::make_unique<BriefMemory>(set, plans)) {}
Briefs::~Briefs() = default;

void Briefs::hold_loads() {
  release();
  memory_->holds_loads = true;
}
void Briefs::release() {
  memory_->cases.clear();
  memory_->columns.clear();
  memory_->holds_loads = false;
}
std::size_t Briefs::solved() const { return memory_->solved.solved(); }

const std::vector<LoadCase>& Briefs::cases_for(const opening::Project& project, const opening::Opening& opening, Part part, std::size_t link, const Connection& connection) {
  const auto make = [&] { return std::move(links_of(project, opening, set_, part.side, part.bracket)[link].cases); };
  const std::string id = id_of(part) + connection.link_id + std::to_string(connection.turns);
  const auto it = memory_->cases.find(id);
  return it != memory_->cases.end() ? it->second : memory_->cases.emplace(id, make()).first->second;
}

Brief Briefs::link(const Connection& connection, const std::vector<LoadCase>& cases) {
  Shape& shape = memory_->shapes.find(connection.common, cases.front());
  if (!shape.plan) return brief_of_link(shape, {}, Beside(connection), connection.link_id);
  const auto [it, is_new] = memory_->columns.try_emplace({shape.plan.get(), &cases});
  if (is_new) it->second = columns_of_cases(*shape.plan, cases);
  const auto common = rules::columns_of(*shape.plan, connection.common);
  evaluations_ += cases.size() * shape.checks.size();
  return brief_of_link(shape, shape.run->run(shape.checks, common, {}, 1, it->second, false), Beside(connection), connection.link_id);
}

Brief Briefs::part(const std::vector<Connection>& links) {
  Brief out{State::holds, kNone, nullptr, "", false, 0};
  for (const auto& one : links) {
    memory_->columns.clear();
    raise(out, link(one, one.cases));
  }
  return out;
}

Brief Briefs::part(const opening::Project& project, const opening::Opening& opening, Part part) {
  if (!memory_->holds_loads) return this->part(links_of(project, opening, set_, part.side, part.bracket));
  Brief out{State::holds, kNone, nullptr, "", false, 0};
  const auto links = links_of(project, opening, set_, part.side, part.bracket, Cases::none);
  for (std::size_t i = 0; i < links.size(); ++i) raise(out, link(links[i], cases_for(project, opening, part, i, links[i])));
  return out;
}

Brief Briefs::whole(const opening::Project& project, const opening::Opening& opening) {
  Brief out{State::holds, kNone, nullptr, "", false, 0};
  for (const bool bracket : {true, false})
    for (const Part one : sides_that_differ(opening, bracket)) raise(out, part(project, opening, one));
  return out;
}

}  // namespace jambcheck::verdict
