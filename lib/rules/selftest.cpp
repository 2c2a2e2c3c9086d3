#include "rules/selftest.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "rules/evaluation.h"
#include "rules/given.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::rules {
namespace {

namespace fs = std::filesystem;
using text::MessageId;
using yaml::Kind;
using yaml::Node;

constexpr double kExact = 1e-9;  // relative: what "to the printed digit" leaves for the arithmetic itself

/// How near a value must come.
struct Tolerance {
  double within = 0;  ///< canonical
  int digits = 0;     ///< compare after rounding to so many significant digits
  double round = 0;   ///< compare after rounding to a multiple, canonical
};

class Runner {
 public:
  Runner(const RuleSet& set, text::Diagnostics& diagnostics, SelfTestReport& report)
      : set_(set), cache_(set), diagnostics_(diagnostics), report_(report) {}

  void run(const Node& doc) {
    if (!doc.is_map()) return;
    const Node* schema = yaml::need(doc, "schema", Kind::scalar, "a test file", diagnostics_);
    if (!schema) return;
    if (schema->text != "test/1") {
      diagnostics_.add(MessageId::Y010, schema->place, {schema->text, "did you mean test/1?"});
      return;
    }
    yaml::check_keys(doc, {"schema", "rule", "source", "given", "grid", "cases", "from_table", "note"}, "a test file", diagnostics_);
    report_.files.emplace_back();
    file_ = &report_.files.back();
    file_->path = doc.place.file->name;
    const Node* rule = yaml::need(doc, "rule", Kind::scalar, "a test file", diagnostics_);
    const Node* source = yaml::need(doc, "source", Kind::map, "a test file", diagnostics_);
    if (source) read_source(*source);
    if (!rule) return;
    file_->rule = rule->text;
    rule_ = set_.rule(rule->text);
    if (!rule_) {
      std::vector<std::string> known;
      for (const auto& r : set_.rules()) known.push_back(r->id);
      diagnostics_.add(MessageId::G005, rule->place, {rule->text, text::suggestion(rule->text, known)});
      return;
    }
    Case common;
    if (const Node* given = yaml::may(doc, "given", Kind::map, "a test file", diagnostics_)) read_given(*given, common);
    if (const Node* grid = yaml::may(doc, "grid", Kind::map, "a test file", diagnostics_)) run_grid(*grid, common);
    if (const Node* table = yaml::may(doc, "from_table", Kind::map, "a test file", diagnostics_)) run_table(*table, common);
    if (const Node* cases = yaml::may(doc, "cases", Kind::sequence, "a test file", diagnostics_))
      for (const auto& item : cases->items) run_case(item, common);
  }

 private:
  void read_source(const Node& source) {
    yaml::check_keys(source, {"doc", "at", "eq", "table", "example", "seen", "say", "note"}, "a source", diagnostics_);
    const Node* doc = yaml::need(source, "doc", Kind::scalar, "a source", diagnostics_);
    const Node* seen = yaml::need(source, "seen", Kind::scalar, "a source", diagnostics_);
    table::Evidence evidence{};
    if (seen && !table::parse_evidence(seen->text, evidence)) diagnostics_.add(MessageId::C002, seen->place, {seen->text});
    if (!doc) return;
    if (!set_.documents().count(doc->text)) {
      std::vector<std::string> known;
      for (const auto& [id, d] : set_.documents()) known.push_back(id);
      diagnostics_.add(MessageId::C003, doc->place, {doc->text, text::suggestion(doc->text, known)});
    }
    file_->source = doc->text;
    for (const auto* key : {"at", "eq", "table", "example"})
      if (const Node* n = source.find(key)) file_->source += " " + (std::string(key) == "at" ? "" : std::string(key) + " ") + n->text;
    if (seen) file_->evidence = seen->text;
    file_->published = doc->text != "own" && doc->text != "practice";
  }
  bool read_one(const std::string& key, const Node& key_node, const Node& value, Case& out) {
    const auto given = parse_given(set_, key, value.text);
    if (!given) {
      const bool about_key = given.error().id == MessageId::K101;
      diagnostics_.add(given.error(), about_key ? key_node.place : value.place);
      return false;
    }
    out.set(*set_.key(key), *given);
    return true;
  }
  void read_given(const Node& map, Case& out) {
    for (const auto& entry : map.entries) read_one(entry.key.text, entry.key, entry.value, out);
  }

