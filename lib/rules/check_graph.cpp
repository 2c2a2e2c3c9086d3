// The rules as a whole: their order, loops, keys with two givers, and the words that decide.
#include <algorithm>

#include "expr/tree.h"
#include "rules/category.h"
#include "rules/graph.h"
#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;

namespace {

class GraphChecker {
 public:
  explicit GraphChecker(Loading& in) : in_(in) {}

  void sort_rules() {
    std::vector<std::pair<std::size_t, std::size_t>> edges;
    std::map<const Rule*, std::size_t> index;
    for (std::size_t i = 0; i < in_.drafts.size(); ++i) index[in_.drafts[i].rule.get()] = i;
    for (const auto& [name, key] : in_.parts.keys)
      for (const auto& [producer, output] : key.producers)
        for (const auto& [consumer, input] : key.consumers)
          if (producer != consumer || output->step != input->name) edges.emplace_back(index[producer], index[consumer]);
    const Order result = order(in_.drafts.size(), edges);
    for (const auto& loop : result.loops) report_loop(loop);
    for (const std::size_t i : result.sequence) {
      in_.drafts[i].rule->index = static_cast<int>(in_.parts.rules.size());
      in_.parts.rules.push_back(std::move(in_.drafts[i].rule));
    }
    if (!result.loops.empty())
      for (auto& d : in_.drafts) in_.parts.rules.push_back(std::move(d.rule));
    check_also();
  }
  /// Two rules that define one key must never both apply.
  void check_conflicts() {
    for (const auto& [name, key] : in_.parts.keys)
      for (std::size_t i = 0; i < key.producers.size(); ++i)
        for (std::size_t j = i + 1; j < key.producers.size(); ++j) check_pair(name, key.producers[i], key.producers[j]);
    check_codes();
  }
  void collect_category_keys() {
    auto& keys = in_.parts.category_keys;
    const auto add = [&](const std::string& key) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
    };
    for (const auto& rule : in_.parts.rules)
      for (const auto& key : deciding_keys(*rule, *in_.set)) add(key);
    for (const auto& line : in_.parts.required)
      for (const auto& name : expr::names(line.when.tree))
        if (in_.set->key(name)) add(name);
    std::sort(keys.begin(), keys.end());
    for (const auto& name : keys) {
      const auto it = in_.parts.keys.find(name);
      if (it == in_.parts.keys.end()) continue;
      it->second.decides = true;
      if (!it->second.assumed_word.empty()) in_.parts.assumed_words.push_back(&it->second);
    }
  }

 private:
  void report_loop(const std::vector<std::size_t>& loop) {
    std::string walk;
    for (const std::size_t i : loop) walk += in_.drafts[i].rule->id + " -> ";
    walk += in_.drafts[loop.front()].rule->id;
    auto& d = in_.diagnostics.add(MessageId::G003, in_.drafts[loop.front()].rule->place, {walk});
    d.other = in_.drafts[loop.back()].rule->place;
    d.other_note = "the loop closes here";
  }
  void check_also() {
    for (const auto& rule : in_.parts.rules)
      for (const auto& also : rule->also)
        if (!in_.set->rule(also.rule)) {
          std::vector<std::string> known;
          for (const auto& r : in_.parts.rules) known.push_back(r->id);
          in_.diagnostics.add(MessageId::G005, also.place, {also.rule, text::suggestion(also.rule, known)});
        }
  }
  void check_pair(const std::string& name, const std::pair<const Rule*, const Output*>& a, const std::pair<const Rule*, const Output*>& b) {
    if (a.first == b.first) {
      report_conflict(name, a, b, "always");
      return;
    }
    std::vector<std::string> keys = deciding_keys(*a.first, *in_.set);
    for (const auto& k : deciding_keys(*b.first, *in_.set))
      if (std::find(keys.begin(), keys.end(), k) == keys.end()) keys.push_back(k);
    Words words;
    if (both_apply(*a.first, *b.first, keys, 0, words)) {
      std::string when;
      for (const auto& [k, w] : words) when += (when.empty() ? "" : ", ") + k + " " + w;
      report_conflict(name, a, b, when.empty() ? "always" : when);
    }
  }
  bool both_apply(const Rule& a, const Rule& b, const std::vector<std::string>& keys, std::size_t next, Words& words) const {
    const Truth ta = applies(a, *in_.set, words, nullptr), tb = applies(b, *in_.set, words, nullptr);
    if (ta == Truth::no || tb == Truth::no) return false;
    if (next == keys.size()) return ta == Truth::yes && tb == Truth::yes;
    for (const auto& word : words_of(keys[next])) {
      words[keys[next]] = word;
      if (both_apply(a, b, keys, next + 1, words)) return true;
      words.erase(keys[next]);
    }
    return false;
  }
  std::vector<std::string> words_of(const std::string& key) const {
    if (const Key* k = in_.set->key(key)) return k->words;
    return {};
  }
  void report_conflict(const std::string& name, const std::pair<const Rule*, const Output*>& a,
                       const std::pair<const Rule*, const Output*>& b, const std::string& when) {
    auto& d = in_.diagnostics.add(MessageId::G001, b.second->place, {name, a.first->id, b.first->id, when});
    d.other = a.second->place;
    d.other_note = "also defined here";
  }
  void check_codes() {
    std::map<std::string, std::vector<const Rule*>> seen;
    for (const auto& rule : in_.parts.rules) {
      if (rule->code.empty() || !rule->check) continue;
      auto& earlier = seen[rule->code];
      for (const Rule* other : earlier) check_code(*other, *rule);
      earlier.push_back(rule.get());
    }
  }
  void check_code(const Rule& first, const Rule& rule) {
    Words words;
    std::vector<std::string> keys = deciding_keys(first, *in_.set);
    for (const auto& k : deciding_keys(rule, *in_.set)) keys.push_back(k);
    if (!both_apply(first, rule, keys, 0, words)) return;
    auto& d = in_.diagnostics.add(MessageId::G011, rule.check->place, {rule.code});
    d.other = first.check->place;
    d.other_note = "first used here";
  }

  Loading& in_;
};

}  // namespace

void check_graph(Loading& in) {
  GraphChecker checker(in);
  checker.sort_rules();
  checker.check_conflicts();
  checker.collect_category_keys();
}

}  // namespace jambcheck::rules
