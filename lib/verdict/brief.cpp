#include "verdict/brief.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>

#include "exec/memo.h"
#include "verdict/demand.h"

namespace jambcheck::verdict {

using rules::CheckPoint;
using rules::Plan;
using rules::State;

namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// What is the same for all cases that give the same keys and words.
struct Shape {
  struct Checked {
    const CheckPoint* point = nullptr;
    bool no_strength = false;
  };
  Demanded need;
  std::shared_ptr<const Plan> plan;  ///< null when nothing is demanded
  std::vector<Checked> checks;       ///< the demanded ones, in the order of their codes
  std::unique_ptr<exec::Scratch> scratch;
};

/// The columns that the load cases fill, one value a case.
struct CaseColumns {
  std::vector<std::pair<std::size_t, std::vector<double>>> of_source;  ///< NaN of its own kind where a case says nothing
  std::vector<std::vector<bool>> says;
};

/// The worst case of a check.
struct Worst {
  bool any = false;
  State state = State::not_applicable;
  double ratio = kNone;
  void take(State s, double r) {
    if (any && s == state) {
      if (std::isnan(r) || std::isnan(ratio)) {
        if (!std::isnan(r) || std::isnan(ratio)) return;
      } else if (!(r > ratio * kTie)) {
        return;
      }
    } else if (any && s < state) {
      return;
    }
    any = true;
    state = s;
    ratio = r;
  }
};

void raise(Brief& whole, State state, double ratio, const rules::Rule* rule, const std::string& link) {
  if (whole.decided && !decides(state, ratio, whole.state, whole.ratio)) return;
  whole = {state, ratio, rule, link, true};
}

CaseColumns columns_of_cases(const Plan& plan, const std::vector<LoadCase>& cases) {
  CaseColumns out;
  std::map<int, std::size_t> place;
  for (std::size_t i = 0; i < cases.size(); ++i)
    for (const auto& [key, given] : cases[i].values) {
      const int source = plan.source_of(key);
      if (source < 0) continue;
      const auto [it, is_new] = place.try_emplace(source, out.of_source.size());
      if (is_new) {
        out.of_source.emplace_back(static_cast<std::size_t>(source), std::vector<double>(cases.size(), kNone));
        out.says.emplace_back(cases.size(), false);
      }
      out.of_source[it->second].second[i] = rules::column_of(given);
      out.says[it->second][i] = true;
    }
  return out;
}

/// One link in all of its load cases.
class LinkRun {
 public:
  LinkRun(Shape& shape, const Connection& connection, const CaseColumns& by_case, std::size_t cases)
      : shape_(shape), plan_(*shape.plan), common_(rules::columns_of(plan_, connection.common)), cases_(cases), worst_(shape.checks.size()) {
    for (const double& value : common_) view_.push_back({&value, true});
    varying_.reserve(by_case.of_source.size());
    for (std::size_t k = 0; k < by_case.of_source.size(); ++k) {
      const auto& [source, values] = by_case.of_source[k];
      varying_.emplace_back(source, values);
      for (std::size_t i = 0; i < cases; ++i)
        if (!by_case.says[k][i]) varying_.back().second[i] = common_[source];
      view_[source] = {varying_.back().second.data(), cases == 1};
    }
  }

  const std::vector<Worst>& run() {
    for (std::size_t first = 0; first < cases_; first += exec::kBlock) {
      const std::size_t count = std::min(exec::kBlock, cases_ - first);
      exec::run_block(plan_.batch(), view_, first, count, *shape_.scratch);
      find_recorded(count);
      for (std::size_t k = 0; k < shape_.checks.size(); ++k) judge(*shape_.checks[k].point, first, count, worst_[k]);
    }
    return worst_;
  }

 private:
  /// Which sites said anything in this block.
  void find_recorded(std::size_t count) {
    static constexpr std::array<std::uint8_t, exec::kBlock> kSilent{};
    recorded_.assign(plan_.sites().size(), false);
    for (std::size_t s = 0; s < recorded_.size(); ++s)
      recorded_[s] = std::memcmp(shape_.scratch->site(static_cast<std::uint32_t>(s)), kSilent.data(), count) != 0 && !rules::only_tells(plan_.sites()[s]);
  }
  /// Whether a value that could be asked for was called unknown, in any case.
  bool may_be_open(const CheckPoint& point) const {
    return std::any_of(point.sources.begin(), point.sources.end(), [&](std::uint32_t s) {
      const auto& source = plan_.sources()[s];
      if (rules::is_open(source, common_[s])) return true;
      const auto it = std::find_if(varying_.begin(), varying_.end(), [&](const auto& v) { return v.first == s; });
      return it != varying_.end() && std::any_of(it->second.begin(), it->second.end(), [&](double v) { return rules::is_open(source, v); });
    });
  }
  void judge(const CheckPoint& point, std::size_t first, std::size_t count, Worst& worst) {
    const auto& slot = plan_.batch().slot(point.ratio);
    heard_.clear();
    for (const std::uint32_t s : point.sites)
      if (recorded_[s]) heard_.push_back(s);
    const bool open = may_be_open(point);
    for (std::size_t i = 0; i < count; ++i) {
      double ratio = shape_.scratch->read(slot, i);
      const bool silent = std::all_of(heard_.begin(), heard_.end(), [&](std::uint32_t s) { return shape_.scratch->site(s)[i] == 0; });
      if (silent && !open && !std::isnan(ratio)) {
        worst.take(rules::state_by_ratio(point, ratio), ratio);
        continue;
      }
      const State state = rules::state_of(plan_, plan_.batch(), point, *shape_.scratch, i, of_case(first + i), ratio, heard_);
      worst.take(state, ratio);
    }
  }
  std::span<const double> of_case(std::size_t i) {
    if (at_ != i + 1) {
      at_columns_ = common_;
      for (const auto& [source, values] : varying_) at_columns_[source] = values[i];
      at_ = i + 1;
    }
    return at_columns_;
  }

