#include "rules/complete.h"

#include <algorithm>

#include "expr/print.h"
#include "rules/reach.h"

namespace jambcheck::rules {
namespace {

class Completer {
 public:
  explicit Completer(const RuleSet& set) : set_(set), walk_(set), reach_(set, walk_, findings_) {}

  Completeness run() {
    walk_kinds();
    find_dead();
    find_unasked();
    find_notes();
    out_.words = set_.category_keys();
    out_.combinations = 1;
    for (const auto& name : out_.words)
      if (const Key* key = set_.key(name)) out_.combinations *= static_cast<double>(std::max<std::size_t>(1, key->words.size()));
    out_.walked = walk_.walked();
    out_.findings = findings_.all(set_);
    return std::move(out_);
  }

 private:
  // ---- kinds of case
  /// All that required/1 tells apart, a word at a time.
  void walk_kinds() {
    const auto next = [&](const Words& words) -> std::string {
      std::vector<std::string> open;
      for (const auto& line : set_.required())
        if (decide(line.when, nullptr, words, &open) == Truth::open) return open.front();
      return "";
    };
    walk_.each({}, next, [&](const Words& words) { kind_of_case(words); });
  }
  void kind_of_case(const Words& words) {
    ++out_.kinds;
    bool covered = false;
    std::vector<const Rule*> needed;
    for (const auto& line : set_.required()) {
      if (decide(line.when, nullptr, words, nullptr) != Truth::yes) continue;
      live_lines_.insert(&line);
      covered = covered || !line.beside;
      for (const Rule* rule : line.rules) add(needed, rule);
    }
    for (std::size_t i = 0; i < needed.size(); ++i)
      for (const auto& also : needed[i]->also) add(needed, set_.rule(also.rule));
    if (!covered) findings_.add(FindingKind::nothing_required, "", "", {}, &words);
    else if (std::any_of(needed.begin(), needed.end(), [&](const Rule* rule) { return surely_refuses(*rule, words); })) ++out_.refused;
    else ++out_.checked;
    compare_codes(needed, words);
    for (const Rule* rule : needed) must_apply(*rule, words);
  }
  static void add(std::vector<const Rule*>& rules, const Rule* rule) {
    if (std::find(rules.begin(), rules.end(), rule) == rules.end()) rules.push_back(rule);
  }
  /// Whether the words alone decide that the rule sends the case to an engineer.
  static bool surely_refuses(const Rule& rule, const Words& words) {
    const auto line = [&](const Applies& a) {
      return a.otherwise != Outcome::not_applicable && word_only(a.when) && decide(a.when, &rule, words, nullptr) == Truth::no;
    };
    const auto flag = [&](const Flag& f) {
      return f.outcome != Outcome::note && word_only(f.when) && decide(f.when, &rule, words, nullptr) == Truth::yes;
    };
    return std::any_of(rule.applies.begin(), rule.applies.end(), line) || std::any_of(rule.flags.begin(), rule.flags.end(), flag);
  }
  void compare_codes(const std::vector<const Rule*>& needed, const Words& words) {
    std::map<std::string, const Rule*> codes;
    for (const Rule* rule : needed) {
      if (!rule->check) continue;
      const auto [it, fresh] = codes.emplace(rule->code, rule);
      if (!fresh) findings_.add(FindingKind::same_code, rule->id, it->second->id, rule->place, &words);
    }
  }
  void must_apply(const Rule& rule, const Words& words) {
    const auto next = [&](const Words& known) -> std::string {
      std::vector<std::string> open;
      return applies(rule, set_, known, &open) == Truth::open ? open.front() : "";
    };
    walk_.each(words, next, [&](const Words& known) {
      if (applies(rule, set_, known, nullptr) == Truth::yes) reach_.from(rule, known);
      else findings_.add(FindingKind::not_applicable, rule.id, "", rule.place, &known);
    });
  }

  // ---- what never comes up
  void find_dead() {
    for (const auto& rule : set_.rules())
      if (rule->status != "withdrawn" && !can_apply(*rule)) findings_.add(FindingKind::dead_rule, rule->id, "", rule->place, nullptr);
      else if (rule->status != "withdrawn" && !reach_.reached(*rule) && !compares_only(*rule))
        findings_.add(FindingKind::aside, rule->id, "", rule->place, nullptr);
    for (const auto& line : set_.required())
      if (!live_lines_.count(&line)) findings_.add(FindingKind::dead_line, expr::print(line.when.tree), "", line.place, nullptr);
  }
  bool can_apply(const Rule& rule) {
    bool can = false;
    const auto next = [&](const Words& known) -> std::string {
      std::vector<std::string> open;
      return !can && applies(rule, set_, known, &open) == Truth::open ? open.front() : "";
    };
    walk_.each({}, next, [&](const Words& known) { can = can || applies(rule, set_, known, nullptr) == Truth::yes; });
    return can;
  }
  /// A rule that holds given figures beside each other is shown where it applies, required or not.
  static bool compares_only(const Rule& rule) { return !rule.compare.empty() && rule.outputs.empty() && !rule.check; }

  // ---- questions
  /// A word that decides is given in every case, assumed, or asked for.
  void find_unasked() {
    for (const auto& name : set_.category_keys()) {
      const Key* key = set_.key(name);
      const auto& has = set_.cases().has;
      const bool given = std::any_of(has.begin(), has.end(), [&](const CaseHas& line) {
        return !line.when && std::find(line.keys.begin(), line.keys.end(), name) != line.keys.end();
      });
      const bool asked = key && (!key->assumed_word.empty() || !key->ask.empty());
      if (!given && !asked) findings_.add(FindingKind::no_question, name, "", key ? key->place : text::Place{}, nullptr);
    }
  }
  void find_notes() {
    for (const auto& [name, key] : set_.keys()) {
      const bool read = !key.consumers.empty() || key.decides;
      if (!read && key.producers.empty()) findings_.add(FindingKind::unread_key, name, "", key.place, nullptr);
      if (read && !key.ask.empty() && key.find.empty()) findings_.add(FindingKind::no_find, name, "", key.place, nullptr);
    }
  }

  const RuleSet& set_;
  Findings findings_;
  WordWalk walk_;
  Reach reach_;
  Completeness out_;
  std::set<const Required*> live_lines_;
};

}  // namespace

bool Completeness::clean() const {
  return std::all_of(findings.begin(), findings.end(), [](const Finding& f) { return is_note(f.kind); });
}

Completeness complete(const RuleSet& set) { return Completer(set).run(); }

}  // namespace jambcheck::rules
