#include "rules/read_rule.h"

#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::rules {
namespace {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

class Reader {
 public:
  Reader(const Node& doc, text::Diagnostics& diagnostics) : doc_(doc), diagnostics_(diagnostics) {}

  RuleDraft read() {
    draft_.rule = std::make_unique<Rule>();
    rule_ = draft_.rule.get();
    rule_->place = doc_.place;
    if (doc_.place.file) rule_->path = doc_.place.file->name;
    yaml::check_keys(doc_, {"schema", "id", "title", "code", "status", "method", "editions", "clauses", "applies", "inputs", "constants",
                            "tables", "steps", "native", "outputs", "check", "flags", "also", "printed", "compare", "note"},
                     "a rule", diagnostics_);
    read_head();
    if (const auto* n = yaml::need(doc_, "clauses", Kind::map, "a rule", diagnostics_))
      rule_->clauses = table::read_clauses(*n, "a rule", diagnostics_);
    each("applies", [&](const Node& n) { read_applies(n); });
    each_named("inputs", [&](const Node& key, const Node& n) { read_input(key, n); });
    each_named("constants", [&](const Node& key, const Node& n) { read_constant(key, n); });
    each_named("tables", [&](const Node& key, const Node& n) { read_table(key, n); });
    each("steps", [&](const Node& n) { read_step(n); });
    if (const auto* n = yaml::may(doc_, "native", Kind::map, "a rule", diagnostics_)) read_native(*n);
    each_named("outputs", [&](const Node& key, const Node& n) { read_output(key, n); });
    if (const auto* n = yaml::may(doc_, "check", Kind::map, "a rule", diagnostics_)) read_check(*n);
    each("flags", [&](const Node& n) { read_flag(n); });
    each("also", [&](const Node& n) { read_also(n); });
    each("printed", [&](const Node& n) { read_printed(n); });
    each("compare", [&](const Node& n) { read_compare(n); });
    draft_.whole = diagnostics_.count(text::Severity::error) == errors_before_;
    return std::move(draft_);
  }

 private:
  // ---- helpers
  template <class F>
  void each(std::string_view key, F&& f) {
    const Node* list = yaml::may(doc_, key, Kind::sequence, "a rule", diagnostics_);
    if (!list) return;
    for (const auto& item : list->items) {
      if (item.is_map()) f(item);
      else wrong_kind(std::string(key), item, "a list of maps");
    }
  }
  template <class F>
  void each_named(std::string_view key, F&& f) {
    const Node* map = yaml::may(doc_, key, Kind::map, "a rule", diagnostics_);
    if (!map) return;
    for (const auto& entry : map->entries) {
      if (entry.value.is_map()) f(entry.key, entry.value);
      else wrong_kind(entry.key.text, entry.value, "a map");
    }
  }
  void wrong_kind(const std::string& key, const Node& node, const std::string& wanted) {
    diagnostics_.add(MessageId::Y005, node.place, {"a rule", key, wanted, std::string(yaml::word(node.kind))});
  }
  std::string text_of(const Node& map, std::string_view key, std::string_view what) {
    const Node* node = yaml::may(map, key, Kind::scalar, what, diagnostics_);
    return node ? node->text : std::string();
  }
  int clause_of(const Node& map, std::string_view what, bool required) {
    const Node* cite = required ? yaml::need(map, "cite", Kind::scalar, what, diagnostics_)
                                : yaml::may(map, "cite", Kind::scalar, what, diagnostics_);
    return cite ? table::find_clause(rule_->clauses, *cite, diagnostics_) : -1;
  }
  void claim(const std::string& name, const text::Place& place) {
    for (const auto& [taken, where] : names_)
      if (taken == name) {
        auto& d = diagnostics_.add(MessageId::E015, place, {name});
        d.other = where;
        d.other_note = "first used here";
        return;
      }
    names_.emplace_back(name, place);
  }
  /// The unit of `map`; one that is missing or not understood is reported and remembered.
  units::Unit unit_of(const Node& map, std::string_view what) {
    const std::size_t before = diagnostics_.count(text::Severity::error);
    const Node* unit = yaml::need(map, "unit", Kind::scalar, what, diagnostics_);
    const units::Unit read = unit && unit->text != "word" ? read_unit(*unit, diagnostics_) : units::Unit();
    if (diagnostics_.count(text::Severity::error) != before) draft_.units_known = false;
    return read;
  }
  bool outcome(const Node& node, bool may_not_apply, Outcome& out, bool may_note = false) {
    if (node.text == "engineer") out = Outcome::engineer;
    else if (node.text == "refused" || node.text == "refuse") out = Outcome::refused;
    else if (may_note && node.text == "note") out = Outcome::note;
    else if (may_not_apply && node.text == "not-applicable") out = Outcome::not_applicable;
    else {
      diagnostics_.add(MessageId::Y009, node.place,
                       {node.text, may_not_apply ? "not-applicable, engineer, refused" : may_note ? "note, engineer, refused" : "engineer, refused"});
      return false;
    }
    return true;
  }

