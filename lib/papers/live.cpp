#include "papers/live.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::papers {
namespace {

using expr::Kind;
using expr::Node;
using expr::NodeId;
using expr::Tree;

class Pruner {
 public:
  Pruner(const rules::Evaluation& evaluation, const rules::Rule& rule, const Tree& tree) : evaluation_(evaluation), rule_(rule), tree_(tree) {}

  LiveTree run() {
    copy(tree_.root());
    out_.tree.source = tree_.source;
    return std::move(out_);
  }

 private:
  /// The value of a name, the symbol of a bare word; NaN for none.
  [[nodiscard]] double value_of(const std::string& name) const {
    const auto v = evaluation_.plan().value(rule_, name);
    return v == program::kNoValue ? static_cast<double>(evaluation_.plan().set().symbols().find(name)) : evaluation_.value(v);
  }
  void remember(const std::string& name) {
    if (evaluation_.plan().value(rule_, name) == program::kNoValue) return;
    if (std::find(out_.by.begin(), out_.by.end(), name) == out_.by.end()) out_.by.push_back(name);
  }
  /// 1, 0 or a number; NaN where it can't be told. Notes the names that it took.
  double settled(NodeId id, std::vector<std::string>& names) const {
    const Node& n = tree_.at(id);
    const auto arg = [&](std::size_t i) { return settled(n.args[i], names); };
    const auto compared = [&](auto holds) {
      const double a = arg(0), b = arg(1);
      return std::isnan(a) || std::isnan(b) ? std::nan("") : holds(a, b) ? 1.0 : 0.0;
    };
    switch (n.kind) {
      case Kind::number: return n.number;
      case Kind::name: names.push_back(n.text); return value_of(n.text);
      case Kind::negate: return -arg(0);
      case Kind::not_: return 1 - arg(0);
      case Kind::add: return arg(0) + arg(1);
      case Kind::subtract: return arg(0) - arg(1);
      case Kind::multiply: return arg(0) * arg(1);
      case Kind::divide: return arg(0) / arg(1);
      case Kind::less: return compared([](double a, double b) { return a < b; });
      case Kind::less_equal: return compared([](double a, double b) { return a <= b; });
      case Kind::greater: return compared([](double a, double b) { return a > b; });
      case Kind::greater_equal: return compared([](double a, double b) { return a >= b; });
      case Kind::equal: return compared([](double a, double b) { return a == b; });
      case Kind::not_equal: return compared([](double a, double b) { return a != b; });
      case Kind::and_: return either(n, 0, names);
      case Kind::or_: return either(n, 1, names);
      default: return std::nan("");
    }
  }
  /// One side is enough when it is `enough`; then only its names are noted.
  double either(const Node& n, double enough, std::vector<std::string>& names) const {
    std::vector<std::string> left, right;
    const double a = settled(n.args[0], left), b = settled(n.args[1], right);
    if (a == enough || b == enough) {
      names.insert(names.end(), (a == enough ? left : right).begin(), (a == enough ? left : right).end());
      return enough;
    }
    names.insert(names.end(), left.begin(), left.end());
    names.insert(names.end(), right.begin(), right.end());
    return std::isnan(a) || std::isnan(b) ? std::nan("") : 1 - enough;
  }

  NodeId copy(NodeId id) {
    const Node& n = tree_.at(id);
    if (n.kind == Kind::call && n.text == "if") {
      std::vector<std::string> names;
      const double condition = settled(n.args[0], names);
      if (!std::isnan(condition)) {
        for (const auto& name : names) remember(name);
        return copy(n.args[condition != 0 ? 1 : 2]);
      }
    }
    if (n.kind == Kind::call && n.text == "first_not_refused")
      for (const NodeId arg : n.args) {
        const Node& a = tree_.at(arg);
        if (a.kind != Kind::name) break;  // what stands deeper may be refused by itself
        if (!std::isnan(value_of(a.text))) return copy(arg);
      }
    Node out = n;
    for (auto& arg : out.args) arg = copy(arg);
    out_.tree.nodes.push_back(std::move(out));
    return static_cast<NodeId>(out_.tree.nodes.size() - 1);
  }

