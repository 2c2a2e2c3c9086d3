#include "rules/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "expr/print.h"

namespace jambcheck::rules {

using program::kNoValue;
using program::Opcode;
using program::Value;

namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
// A bound of a range is met within this much, so that 6.35 mm is inside a range that begins at 1/4 in.
constexpr double kBoundSlack = 1e-9;

}  // namespace

/// Builds a plan in three passes: which rules, which columns, which operations.
class Planner {
 public:
  Planner(Plan& plan, const PlanRequest& request) : plan_(plan), set_(plan.set_), request_(request), resolved_(set_.keys().size()) { plan_.source_index_.assign(set_.keys().size(), -1); }

  void run() {
    for (const Rule* target : request_.targets) need(*target);
    std::sort(plan_.order_.begin(), plan_.order_.end(), [](const Rule* a, const Rule* b) { return a->index < b->index; });
    for (const Rule* rule : plan_.order_) lower_rule(*rule);
    drop_defaults();
    std::vector<Value> wanted;
    for (const Rule* rule : plan_.order_)
      if (rule->check) add_check(*rule);
    for (const auto& check : plan_.checks_) wanted.insert(wanted.end(), {check.demand, check.capacity, check.ratio});
    plan_.batch_ = std::make_unique<exec::Compiled>(plan_.program_, wanted, exec::Keep::wanted);
  }

 private:
  // ---- which rules
  void need(const Rule& rule) {
    if (std::find(plan_.order_.begin(), plan_.order_.end(), &rule) != plan_.order_.end()) return;
    plan_.order_.push_back(&rule);
    for (const auto& input : rule.inputs) resolve(*input.info);
  }
  /// Settles who defines a key: the case, one rule, or nobody yet.
  void resolve(const Key& key) {
    if (resolved_[key.number]) return;
    resolved_[key.number] = true;
    if (request_.gives(key)) return;
    const Rule* only = nullptr;
    const Output* output = nullptr;
    std::vector<std::string> open;
    for (const auto& [producer, out] : key.producers) {
      if (producer->status == "withdrawn") continue;
      std::vector<std::string> undecided;
      const Truth truth = applies(*producer, set_, request_.words, &undecided);
      if (truth == Truth::yes) {
        only = producer;
        output = out;
      } else if (truth == Truth::open) {
        open.insert(open.end(), undecided.begin(), undecided.end());
      }
    }
    if (only) {
      plan_.definitions_[key.name] = {only, output->step};
      need(*only);
    } else if (!open.empty()) {
      std::sort(open.begin(), open.end());
      open.erase(std::unique(open.begin(), open.end()), open.end());
      open_[&key] = open;
    }
  }

  // ---- which columns
  std::uint32_t source(const Input& input) {
    const Key& key = *input.info;
    int& known = plan_.source_index_[key.number];
    const std::uint32_t index = known >= 0 ? static_cast<std::uint32_t>(known) : plan_.program_.new_input();
    if (known < 0) {
      known = static_cast<int>(index);
      Source s;
      s.key = &key;
      s.given = request_.gives(key);
      s.assumed = kNone;
      if (const auto open = open_.find(&key); open != open_.end()) s.open_words = open->second;
      s.plausible = plausible(input);
      plan_.sources_.push_back(std::move(s));
    }
    Source& s = plan_.sources_[index];
    s.optional = s.optional && input.optional;
    if (s.assumed_why.empty() && s.open_words.empty()) take_default(input, s);
    if (input.must_be_given) must_be_given_.insert(index);
    return index;
  }
  double plausible(const Input& input) const {
    if (input.is_word) return input.words->empty() ? kNone : static_cast<double>(set_.symbols().find(input.words->front()));
    if (!input.range) return 1;
    // Ranges span from a trifle to a great deal: the geometric middle is the likelier size.
    const double lo = input.range->lo, hi = input.range->hi;
    return lo > 0 ? std::sqrt(lo * hi) : (lo + std::min(hi, 100.0)) / 2;
  }
  /// One reader's default is no answer for another that must be told.
  void drop_defaults() {
    for (const std::uint32_t index : must_be_given_) {
      plan_.sources_[index].assumed = kNone;
      plan_.sources_[index].assumed_why.clear();
    }
  }
  /// A reader's own default first, then the key's.
  void take_default(const Input& input, Source& s) const {
    const bool own = input.assumed || !input.assumed_word.empty();
    const auto& number = own ? input.assumed : s.key->assumed;
    const std::string& word = own ? input.assumed_word : s.key->assumed_word;
    if (number) s.assumed = number->value;
    else if (!word.empty()) s.assumed = static_cast<double>(set_.symbols().find(word));
    else return;
    s.assumed_why = own ? input.say : s.key->say;
    if (s.assumed_why.empty()) s.assumed_why = s.key->name;
  }