  // ---- parts
  void read_head() {
    if (const auto* n = yaml::need(doc_, "id", Kind::scalar, "a rule", diagnostics_)) rule_->id = n->text;
    if (const auto* n = yaml::need(doc_, "title", Kind::scalar, "a rule", diagnostics_)) rule_->title = n->text;
    rule_->code = text_of(doc_, "code", "a rule");
    rule_->note = text_of(doc_, "note", "a rule");
    if (const auto* n = yaml::need(doc_, "status", Kind::scalar, "a rule", diagnostics_)) {
      rule_->status = n->text;
      if (n->text != "draft" && n->text != "reviewed" && n->text != "withdrawn")
        diagnostics_.add(MessageId::Y009, n->place, {n->text, "draft, reviewed, withdrawn"});
    }
    if (const auto* n = yaml::need(doc_, "method", Kind::scalar, "a rule", diagnostics_)) {
      rule_->method = n->text;
      if (n->text != "ASD" && n->text != "LRFD" && n->text != "any")
        diagnostics_.add(MessageId::Y009, n->place, {n->text, "ASD, LRFD, any"});
    }
    if (const auto* n = yaml::may(doc_, "editions", Kind::sequence, "a rule", diagnostics_))
      for (const auto& item : n->items) rule_->editions.push_back(item.text);
  }
  void read_applies(const Node& n) {
    yaml::check_keys(n, {"when", "else", "say", "cite"}, "a line of applies", diagnostics_);
    Applies line;
    line.place = n.place;
    line.say = text_of(n, "say", "a line of applies");
    const Node* when = yaml::need(n, "when", Kind::scalar, "a line of applies", diagnostics_);
    const Node* otherwise = yaml::need(n, "else", Kind::scalar, "a line of applies", diagnostics_);
    if (!when || !otherwise || !read_formula(*when, line.when, diagnostics_)) return;
    if (outcome(*otherwise, true, line.otherwise)) rule_->applies.push_back(std::move(line));
  }
  void read_input(const Node& key, const Node& n) {
    yaml::check_keys(n, {"from", "unit", "range", "outside", "cite", "one_of", "optional", "default", "say"}, "an input",
                     diagnostics_);
    Input input;
    input.name = key.text;
    input.place = key.place;
    claim(key.text, key.place);
    if (const auto* from = yaml::need(n, "from", Kind::scalar, "an input", diagnostics_)) {
      input.key = from->text;
      input.key_place = from->place;
    }
    input.say = text_of(n, "say", "an input");
    input.clause = clause_of(n, "an input", false);
    input.optional = text_of(n, "optional", "an input") == "true";
    draft_.input_words.emplace_back();
    if (const Node* words = n.find("one_of")) {
      input.is_word = true;
      read_words(*words, draft_.input_words.back());
    } else {
      input.unit = unit_of(n, "an input");
    }
    if (const Node* value = n.find("default")) read_default(*value, input);
    read_range(n, input);
    rule_->inputs.push_back(std::move(input));
  }
  void read_words(const Node& words, WordSource& source) {
    if (words.is_sequence()) {
      for (const auto& w : words.items) {
        source.list.push_back(w.text);
        source.places.push_back(w.place);
      }
      return;
    }
    source.places.push_back(words.place);
    constexpr std::string_view kTable = "table ";
    if (words.is_scalar() && words.text.rfind(kTable, 0) == 0) source.table_axis = words.text.substr(kTable.size());
    else if (words.is_scalar() && words.text == "key") return;  // all words of the key
    else wrong_kind("one_of", words, "a list, 'key' or 'table ID.AXIS'");
  }
  void read_default(const Node& value, Input& input) {
    if (value.text == "ask") {
      input.must_be_given = true;
      return;
    }
    if (input.is_word) {
      input.assumed_word = value.text;
      return;
    }
    const auto quantity = units::parse_quantity(value.text);
    if (!quantity) {
      diagnostics_.add(quantity.error(), value.place);
    } else if (quantity->shown.dimension != input.unit.dimension) {
      diagnostics_.add(MessageId::U025, value.place, {value.text, units::to_string(quantity->shown.dimension), input.unit.name, units::to_string(input.unit.dimension)});
    } else {
      input.assumed = *quantity;
    }
  }
  void read_range(const Node& n, Input& input) {
    const Node* range = yaml::may(n, "range", Kind::sequence, "an input", diagnostics_);
    if (!range) return;
    const Node* outside = yaml::need(n, "outside", Kind::scalar, "an input", diagnostics_);
    if (range->items.size() != 2) {
      diagnostics_.add(MessageId::E016, range->place);
      return;
    }
    const auto lo = text::parse_number_or_quotient(range->items[0].text), hi = text::parse_number_or_quotient(range->items[1].text);
    if (!lo || !hi || !(*lo <= *hi)) {
      diagnostics_.add(MessageId::E016, range->place);
      return;
    }
    Range r;
    r.lo = input.unit.to_canonical(*lo);
    r.hi = input.unit.to_canonical(*hi);
    r.place = range->place;
    if (outside && outcome(*outside, false, r.outside)) input.range = r;
  }
  void read_constant(const Node& key, const Node& n) {
    yaml::check_keys(n, {"value", "unit", "cite", "say"}, "a constant", diagnostics_);
    Constant c;
    c.name = key.text;
    c.place = key.place;
    claim(key.text, key.place);
    c.say = text_of(n, "say", "a constant");
    c.clause = clause_of(n, "a constant", true);
    c.unit = unit_of(n, "a constant");
    if (const auto* value = yaml::need(n, "value", Kind::scalar, "a constant", diagnostics_)) {
      const auto number = text::parse_number_or_quotient(value->text);
      c.text = value->text;
      if (number) c.value = c.unit.to_canonical(*number);
      else diagnostics_.add(MessageId::E017, value->place, {value->text});
    }
    rule_->constants.push_back(std::move(c));
  }
  void read_table(const Node& key, const Node& n) {
    yaml::check_keys(n, {"id"}, "a table of a rule", diagnostics_);
    claim(key.text, key.place);
    if (const auto* id = yaml::need(n, "id", Kind::scalar, "a table of a rule", diagnostics_))
      rule_->tables.push_back({key.text, id->text, nullptr, id->place});
  }
  void read_step(const Node& n) {
    yaml::check_keys(n, {"let", "be", "unit", "cite", "say"}, "a step", diagnostics_);
    Step step;
    const Node* let = yaml::need(n, "let", Kind::scalar, "a step", diagnostics_);
    const Node* be = yaml::need(n, "be", Kind::scalar, "a step", diagnostics_);
    step.unit = unit_of(n, "a step");
    step.clause = clause_of(n, "a step", true);
    step.say = text_of(n, "say", "a step");
    if (!let) return;
    step.name = let->text;
    step.place = let->place;
    claim(step.name, let->place);
    // A formula that can't be read stands in as 0, so that the name is not missed elsewhere.
    if (!be || !read_formula(*be, step.formula, diagnostics_)) step.formula.tree = *expr::parse("0");
    rule_->steps.push_back(std::move(step));
  }
  void read_native(const Node& n) {
    yaml::check_keys(n, {"solver", "gives"}, "a native part", diagnostics_);
    if (const auto* solver = yaml::need(n, "solver", Kind::scalar, "a native part", diagnostics_)) {
      draft_.solver = solver->text;
      draft_.solver_place = solver->place;
    }
    const Node* gives = yaml::need(n, "gives", Kind::sequence, "a native part", diagnostics_);
    if (!gives) return;
    for (const auto& item : gives->items) {
      yaml::check_keys(item, {"name", "unit", "cite", "say"}, "a result", diagnostics_);
      NativeResult r;
      r.place = item.place;
      if (const auto* name = yaml::need(item, "name", Kind::scalar, "a result", diagnostics_)) r.name = name->text;
      claim(r.name, item.place);
      r.unit = unit_of(item, "a result");
      r.clause = clause_of(item, "a result", true);
      r.say = text_of(item, "say", "a result");
      rule_->results.push_back(std::move(r));
    }
  }
  void read_output(const Node& key, const Node& n) {
    yaml::check_keys(n, {"to"}, "an output", diagnostics_);
    if (const auto* to = yaml::need(n, "to", Kind::scalar, "an output", diagnostics_))
      rule_->outputs.push_back({key.text, to->text, to->place, key.place});
  }
  void read_check(const Node& n) {
    yaml::check_keys(n, {"demand", "capacity", "kind"}, "a check", diagnostics_);
    const Node* demand = yaml::need(n, "demand", Kind::scalar, "a check", diagnostics_);
    const Node* capacity = yaml::need(n, "capacity", Kind::scalar, "a check", diagnostics_);
    CheckKind kind = CheckKind::strength;
    if (const auto* word = yaml::may(n, "kind", Kind::scalar, "a check", diagnostics_)) {
      if (word->text == "gate") kind = CheckKind::gate;
      else if (word->text == "measure") kind = CheckKind::measure;
      else if (word->text != "strength") diagnostics_.add(MessageId::Y009, word->place, {word->text, "strength, measure, gate"});
    }
    if (demand && capacity) rule_->check = Check{demand->text, capacity->text, kind, n.place};
  }
  void read_flag(const Node& n) {
    yaml::check_keys(n, {"id", "when", "outcome", "cite", "say"}, "a flag", diagnostics_);
    Flag flag;
    flag.place = n.place;
    if (const auto* id = yaml::need(n, "id", Kind::scalar, "a flag", diagnostics_)) flag.id = id->text;
    if (const auto* say = yaml::need(n, "say", Kind::scalar, "a flag", diagnostics_)) flag.say = say->text;
    flag.clause = clause_of(n, "a flag", true);
    const Node* when = yaml::need(n, "when", Kind::scalar, "a flag", diagnostics_);
    const Node* out = yaml::need(n, "outcome", Kind::scalar, "a flag", diagnostics_);
    if (!when || !out || !read_formula(*when, flag.when, diagnostics_)) return;
    if (outcome(*out, false, flag.outcome, true)) rule_->flags.push_back(std::move(flag));
  }
  void read_also(const Node& n) {
    yaml::check_keys(n, {"rule", "cite"}, "a line of also", diagnostics_);
    if (const auto* rule = yaml::need(n, "rule", Kind::scalar, "a line of also", diagnostics_))
      rule_->also.push_back({rule->text, clause_of(n, "a line of also", false), rule->place});
  }
  void read_compare(const Node& n) {
    yaml::check_keys(n, {"given", "against", "say"}, "a line of compare", diagnostics_);
    const Node* given = yaml::need(n, "given", Kind::scalar, "a line of compare", diagnostics_);
    const Node* against = yaml::need(n, "against", Kind::scalar, "a line of compare", diagnostics_);
    const Node* say = yaml::need(n, "say", Kind::scalar, "a line of compare", diagnostics_);
    if (given && against && say) rule_->compare.push_back({given->text, against->text, say->text, n.place});
  }
  void read_printed(const Node& n) {
    yaml::check_keys(n, {"table", "step", "axes", "when"}, "a printed table", diagnostics_);
    Printed p;
    p.place = n.place;
    if (const auto* id = yaml::need(n, "table", Kind::scalar, "a printed table", diagnostics_)) p.table_id = id->text;
    if (const auto* step = yaml::need(n, "step", Kind::scalar, "a printed table", diagnostics_)) p.step = step->text;
    draft_.printed_axes.emplace_back();
    if (const auto* axes = yaml::need(n, "axes", Kind::map, "a printed table", diagnostics_))
      for (const auto& e : axes->entries) draft_.printed_axes.back().emplace_back(e.key.text, e.value.text);
    if (const Node* when = n.find("when")) {
      Formula f;
      if (read_formula(*when, f, diagnostics_)) p.when = std::move(f);
    }
    rule_->printed.push_back(std::move(p));
  }

  const Node& doc_;
  text::Diagnostics& diagnostics_;
  RuleDraft draft_;
  Rule* rule_ = nullptr;
  std::vector<std::pair<std::string, text::Place>> names_;
  std::size_t errors_before_ = diagnostics_.count(text::Severity::error);
};

}  // namespace

bool read_formula(const Node& node, Formula& out, text::Diagnostics& diagnostics) {
  out.place = node.place;
  if (!node.is_scalar()) {
    diagnostics.add(MessageId::Y005, node.place, {"a rule", "a formula", "a text", std::string(yaml::word(node.kind))});
    return false;
  }
  auto tree = expr::parse(node.text);
  if (!tree) {
    diagnostics.add(tree.error(), node.place);
    return false;
  }
  out.tree = std::move(*tree);
  return true;
}

units::Unit read_unit(const Node& node, text::Diagnostics& diagnostics) {
  auto unit = units::parse_unit(node.text);
  if (unit) return *unit;
  diagnostics.add(unit.error(), node.place);
  return {};
}

RuleDraft read_rule(const Node& doc, text::Diagnostics& diagnostics) { return Reader(doc, diagnostics).read(); }

}  // namespace jambcheck::rules