  const rules::Evaluation& evaluation_;
  const rules::Rule& rule_;
  const Tree& tree_;
  LiveTree out_;
};

}  // namespace

LiveTree live_tree(const rules::Evaluation& evaluation, const rules::Rule& rule, const Tree& tree) { return Pruner(evaluation, rule, tree).run(); }

namespace {

/// The names a formula's value comes from: of the names that a max or min picks from, the one it picked.
class Sources {
 public:
  Sources(const rules::Evaluation& evaluation, const rules::Rule& rule, const Tree& tree) : evaluation_(evaluation), rule_(rule), tree_(tree) {}

  void add(NodeId id, std::set<std::string>& out) const {
    const Node& n = tree_.at(id);
    if (n.kind == Kind::name) out.insert(n.text);
    if (const NodeId picked = picked_by(n); picked != id) return add(picked, out);
    for (const NodeId arg : n.args) add(arg, out);
  }

 private:
  static constexpr NodeId kNoNode = static_cast<NodeId>(-1);
  [[nodiscard]] double value_of(NodeId id) const {
    const auto v = evaluation_.plan().value(rule_, tree_.at(id).text);
    return v == program::kNoValue ? std::nan("") : evaluation_.value(v);
  }
  /// Itself when it picks nothing, or not from names alone.
  [[nodiscard]] NodeId picked_by(const Node& n) const {
    const NodeId self = static_cast<NodeId>(&n - tree_.nodes.data());
    const bool largest = n.text == "max";
    if (n.kind != Kind::call || (!largest && n.text != "min")) return self;
    NodeId best = kNoNode;
    for (const NodeId arg : n.args) {
      if (tree_.at(arg).kind != Kind::name || std::isnan(value_of(arg))) return self;
      if (best == kNoNode || (largest ? value_of(arg) > value_of(best) : value_of(arg) < value_of(best))) best = arg;
    }
    return best == kNoNode ? self : best;
  }

  const rules::Evaluation& evaluation_;
  const rules::Rule& rule_;
  const Tree& tree_;
};

/// Grows `names` by what the steps of these names are made of; `followed` by those that made their values.
void add_steps(const rules::Evaluation& evaluation, const rules::Rule& rule, std::set<std::string>& names, std::set<std::string>& followed) {
  for (auto step = rule.steps.rbegin(); step != rule.steps.rend(); ++step) {
    if (names.count(step->name) == 0) continue;
    const LiveTree live = live_tree(evaluation, rule, step->formula.tree);
    for (const auto& name : expr::names(live.tree)) names.insert(name);
    names.insert(live.by.begin(), live.by.end());
    Sources(evaluation, rule, live.tree).add(live.tree.root(), followed);
    followed.insert(live.by.begin(), live.by.end());
  }
  const bool solved = std::any_of(rule.results.begin(), rule.results.end(), [&](const auto& r) { return names.count(r.name) != 0; });
  if (rule.solver && solved)
    for (const auto& port : rule.solver->inputs()) {
      names.insert(std::string(port.name));
      followed.insert(std::string(port.name));
    }
}

}  // namespace

Needed needed_by(const rules::Evaluation& evaluation, const rules::CheckPoint& check) {
  Needed out;
  out[check.rule] = {check.rule->check->demand, check.rule->check->capacity};
  // Producers stand before those that read them.
  for (auto it = check.rules.rbegin(); it != check.rules.rend(); ++it) {
    const auto names = out.find(*it);
    if (names == out.end()) continue;
    std::set<std::string> followed = names->second;
    add_steps(evaluation, **it, names->second, followed);
    for (const auto& input : (*it)->inputs) {
      if (names->second.count(input.name) == 0) continue;
      const auto [producer, name] = evaluation.plan().definition(input.key);
      if (!producer || std::isnan(evaluation.value(*producer, name))) continue;
      // A share that a larger one makes idle has its own line in the table of checks.
      if (producer->check && followed.count(input.name) == 0) continue;
      out[producer].insert(name);
    }
  }
  return out;
}

}  // namespace jambcheck::papers