  // ---- which operations
  void lower_rule(const Rule& rule) {
    const auto first_site = static_cast<std::uint32_t>(plan_.sites_.size());
    cone_[&rule].insert(&rule);
    for (const auto& input : rule.inputs) set(rule, input.name, lower_input(rule, input));
    for (const auto& c : rule.constants) set(rule, c.name, plan_.program_.constant(c.value));
    if (rule.solver) lower_native(rule);
    for (const auto& step : rule.steps) set(rule, step.name, lower_formula(rule, step.formula, step.name));
    for (const auto& line : rule.applies) lower_applies(rule, line);
    for (const auto& flag : rule.flags) {
      const Value when = lower_formula(rule, flag.when, flag.id);
      const std::uint32_t site = new_site({SiteKind::flag, &rule, flag.id, flag.say, flag.outcome, flag.clause, when, nullptr});
      plan_.program_.record(Opcode::flag, site, kNoValue, when);
    }
    for (auto s = first_site; s < plan_.sites_.size(); ++s) rule_sites_[&rule].push_back(s);
  }
  void set(const Rule& rule, const std::string& name, Value value) { plan_.values_[{&rule, name}] = value; }

  std::uint32_t new_site(Site site) {
    plan_.sites_.push_back(std::move(site));
    return plan_.program_.new_site();
  }
  Value lower_input(const Rule& rule, const Input& input) {
    Value raw = kNoValue;
    const auto defined = plan_.definitions_.find(input.key);
    if (defined != plan_.definitions_.end()) {
      const auto& [producer, name] = defined->second;
      raw = plan_.values_.at({producer, name});
      cone_[&rule].insert(cone_[producer].begin(), cone_[producer].end());
    } else {
      const std::uint32_t column = source(input);
      rule_sources_[&rule].insert(column);
      raw = plan_.program_.input(column);
    }
    if (!input.range) return raw;
    const double slack_lo = kBoundSlack * std::fabs(input.range->lo), slack_hi = kBoundSlack * std::fabs(input.range->hi);
    const bool refuse = input.range->outside == Outcome::refused;
    const std::uint32_t site =
        new_site({SiteKind::range, &rule, input.name + ".range", "", input.range->outside, input.clause, raw, &input});
    return plan_.program_.record(refuse ? Opcode::range : Opcode::range_noted, site, kNoValue, raw,
                                 plan_.program_.constant(input.range->lo - slack_lo),
                                 plan_.program_.constant(input.range->hi + slack_hi));
  }
  void lower_native(const Rule& rule) {
    std::vector<Value> args;
    for (const auto& port : rule.solver->inputs()) args.push_back(plan_.values_.at({&rule, std::string(port.name)}));
    const auto results = plan_.program_.call(rule.solver, args);
    for (std::size_t k = 0; k < results.size(); ++k) set(rule, std::string(rule.solver->outputs()[k].name), results[k]);
  }
  Value lower_formula(const Rule& rule, const Formula& formula, const std::string& where) {
    program::LowerScope scope;
    scope.value_of = [&](std::string_view name) { return plan_.values_.at({&rule, std::string(name)}); };
    scope.word = [&](std::string_view word) {
      return plan_.program_.constant(static_cast<double>(set_.symbols().find(word)));
    };
    scope.table = [&](std::string_view name) { return table_ref(rule, name); };
    scope.site = [&](std::string_view kind, const expr::Node& node) {
      return formula_site(rule, formula, where, kind, node);
    };
    return program::lower(plan_.program_, formula.tree, formula.typed, scope);
  }
  static program::LookupRef table_ref(const Rule& rule, std::string_view name) {
    const auto dot = name.find('.');
    const TableUse* use = rule.table_use(name.substr(0, dot));
    const table::Column* column =
        dot == std::string_view::npos ? &use->table->columns.front() : use->table->column(name.substr(dot + 1));
    return {use->table, column};
  }
  std::uint32_t formula_site(const Rule& rule, const Formula& formula, const std::string& where, std::string_view kind,
                             const expr::Node& node) {
    Site site;
    site.rule = &rule;
    site.name = where + "." + std::string(kind);
    if (kind == "limit") {
      site.kind = SiteKind::limit;
      site.say = formula.tree.source.substr(node.offset, node.length);
      return new_site(std::move(site));
    }
    site.kind = SiteKind::lookup;
    const auto ref = table_ref(rule, formula.tree.at(node.args[0]).text);
    site.say = ref.table->id;
    site.outcome = Outcome::engineer;
    return new_site(std::move(site));
  }
  void lower_applies(const Rule& rule, const Applies& line) {
    if (line.otherwise == Outcome::not_applicable) return;
    const Value holds = lower_formula(rule, line.when, "applies");
    const std::string say = line.say.empty() ? "not so: " + expr::print(line.when.tree) : line.say;
    const std::uint32_t site = new_site({SiteKind::applies, &rule, "applies", say, line.otherwise, -1, holds, nullptr});
    plan_.program_.record(Opcode::flag, site, kNoValue, plan_.program_.emit(Opcode::not_, holds));
  }