  // ---- one evaluation
  std::shared_ptr<const Plan> plan_for(const Case& values, const std::vector<const Rule*>& more) {
    std::vector<const Rule*> targets = {rule_};
    targets.insert(targets.end(), more.begin(), more.end());
    return cache_.get(request_for(set_, values, targets));
  }
  /// The rules that define the keys among the expected names.
  std::vector<const Rule*> definers(const std::vector<std::string>& names, const Case& values) const {
    std::vector<const Rule*> out;
    const PlanRequest request = request_for(set_, values, {});
    for (const auto& name : names) {
      const Key* key = name.find('.') == std::string::npos ? nullptr : set_.key(name);
      if (!key) continue;
      for (const auto& [producer, output] : key->producers)
        if (producer != rule_ && applies(*producer, set_, request.words, nullptr) == Truth::yes) out.push_back(producer);
    }
    return out;
  }
  bool find_value(const Evaluation& evaluation, const std::string& name, double& value, units::Unit& unit, bool& is_word) const {
    is_word = false;
    if (name == "ratio" && rule_->check) {
      value = evaluation.value(evaluation.plan().check_of(*rule_)->ratio);
      return true;
    }
    program::Value v = evaluation.plan().value(*rule_, name);
    const Rule* rule = rule_;
    std::string local = name;
    if (v == program::kNoValue) {
      std::tie(rule, local) = evaluation.plan().definition(name);
      if (!rule) std::tie(rule, local) = defined_in_plan(evaluation.plan(), name);
      if (!rule) return false;
      v = evaluation.plan().value(*rule, local);
    }
    value = evaluation.value(v);
    unit = rule->unit_of(local);
    const Step* step = rule->step(local);
    const Input* input = rule->input(local);
    is_word = (step && step->formula.type().kind == expr::Type::Kind::word) || (input && input->is_word);
    return true;
  }
  static std::pair<const Rule*, std::string> defined_in_plan(const Plan& plan, const std::string& key) {
    for (const Rule* rule : plan.rules())
      for (const auto& output : rule->outputs)
        if (output.key == key) return {rule, output.step};
    return {nullptr, ""};
  }

  void cover(const Evaluation& evaluation) {
    for (const Rule* rule : evaluation.plan().rules()) {
      RuleCoverage& c = report_.coverage[rule];
      ++(file_->published ? c.published : c.own);
    }
  }

  // ---- comparing
  void miss(const text::Place& place, const std::string& what) {
    ++file_->misses;
    report_.misses.push_back({text::to_string(place), what});
  }
  static double rounded_to(double value, double step) { return std::floor(value / step + 0.5) * step; }
  void compare(const text::Place& place, const std::string& name, double got, double want, const units::Unit& unit,
               const Tolerance& tolerance) {
    ++file_->values;
    double value = got;
    if (tolerance.round > 0) value = rounded_to(got, tolerance.round);
    const double printed = want;
    if (tolerance.digits > 0) {
      // Compared as printed: both rounded in the unit of the print, then canonical again.
      const auto rounded = [&](double v) { return unit.to_canonical(*text::parse_number(fmt::format("{:.{}e}", unit.from_canonical(v), tolerance.digits - 1))); };
      value = rounded(got);
      want = rounded(want);
    }
    const double off = std::fabs(value - want);
    const double allowed = tolerance.within + kExact * std::max(std::fabs(want), std::fabs(value));
    const double relative = printed != 0 ? std::fabs(got - printed) / std::fabs(printed) : 0;
    if (std::isnan(got) || off > allowed) {
      miss(place, fmt::format("{} is {}, the source prints {}", name, units::show(got, unit, 6), units::show(want, unit, 6)));
      return;
    }
    if (relative > file_->worst) {
      file_->worst = relative;
      file_->worst_at = text::to_string(place);
    }
  }
  double quantity(const Node& node, const units::Unit& unit, const std::string& name) {
    if (const auto number = text::parse_number_or_quotient(node.text)) return unit.to_canonical(*number) - unit.to_canonical(0);
    const auto q = units::parse_quantity(node.text);
    if (!q) {
      diagnostics_.add(q.error(), node.place);
      return std::nan("");
    }
    const auto value = units::convert(*q, unit.dimension, name);
    if (value) return *value;
    diagnostics_.add(value.error(), node.place);
    return std::nan("");
  }
  Tolerance tolerance_of(const Node& map, const units::Unit& unit) {
    Tolerance t;
    if (const Node* n = map.find("within")) t.within = quantity(*n, unit, "within");
    if (const Node* n = map.find("within_digits")) t.digits = static_cast<int>(text::parse_number(n->text).value_or(0));
    if (const Node* n = map.find("round")) t.round = quantity(*n, unit, "round");
    return t;
  }