  Shape& shape_;
  const Plan& plan_;
  std::vector<double> common_;
  std::vector<std::pair<std::size_t, std::vector<double>>> varying_;
  std::vector<exec::Column> view_;
  std::size_t cases_;
  std::vector<Worst> worst_;
  std::vector<bool> recorded_;
  std::vector<std::uint32_t> heard_;
  std::vector<double> at_columns_;
  std::size_t at_ = 0;
};

void sign(const rules::Case& values, std::string& out) {
  for (const auto& [key, given] : values) {
    out += key;
    out += given.unknown ? '?' : '=';
    if (given.is_word && !given.unknown) out += given.word;
    out += ';';
  }
}

}  // namespace

struct BriefMemory {
  exec::Memo solved;
  std::unordered_map<std::string, Shape> shapes;
  std::map<std::string, std::vector<LoadCase>> cases;  ///< while loads are held: by part, link and turns
  std::map<std::pair<const Plan*, const std::vector<LoadCase>*>, CaseColumns> columns;
  bool holds_loads = false;

  Shape& shape_for(const rules::RuleSet& set, rules::PlanCache& plans, const Connection& connection, const LoadCase& front) {
    std::string signature;
    signature.reserve(4096);
    sign(connection.common, signature);
    signature += '|';
    sign(front.values, signature);
    const auto [it, is_new] = shapes.try_emplace(std::move(signature));
    if (is_new) fill(it->second, set, plans, merged(connection, front));
    return it->second;
  }

 private:
  void fill(Shape& shape, const rules::RuleSet& set, rules::PlanCache& plans, const rules::Case& first) {
    shape.need = demanded(set, rules::request_for(set, first, {}).words);
    if (shape.need.rules.empty()) return;
    shape.plan = plans.get(rules::request_for(set, first, shape.need.rules));
    for (const auto& point : shape.plan->checks())
      if (std::find(shape.need.rules.begin(), shape.need.rules.end(), point.rule) != shape.need.rules.end()) shape.checks.push_back({&point, is_no_strength(*point.rule)});
    std::sort(shape.checks.begin(), shape.checks.end(), [](const auto& a, const auto& b) { return code_before(a.point->rule->code, b.point->rule->code); });
  }
};

const std::vector<Part>& parts() {
  static const std::vector<Part> kParts = {{opening::Side::left, true}, {opening::Side::right, true}, {opening::Side::left, false}, {opening::Side::right, false}};
  return kParts;
}

std::string id_of(Part part) { return std::string(part.side == opening::Side::left ? "L" : "R") + (part.bracket ? "B" : "G"); }

Briefs::Briefs(const rules::RuleSet& set, rules::PlanCache& plans) : set_(set), plans_(plans), memory_(std::make_unique<BriefMemory>()) {}
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

void Briefs::add_link(const Connection& connection, const std::vector<LoadCase>& cases, Brief& whole) {
  Shape& shape = memory_->shape_for(set_, plans_, connection, cases.front());
  Brief link{State::holds, kNone, nullptr, connection.link_id, false};
  if (shape.plan) {
    const std::size_t room = std::min(cases.size(), exec::kBlock);
    if (!shape.scratch || shape.scratch->cases() < room) {
      shape.scratch = std::make_unique<exec::Scratch>(shape.plan->batch(), room);
      shape.scratch->remember(&memory_->solved);
    }
    const auto [it, is_new] = memory_->columns.try_emplace({shape.plan.get(), &cases});
    if (is_new) it->second = columns_of_cases(*shape.plan, cases);
    LinkRun run(shape, connection, it->second, cases.size());
    const auto& worst = run.run();
    evaluations_ += cases.size() * shape.checks.size();
    for (const bool others : {false, true})
      for (std::size_t k = 0; k < worst.size(); ++k)
        if (shape.checks[k].no_strength == others && !(others && worst[k].state == State::holds && link.decided))
          raise(link, worst[k].state, worst[k].ratio, shape.checks[k].point->rule, connection.link_id);
  }
  for (const auto& r : connection.reasons) raise(link, r.leads_to, kNone, nullptr, connection.link_id);
  for (std::size_t i = 0; i < shape.need.open.size(); ++i) raise(link, State::not_shown, kNone, nullptr, connection.link_id);
  if (!shape.need.covered && shape.need.open.empty()) raise(link, State::engineer, kNone, nullptr, connection.link_id);
  if (!whole.decided) whole = link;
  else raise(whole, link.state, link.ratio, link.rule, link.link);
}

Brief Briefs::part(const opening::Project& project, const opening::Opening& opening, Part part) {
  const auto links = links_of(project, opening, set_, part.side, part.bracket, memory_->holds_loads ? Cases::none : Cases::all);
  Brief out{State::holds, kNone, nullptr, "", false};
  for (std::size_t i = 0; i < links.size(); ++i) {
    if (!memory_->holds_loads) memory_->columns.clear();
    add_link(links[i], memory_->holds_loads ? cases_for(project, opening, part, i, links[i]) : links[i].cases, out);
  }
  return out;
}

Brief Briefs::whole(const opening::Project& project, const opening::Opening& opening) {
  Brief out{State::holds, kNone, nullptr, "", false};
  for (const Part one : parts()) {
    const Brief brief = part(project, opening, one);
    raise(out, brief.state, brief.ratio, brief.rule, brief.link);
  }
  return out;
}

}  // namespace jambcheck::verdict
