#include "rules/category.h"

#include <algorithm>

#include "expr/print.h"

namespace jambcheck::rules {
namespace {

using expr::Kind;
using expr::NodeId;

std::string key_of(const std::string& name, const Rule* rule) {
  if (rule)
    if (const Input* input = rule->input(name)) return input->key;
  return name;
}

class Decider {
 public:
  Decider(const Formula& formula, const Rule* rule, const Words& words, std::vector<std::string>* undecided)
      : formula_(formula), rule_(rule), words_(words), undecided_(undecided) {}

  Truth at(NodeId id) const {
    const expr::Node& node = formula_.tree.at(id);
    switch (node.kind) {
      case Kind::not_: {
        const Truth inner = at(node.args[0]);
        return inner == Truth::open ? Truth::open : inner == Truth::yes ? Truth::no : Truth::yes;
      }
      case Kind::and_: {
        const Truth a = at(node.args[0]), b = at(node.args[1]);
        if (a == Truth::no || b == Truth::no) return Truth::no;
        return a == Truth::yes && b == Truth::yes ? Truth::yes : Truth::open;
      }
      case Kind::or_: {
        const Truth a = at(node.args[0]), b = at(node.args[1]);
        if (a == Truth::yes || b == Truth::yes) return Truth::yes;
        return a == Truth::no && b == Truth::no ? Truth::no : Truth::open;
      }
      case Kind::equal:
      case Kind::not_equal: return compare(node);
      default: return Truth::open;
    }
  }

 private:
  Truth compare(const expr::Node& node) const {
    std::string sides[2];
    for (std::size_t i = 0; i < 2; ++i) {
      const NodeId id = node.args[i];
      const std::string& text = formula_.tree.at(id).text;
      if (formula_.typed.literal_word[id]) {
        sides[i] = text;
        continue;
      }
      const std::string key = key_of(text, rule_);
      const auto found = words_.find(key);
      if (found == words_.end()) {
        if (undecided_ && std::find(undecided_->begin(), undecided_->end(), key) == undecided_->end()) undecided_->push_back(key);
        return Truth::open;
      }
      sides[i] = found->second;
    }
    return (sides[0] == sides[1]) == (node.kind == Kind::equal) ? Truth::yes : Truth::no;
  }

  const Formula& formula_;
  const Rule* rule_;
  const Words& words_;
  std::vector<std::string>* undecided_;
};

constexpr std::string_view kMethod = "basis.method";

/// "basis.wood" for a rule bound to editions of the family wood.
std::string edition_key(const Rule& rule, const RuleSet& set) {
  const auto it = set.documents().find(rule.editions.front());
  return it == set.documents().end() ? std::string() : "basis." + it->second.family;
}

Truth one_of(std::string_view key, const std::vector<std::string>& allowed, const Words& words, std::vector<std::string>* undecided) {
  const auto found = words.find(key);
  if (found == words.end()) {
    if (undecided) undecided->emplace_back(key);
    return Truth::open;
  }
  return std::find(allowed.begin(), allowed.end(), found->second) != allowed.end() ? Truth::yes : Truth::no;
}

}  // namespace

Truth decide(const Formula& formula, const Rule* rule, const Words& words, std::vector<std::string>* undecided) {
  std::vector<std::string> open;
  const Truth truth = Decider(formula, rule, words, &open).at(formula.tree.root());
  if (truth == Truth::open && undecided) undecided->insert(undecided->end(), open.begin(), open.end());
  return truth;
}

Truth applies(const Rule& rule, const RuleSet& set, const Words& words, std::vector<std::string>* undecided, std::string* why_not) {
  Truth result = Truth::yes;
  std::vector<std::string> open;
  // The line in words is written only when it is asked for: this runs for every rule of every case.
  const auto is_no = [&](Truth truth, const auto& line) {
    if (truth == Truth::open) result = Truth::open;
    if (truth == Truth::no && why_not) *why_not = line();
    return truth == Truth::no;
  };
  if (rule.method != "any" && is_no(one_of(kMethod, {rule.method}, words, &open), [&] { return "method is not " + rule.method; })) return Truth::no;
  if (!rule.editions.empty() && is_no(one_of(edition_key(rule, set), rule.editions, words, &open), [] { return std::string("another edition is asked for"); })) return Truth::no;
  for (const auto& line : rule.applies) {
    if (line.otherwise != Outcome::not_applicable) continue;
    if (is_no(decide(line.when, &rule, words, &open), [&] { return "not so: " + expr::print(line.when.tree); })) return Truth::no;
  }
  if (result == Truth::open && undecided) undecided->insert(undecided->end(), open.begin(), open.end());
  return result;
}

std::vector<std::string> deciding_keys(const Rule& rule, const RuleSet& set) {
  std::vector<std::string> keys;
  const auto add = [&](const std::string& key) {
    if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  };
  if (rule.method != "any") add(std::string(kMethod));
  if (!rule.editions.empty()) add(edition_key(rule, set));
  for (const auto& line : rule.applies)
    if (line.otherwise == Outcome::not_applicable)
      for (const auto& key : line.word_keys) add(key);
  return keys;
}

bool word_only(const Formula& formula) {
  for (NodeId id = 0; id < formula.tree.nodes.size(); ++id) {
    const expr::Node& node = formula.tree.at(id);
    switch (node.kind) {
      case Kind::and_:
      case Kind::or_:
      case Kind::not_:
      case Kind::equal:
      case Kind::not_equal: break;
      case Kind::name:
        if (formula.typed.of[id].kind != expr::Type::Kind::word) return false;
        break;
      default: return false;
    }
  }
  return true;
}

}  // namespace jambcheck::rules