  // ---- grid
  struct AxisNodes {
    std::string key;
    const Node* key_node = nullptr;
    const Node* values = nullptr;
  };
  bool read_axis(const Node& grid, std::string_view which, AxisNodes& axis) {
    const Node* map = yaml::need(grid, which, Kind::map, "a grid", diagnostics_);
    if (!map || map->entries.size() != 1 || !map->entries[0].value.is_sequence()) {
      if (map) diagnostics_.add(MessageId::X002, map->place, {std::string(which)});
      return false;
    }
    axis = {map->entries[0].key.text, &map->entries[0].key, &map->entries[0].value};
    return true;
  }
  void run_grid(const Node& grid, const Case& common) {
    yaml::check_keys(grid, {"rows", "columns", "expect", "unit", "within", "within_digits", "round", "values"}, "a grid", diagnostics_);
    AxisNodes rows, columns;
    if (!read_axis(grid, "rows", rows) || !read_axis(grid, "columns", columns)) return;
    const Node* expect = yaml::need(grid, "expect", Kind::scalar, "a grid", diagnostics_);
    const Node* unit_node = yaml::need(grid, "unit", Kind::scalar, "a grid", diagnostics_);
    const Node* values = yaml::need(grid, "values", Kind::sequence, "a grid", diagnostics_);
    if (!expect || !unit_node || !values) return;
    const auto unit = units::parse_unit(unit_node->text);
    if (!unit) {
      diagnostics_.add(unit.error(), unit_node->place);
      return;
    }
    const Tolerance tolerance = tolerance_of(grid, *unit);
    for (std::size_t r = 0; r < values->items.size() && r < rows.values->items.size(); ++r)
      for (std::size_t c = 0; c < values->items[r].items.size() && c < columns.values->items.size(); ++c) {
        const Node& cell = values->items[r].items[c];
        if (cell.is_null()) continue;
        Case values_of_cell = common;
        if (!read_one(rows.key, *rows.key_node, rows.values->items[r], values_of_cell)) continue;
        if (!read_one(columns.key, *columns.key_node, columns.values->items[c], values_of_cell)) continue;
        compare_one(cell.place, expect->text, expect->text, quantity(cell, *unit, expect->text), tolerance, values_of_cell);
      }
    if (values->items.size() != rows.values->items.size()) diagnostics_.add(MessageId::X003, values->place);
  }
  // ---- a printed table of tables/
  void run_table(const Node& node, const Case& common) {
    yaml::check_keys(node, {"table", "column", "expect", "axes", "round", "within"}, "from_table", diagnostics_);
    const Node* id = yaml::need(node, "table", Kind::scalar, "from_table", diagnostics_);
    const Node* expect = yaml::need(node, "expect", Kind::scalar, "from_table", diagnostics_);
    const Node* axes = yaml::need(node, "axes", Kind::map, "from_table", diagnostics_);
    if (!id || !expect || !axes) return;
    const table::Table* table = set_.table(id->text);
    if (!table) {
      std::vector<std::string> known;
      for (const auto& [name, t] : set_.tables()) known.push_back(name);
      diagnostics_.add(MessageId::T011, id->place, {id->text, text::suggestion(id->text, known)});
      return;
    }
    const Node* column_name = node.find("column");
    const table::Column* column = column_name ? table->column(column_name->text) : &table->columns.front();
    if (!column) {
      diagnostics_.add(MessageId::T011, column_name->place, {id->text + "." + column_name->text, "the column is not one of the table's"});
      return;
    }
    const Tolerance tolerance = tolerance_of(node, column->unit);
    for (std::size_t cell = 0; cell < table->cells(); ++cell) {
      if (std::isnan(column->cells[cell])) continue;
      const auto at = table::axis_values(*table, cell, set_.symbols());
      Case values = common;
      std::string where;
      bool good = true;
      for (std::size_t i = 0; i < table->axes.size(); ++i) {
        const table::Axis& axis = table->axes[i];
        const Node* key = axes->find(axis.name);
        if (!key) {
          diagnostics_.add(MessageId::T012, axes->place, {id->text, axis.name});
          return;
        }
        Given given;
        given.value = at[i];
        given.is_word = axis.is_word;
        if (axis.is_word) given.word = set_.symbols().word(static_cast<std::uint32_t>(at[i]));
        if (!set_.key(key->text)) {
          diagnostics_.add(MessageId::K101, key->place, {key->text, ""});
          good = false;
          break;
        }
        values.set(*set_.key(key->text), given);
        where += (where.empty() ? "" : ", ") + axis.name + " " + (axis.is_word ? std::string(given.word) : units::show(at[i], axis.unit, 6));
      }
      if (!good) return;
      compare_one(expect->place, expect->text + " at " + where, expect->text, column->cells[cell], tolerance, values);
    }
  }
  void compare_one(const text::Place& place, const std::string& shown, const std::string& name, double want, const Tolerance& tolerance,
                   const Case& values) {
    const Evaluation evaluation(plan_for(values, definers({name}, values)), values);
    cover(evaluation);
    double got = 0;
    units::Unit unit;
    bool is_word = false;
    if (!find_value(evaluation, name, got, unit, is_word)) {
      diagnostics_.add(MessageId::E010, place, {name, "a step of " + rule_->id + " or a key that a rule defines"});
      return;
    }
    compare(place, shown, got, want, unit, tolerance);
  }

