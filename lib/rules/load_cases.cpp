// What cases are like: the checks they must have, load combinations, and what a case has or can't be.
#include <algorithm>

#include "rules/formula_check.h"
#include "rules/loading.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

namespace {

class CaseReader {
 public:
  explicit CaseReader(Loading& in) : in_(in), formulas_(in) {}

  void read_required() {
    for (auto& doc : in_.required_files) {
      yaml::check_keys(doc, {"schema", "required"}, "the file", in_.diagnostics);
      const Node* list = yaml::need(doc, "required", Kind::sequence, "the file", in_.diagnostics);
      if (!list) continue;
      for (const auto& item : list->items) read_required_line(item);
    }
  }
  void read_combinations() {
    for (auto& doc : in_.combination_files) {
      yaml::check_keys(doc, {"schema", "clauses", "combinations"}, "the file", in_.diagnostics);
      std::vector<Clause> clauses;
      if (const Node* n = yaml::need(doc, "clauses", Kind::map, "the file", in_.diagnostics))
        clauses = table::read_clauses(*n, "the file", in_.diagnostics);
      check_documents(in_, clauses);
      const Node* list = yaml::need(doc, "combinations", Kind::sequence, "the file", in_.diagnostics);
      if (!list) continue;
      for (const auto& item : list->items) read_combination(item, clauses);
    }
  }
  void read_cases() {
    for (auto& doc : in_.case_files) {
      yaml::check_keys(doc, {"schema", "has", "never"}, "the file", in_.diagnostics);
      if (const Node* has = yaml::may(doc, "has", Kind::sequence, "the file", in_.diagnostics))
        for (const auto& item : has->items) read_has(item);
      if (const Node* never = yaml::may(doc, "never", Kind::sequence, "the file", in_.diagnostics))
        for (const auto& item : never->items) read_never(item);
    }
  }

 private:
  void read_required_line(const Node& item) {
    yaml::check_keys(item, {"when", "rules", "beside", "say"}, "a required line", in_.diagnostics);
    Required line;
    line.place = item.place;
    const Node* when = yaml::need(item, "when", Kind::scalar, "a required line", in_.diagnostics);
    const Node* rules = yaml::need(item, "rules", Kind::sequence, "a required line", in_.diagnostics);
    if (const Node* say = item.find("say")) line.say = say->text;
    if (const Node* beside = yaml::may(item, "beside", Kind::scalar, "a required line", in_.diagnostics)) {
      line.beside = beside->text == "yes";
      if (beside->text != "yes" && beside->text != "no") in_.diagnostics.add(MessageId::Y009, beside->place, {beside->text, "yes, no"});
    }
    if (!when || !rules || !read_formula(*when, line.when, in_.diagnostics)) return;
    RuleNames none;
    if (!formulas_.check(line.when, none, true) || !formulas_.want_yes_no(line.when)) return;
    for (const auto& id : rules->items) {
      const auto it = std::find_if(in_.drafts.begin(), in_.drafts.end(), [&](const RuleDraft& d) { return d.rule->id == id.text; });
      if (it == in_.drafts.end()) in_.diagnostics.add(MessageId::G005, id.place, {id.text, suggest_rule(id.text)});
      else if (!it->rule->check) in_.diagnostics.add(MessageId::G010, id.place, {id.text});
      else line.rules.push_back(it->rule.get());
    }
    in_.parts.required.push_back(std::move(line));
  }
  std::string suggest_rule(const std::string& id) const {
    std::vector<std::string> known;
    for (const auto& d : in_.drafts) known.push_back(d.rule->id);
    return text::suggestion(id, known);
  }
  void read_combination(const Node& item, const std::vector<Clause>& clauses) {
    Combination c;
    for (const auto& [key, value] : item.entries) {
      if (key.text == "id") c.id = value.text;
      else if (key.text == "method") c.method = value.text;
      else if (key.text == "duration") c.duration = value.text;
      else if (key.text == "say") c.say = value.text;
      else if (key.text == "cite") {
        const int i = table::find_clause(clauses, value, in_.diagnostics);
        if (i >= 0) c.clause = clauses[static_cast<std::size_t>(i)];
      } else if (key.text.rfind("f_", 0) == 0) {
        const auto factor = text::parse_number_or_quotient(value.text);
        if (factor) c.factors.emplace_back(key.text, *factor);
        else in_.diagnostics.add(MessageId::E017, value.place, {value.text});
      } else {
        in_.diagnostics.add(MessageId::Y003, key.place, {"a combination", key.text, text::suggestion(key.text, {"id", "method", "duration", "say", "cite", "f_D", "f_W"})});
      }
    }
    in_.parts.combinations.push_back(std::move(c));
  }
  void read_has(const Node& item) {
    yaml::check_keys(item, {"keys", "when", "say"}, "a line of has", in_.diagnostics);
    const Node* keys = yaml::need(item, "keys", Kind::sequence, "a line of has", in_.diagnostics);
    if (!keys) return;
    CaseHas line;
    for (const auto& key : keys->items)
      if (known_key(key)) line.keys.push_back(key.text);
    if (const Node* when = yaml::may(item, "when", Kind::scalar, "a line of has", in_.diagnostics)) {
      line.when.emplace();
      if (!read_word_condition(*when, *line.when)) return;
    }
    in_.parts.cases.has.push_back(std::move(line));
  }
  void read_never(const Node& item) {
    yaml::check_keys(item, {"when", "say"}, "a line of never", in_.diagnostics);
    const Node* when = yaml::need(item, "when", Kind::scalar, "a line of never", in_.diagnostics);
    Formula formula;
    if (when && read_word_condition(*when, formula)) in_.parts.cases.never.push_back(std::move(formula));
  }
  bool known_key(const Node& key) {
    if (in_.parts.keys.count(key.text)) return true;
    std::vector<std::string> known;
    for (const auto& [name, info] : in_.parts.keys) known.push_back(name);
    in_.diagnostics.add(MessageId::G012, key.place, {key.text, text::suggestion(key.text, known)});
    return false;
  }
  bool read_word_condition(const Node& node, Formula& out) {
    RuleNames none;
    return read_formula(node, out, in_.diagnostics) && formulas_.check(out, none, true) && formulas_.want_yes_no(out);
  }

  Loading& in_;
  FormulaCheck formulas_;
};

}  // namespace

void read_cases(Loading& in) {
  CaseReader reader(in);
  reader.read_required();
  reader.read_combinations();
  reader.read_cases();
}

}  // namespace jambcheck::rules