  // ---- checks
  void add_check(const Rule& rule) {
    CheckPoint check;
    check.rule = &rule;
    check.demand = plan_.values_.at({&rule, rule.check->demand});
    check.capacity = plan_.values_.at({&rule, rule.check->capacity});
    check.ratio = plan_.program_.emit(Opcode::ratio, check.demand, check.capacity);
    for (const Rule* r : plan_.order_)
      if (cone_[&rule].count(r)) check.rules.push_back(r);
    std::set<std::uint32_t> sources;
    for (const Rule* r : check.rules) {
      check.sites.insert(check.sites.end(), rule_sites_[r].begin(), rule_sites_[r].end());
      sources.insert(rule_sources_[r].begin(), rule_sources_[r].end());
      check.draft = check.draft || r->status == "draft";
      weigh(*r, check);
    }
    check.sources.assign(sources.begin(), sources.end());
    plan_.checks_.push_back(std::move(check));
  }
  static void weigh(const Clause& clause, CheckPoint& check) {
    if (clause.seen > check.evidence || check.weakest.empty()) {
      check.evidence = table::weaker(check.evidence, clause.seen);
      check.weakest = table::to_string(clause);
    }
  }
  /// The weakest of all that a rule's numbers rest on: its steps, constants, solver and tables.
  static void weigh(const Rule& rule, CheckPoint& check) {
    const auto clause = [&](int i) {
      if (i >= 0) weigh(rule.clauses[static_cast<std::size_t>(i)], check);
    };
    for (const auto& s : rule.steps) clause(s.clause);
    for (const auto& c : rule.constants) clause(c.clause);
    for (const auto& r : rule.results) clause(r.clause);
    for (const auto& use : rule.tables)
      for (const auto& column : use.table->columns)
        if (column.clause >= 0) weigh(use.table->clauses[static_cast<std::size_t>(column.clause)], check);
  }

  Plan& plan_;
  const RuleSet& set_;
  const PlanRequest& request_;
  std::vector<bool> resolved_;  ///< by number of the key
  std::map<const Key*, std::vector<std::string>> open_;
  std::set<std::uint32_t> must_be_given_;  ///< sources of which some rule takes no default
  std::map<const Rule*, std::set<const Rule*>> cone_;
  std::map<const Rule*, std::vector<std::uint32_t>> rule_sites_;
  std::map<const Rule*, std::set<std::uint32_t>> rule_sources_;
};

namespace {

template <class Keys>
auto place_of(Keys& keys, const Key& key) {
  return std::lower_bound(keys.begin(), keys.end(), key.number, [](const Key* one, std::size_t number) { return one->number < number; });
}

}  // namespace

void PlanRequest::give(const Key& key) {
  if (!given.empty() && given.back()->number < key.number) return given.push_back(&key);
  const auto it = place_of(given, key);
  if (it == given.end() || *it != &key) given.insert(it, &key);
}

bool PlanRequest::gives(const Key& key) const {
  const auto it = place_of(given, key);
  return it != given.end() && *it == &key;
}

Plan::Plan(const RuleSet& set, const PlanRequest& request) : set_(set), words_(request.words) { Planner(*this, request).run(); }

const CheckPoint* Plan::check_of(const Rule& rule) const {
  for (const auto& check : checks_)
    if (check.rule == &rule) return &check;
  return nullptr;
}

Value Plan::value(const Rule& rule, std::string_view name) const {
  const auto it = values_.find({&rule, std::string(name)});
  return it == values_.end() ? kNoValue : it->second;
}

std::pair<const Rule*, std::string> Plan::definition(std::string_view key) const {
  const auto it = definitions_.find(key);
  return it == definitions_.end() ? std::pair<const Rule*, std::string>{nullptr, ""} : it->second;
}

const exec::Compiled& Plan::replay() const {
  std::call_once(replay_once_, [this] {
    std::vector<Value> none;
    replay_ = std::make_unique<exec::Compiled>(program_, none, exec::Keep::all);
  });
  return *replay_;
}

std::shared_ptr<const Plan> PlanCache::get(const PlanRequest& request) {
  std::string id;
  for (const auto& [key, word] : request.words) id += key + "=" + word + ";";
  id += "|";
  for (const Key* key : request.given) id += std::to_string(key->number) + ";";
  id += "|";
  for (const Rule* target : request.targets) id += std::to_string(target->index) + ";";
  const auto made = [&] {
    const std::lock_guard lock(mutex_);
    auto& one = plans_[id];
    if (!one) one = std::make_shared<Made>();
    return one;
  }();
  // Outside of the lock: other threads may make other plans meanwhile.
  std::call_once(made->once, [&] { made->plan = std::make_shared<const Plan>(set_, request); });
  return made->plan;
}

}  // namespace jambcheck::rules