  // ---- named cases
  void run_case(const Node& item, const Case& common) {
    if (!item.is_map()) {
      diagnostics_.add(MessageId::Y005, item.place, {"a test file", "cases", "a list of maps", std::string(yaml::word(item.kind))});
      return;
    }
    yaml::check_keys(item, {"name", "given", "expect", "outcome", "reason", "note", "source"}, "a case", diagnostics_);
    const Node* name = yaml::need(item, "name", Kind::scalar, "a case", diagnostics_);
    Case values = common;
    const std::size_t before = diagnostics_.count(text::Severity::error);
    if (const Node* given = yaml::may(item, "given", Kind::map, "a case", diagnostics_)) read_given(*given, values);
    if (!name || diagnostics_.count(text::Severity::error) != before) return;
    const Node* expect = yaml::may(item, "expect", Kind::map, "a case", diagnostics_);
    std::vector<std::string> names;
    if (expect)
      for (const auto& entry : expect->entries) names.push_back(entry.key.text);
    const Node* outcome = item.find("outcome");
    if (outcome && outcome->text == "not-applicable") return check_not_applicable(*name, values);
    const Evaluation evaluation(plan_for(values, definers(names, values)), values);
    cover(evaluation);
    if (expect) check_values(*name, *expect, evaluation);
    if (outcome) check_outcome(*name, *outcome, evaluation);
    if (const Node* reason = item.find("reason")) check_reason(*name, *reason, evaluation);
    if (!expect && !outcome && !item.find("reason")) diagnostics_.add(MessageId::X001, name->place, {name->text});
  }
  void check_not_applicable(const Node& name, const Case& values) {
    ++file_->outcomes;
    ++report_.coverage[rule_].own;
    if (applies(*rule_, set_, request_for(set_, values, {}).words, nullptr) != Truth::no)
      miss(name.place, name.text + ": the rule applies, the test says it does not");
  }
  void check_values(const Node& name, const Node& expect, const Evaluation& evaluation) {
    for (const auto& entry : expect.entries) {
      const std::string& key = entry.key.text;
      if (key == "within" || key == "within_digits" || key == "round") continue;
      double got = 0;
      units::Unit unit;
      bool is_word = false;
      if (!find_value(evaluation, key, got, unit, is_word)) {
        diagnostics_.add(MessageId::E010, entry.key.place, {key, "a step of " + rule_->id + " or a key that a rule defines"});
        continue;
      }
      if (is_word) {
        ++file_->values;
        const std::string word = std::isnan(got) ? "no value" : set_.symbols().word(static_cast<std::uint32_t>(got));
        if (word != entry.value.text) miss(entry.value.place, name.text + ": " + key + " is " + word + ", the source says " + entry.value.text);
        continue;
      }
      if (entry.value.text == "none") {
        ++file_->values;
        if (!std::isnan(got)) miss(entry.value.place, fmt::format("{}: {} is {}, no value is expected", name.text, key, units::show(got, unit, 6)));
        continue;
      }
      units::Unit expected_unit = unit;
      if (const auto q = units::parse_quantity(entry.value.text); q && !text::parse_number_or_quotient(entry.value.text)) expected_unit = q->shown;
      compare(entry.value.place, name.text + ": " + key, got, quantity(entry.value, unit, key), expected_unit, tolerance_of(expect, expected_unit));
    }
  }
  static bool matches(const std::string& wanted, const Judgement& j) {
    if (wanted == "ok" || wanted == "holds") return j.state == State::holds;
    if (wanted == "short") return j.state == State::short_;
    if (wanted == "not-shown") return j.state == State::not_shown;
    return (wanted == "engineer" || wanted == "refused") && j.state == State::engineer;
  }
  void check_outcome(const Node& name, const Node& outcome, const Evaluation& evaluation) {
    const std::vector<std::string> known = {"ok", "holds", "short", "engineer", "refused", "not-shown", "not-applicable"};
    if (std::find(known.begin(), known.end(), outcome.text) == known.end()) {
      diagnostics_.add(MessageId::Y009, outcome.place, {outcome.text, text::join(known)});
      return;
    }
    ++file_->outcomes;
    const Judgement j = evaluation.judge_rule(*rule_);
    if (matches(outcome.text, j)) return;
    std::string why;
    for (const auto& r : j.reasons) why += (why.empty() ? " (" : "; ") + r.code + ": " + r.text;
    miss(outcome.place, name.text + ": the outcome is " + std::string(word(j.state)) + (why.empty() ? "" : why + ")") + ", the test says " + outcome.text);
  }
  void check_reason(const Node& name, const Node& reason, const Evaluation& evaluation) {
    ++file_->outcomes;
    const Judgement j = evaluation.judge_rule(*rule_);
    for (const auto& r : j.reasons)
      if (r.code == reason.text) return;
    miss(reason.place, name.text + ": no reason '" + reason.text + "' was given");
  }

  const RuleSet& set_;
  PlanCache cache_;
  text::Diagnostics& diagnostics_;
  SelfTestReport& report_;
  SelfTestFile* file_ = nullptr;
  const Rule* rule_ = nullptr;
};

std::vector<std::string> test_files(const std::string& path) {
  std::vector<std::string> out;
  std::error_code error;
  if (!fs::is_directory(path, error)) return {path};
  for (auto it = fs::recursive_directory_iterator(path, error); !error && it != fs::recursive_directory_iterator(); it.increment(error)) {
    const std::string name = it->path().generic_string();
    if (it->is_regular_file() && name.size() > 5 && name.ends_with(".yaml")) out.push_back(name);
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

std::size_t SelfTestReport::values() const {
  std::size_t n = 0;
  for (const auto& f : files) n += f.values;
  return n;
}

SelfTestReport run_selftest(const RuleSet& set, const std::vector<std::string>& paths, text::SourceSet& sources,
                            text::Diagnostics& diagnostics) {
  SelfTestReport report;
  Runner runner(set, diagnostics, report);
  for (const auto& path : paths)
    for (const auto& file : test_files(path)) {
      std::ifstream in(file, std::ios::binary);
      if (!in) {
        diagnostics.add(MessageId::L005, {sources.add(file, ""), 0, 0, 0}, {file, "no such file"});
        continue;
      }
      std::ostringstream content;
      content << in.rdbuf();
      const auto* source = sources.add(file, content.str());
      for (const auto& doc : yaml::parse(*source, diagnostics)) runner.run(doc);
    }
  return report;
}

}  // namespace jambcheck::rules
