// Loading a rule set: read every file, then link and check the whole. One mistake never hides the next.
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "expr/print.h"
#include "rules/category.h"
#include "rules/graph.h"
#include "rules/read_rule.h"
#include "rules/rule_set.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using expr::Type;
using text::MessageId;
using yaml::Kind;
using yaml::Node;

namespace {

namespace fs = std::filesystem;

std::uint64_t fnv(std::string_view text) {
  std::uint64_t h = 1469598103934665603ULL;
  for (const unsigned char c : text) h = (h ^ c) * 1099511628211ULL;
  return h;
}

/// "wood/lag_screw/withdrawal.yaml" -> "wood.lag_screw.withdrawal"
std::string id_of_path(const fs::path& relative) {
  fs::path bare = relative;
  bare.replace_extension();
  std::string id = bare.generic_string();
  std::replace(id.begin(), id.end(), '/', '.');
  return id;
}

}  // namespace

class Loader {
 public:
  Loader(const program::NativeRegistry& solvers, text::SourceSet& sources, text::Diagnostics& diagnostics)
      : solvers_(solvers), sources_(sources), diagnostics_(diagnostics), set_(std::make_unique<RuleSet>()) {}

  std::unique_ptr<const RuleSet> run(const Folders& folders) {
    for (const auto& folder : folders.tables) read_folder(folder);
    for (const auto& folder : folders.rules) read_folder(folder);
    read_keys();
    resolve_drafts();
    check_formulas();
    register_outputs();
    check_keys_used();
    read_required();
    read_combinations();
    sort_rules();
    check_conflicts();
    collect_category_keys();
    if (diagnostics_.has_errors()) return nullptr;
    return std::move(set_);
  }

 private:
  // ---- files
  void read_folder(const Folder& folder) {
    std::error_code error;
    std::vector<fs::path> files;
    for (auto it = fs::recursive_directory_iterator(folder.path, error); !error && it != fs::recursive_directory_iterator(); it.increment(error))
      if (it->is_regular_file() && it->path().extension() == ".yaml") files.push_back(it->path());
    if (error) {
      diagnostics_.add(MessageId::L005, {sources_.add(folder.label, ""), 0, 0, 0}, {folder.label, fs::exists(folder.path) ? error.message() : "no such folder"});
      return;
    }
    std::sort(files.begin(), files.end());
    for (const auto& file : files) {
      const fs::path relative = file.lexically_relative(folder.path);
      read_file(file, (fs::path(folder.label) / relative).generic_string(), id_of_path(relative));
    }
  }
  void read_file(const fs::path& path, const std::string& name, const std::string& id) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream content;
    content << in.rdbuf();
    const auto* source = sources_.add(name, content.str());
    set_->stamps_.push_back({source->name, fnv(source->text)});
    for (auto& doc : yaml::parse(*source, diagnostics_)) read_document(doc, id, *source);
  }
  void read_document(Node& doc, const std::string& id, const text::SourceFile& source) {
    if (!doc.is_map()) {
      diagnostics_.add(MessageId::Y011, {&source, 1, 1, 0}, {std::string(yaml::word(doc.kind))});
      return;
    }
    const Node* schema = yaml::need(doc, "schema", Kind::scalar, "the file", diagnostics_);
    if (!schema) return;
    if (schema->text == "rule/1") add_rule(doc, id);
    else if (schema->text == "table/1") add_table(doc, id);
    else if (schema->text == "keys/1") key_files_.push_back(std::move(doc));
    else if (schema->text == "documents/1") read_documents(doc);
    else if (schema->text == "required/1") required_files_.push_back(std::move(doc));
    else if (schema->text == "combinations/1") combination_files_.push_back(std::move(doc));
    else diagnostics_.add(MessageId::Y010, schema->place, {schema->text, text::suggestion(schema->text, {"rule/1", "table/1", "keys/1", "documents/1", "required/1", "combinations/1"})});
  }
  void check_id(const std::string& id, const std::string& from_path, const text::Place& place) {
    if (id != from_path) diagnostics_.add(MessageId::G006, place, {id, from_path});
  }
  void add_rule(const Node& doc, const std::string& id) {
    RuleDraft draft = read_rule(doc, diagnostics_);
    if (const Node* n = doc.find("id")) check_id(draft.rule->id, id, n->place);
    const auto same = std::find_if(drafts_.begin(), drafts_.end(), [&](const RuleDraft& d) { return d.rule->id == draft.rule->id; });
    if (same == drafts_.end()) drafts_.push_back(std::move(draft));
    else *same = std::move(draft);  // a later folder replaces
  }
  void add_table(Node& doc, const std::string& id) {
    std::vector<Node> documents;
    documents.push_back(std::move(doc));
    auto tables = table::read_tables(documents, set_->symbols_, diagnostics_);
    for (auto& table : tables) {
      if (const Node* n = documents.front().find("id")) check_id(table->id, id, n->place);
      set_->tables_[table->id] = std::move(table);
    }
  }
  void read_documents(const Node& doc) {
    yaml::check_keys(doc, {"schema", "documents"}, "the file", diagnostics_);
    const Node* list = yaml::need(doc, "documents", Kind::map, "the file", diagnostics_);
    if (!list) return;
    for (const auto& entry : list->entries) {
      const Node& n = entry.value;
      yaml::check_keys(n, {"title", "body", "edition", "family", "seen", "note"}, "a document", diagnostics_);
      Document d;
      d.id = entry.key.text;
      const auto field = [&](std::string_view key) {
        const Node* v = yaml::may(n, key, Kind::scalar, "a document", diagnostics_);
        return v ? v->text : std::string();
      };
      d.title = field("title");
      d.body = field("body");
      d.edition = field("edition");
      d.family = field("family");
      if (const Node* seen = n.find("seen"))
        if (!table::parse_evidence(seen->text, d.seen)) diagnostics_.add(MessageId::C002, seen->place, {seen->text});
      set_->documents_[d.id] = d;
    }
  }

  // ---- keys
  void read_keys() {
    for (const auto& doc : key_files_) {
      yaml::check_keys(doc, {"schema", "keys"}, "the file", diagnostics_);
      const Node* list = yaml::need(doc, "keys", Kind::map, "the file", diagnostics_);
      if (!list) continue;
      for (const auto& entry : list->entries) read_key(entry.key, entry.value);
    }
  }
  void read_key(const Node& name, const Node& n) {
    yaml::check_keys(n, {"unit", "one_of", "say", "ask", "find", "default"}, "a key", diagnostics_);
    Key key;
    key.name = name.text;
    key.declared = true;
    key.place = name.place;
    const auto field = [&](std::string_view k) {
      const Node* v = yaml::may(n, k, Kind::scalar, "a key", diagnostics_);
      return v ? v->text : std::string();
    };
    key.say = field("say");
    key.ask = field("ask");
    key.find = field("find");
    if (const Node* words = n.find("one_of")) {
      key.is_word = true;
      if (words->is_sequence()) {
        for (const auto& w : words->items) key.words.push_back(w.text);
      } else if (const auto* axis = word_axis(*words, words->text.substr(0, 6) == "table " ? words->text.substr(6) : words->text)) {
        key.words = axis->words;
        key.aliases = axis->aliases;
      }
    } else if (const Node* unit = yaml::need(n, "unit", Kind::scalar, "a key", diagnostics_)) {
      key.unit = read_unit(*unit, diagnostics_);
    }
    for (const auto& w : key.words) set_->symbols_.intern(w);
    if (const Node* value = n.find("default")) read_key_default(*value, key);
    set_->keys_[key.name] = std::move(key);
  }
  void read_key_default(const Node& value, Key& key) {
    if (key.is_word) {
      if (key.canonical_word(value.text)) key.assumed_word = value.text;
      else diagnostics_.add(MessageId::E011, value.place, {key.name, value.text, text::suggestion(value.text, key.words)});
      return;
    }
    const auto quantity = units::parse_quantity(value.text);
    if (!quantity) diagnostics_.add(quantity.error(), value.place);
    else if (quantity->shown.dimension != key.unit.dimension)
      diagnostics_.add(MessageId::U025, value.place, {value.text, units::to_string(quantity->shown.dimension), key.unit.name, units::to_string(key.unit.dimension)});
    else key.assumed = *quantity;
  }
  /// The word axis that "wood.specific_gravity.species" names.
  const table::Axis* word_axis(const Node& at, const std::string& path) {
    const auto dot = path.rfind('.');
    const table::Table* table = dot == std::string::npos ? nullptr : set_->table(path.substr(0, dot));
    if (table)
      for (const auto& axis : table->axes)
        if (axis.is_word && axis.name == path.substr(dot + 1)) return &axis;
    diagnostics_.add(MessageId::T010, at.place, {path});
    return nullptr;
  }

  // ---- rules: what their names stand for
  void resolve_drafts() {
    for (auto& draft : drafts_) {
      Rule& rule = *draft.rule;
      check_documents(rule.clauses);
      for (std::size_t i = 0; i < rule.inputs.size(); ++i) resolve_input(rule.inputs[i], draft.input_words[i]);
      for (auto& use : rule.tables) resolve_table(use);
      resolve_solver(draft);
    }
    for (const auto& [id, table] : set_->tables_) check_documents(table->clauses);
  }
  void check_documents(const std::vector<Clause>& clauses) {
    for (const auto& clause : clauses)
      if (!set_->documents_.count(clause.doc)) {
        std::vector<std::string> known;
        for (const auto& [id, d] : set_->documents_) known.push_back(id);
        diagnostics_.add(MessageId::C003, clause.doc_place, {clause.doc, text::suggestion(clause.doc, known)});
      }
  }
  const std::vector<std::string>* keep_words(std::vector<std::string> words) {
    for (const auto& w : words) set_->symbols_.intern(w);
    set_->word_lists_.push_back(std::make_unique<std::vector<std::string>>(std::move(words)));
    return set_->word_lists_.back().get();
  }
  void resolve_input(Input& input, const WordSource& source) {
    if (!input.is_word) return;
    const auto key = set_->keys_.find(input.key);
    if (!source.table_axis.empty()) {
      Node at;
      at.place = source.places.front();
      if (const auto* axis = word_axis(at, source.table_axis)) input.words = keep_words(axis->words);
    } else if (!source.list.empty()) {
      input.words = keep_words(source.list);
      if (key != set_->keys_.end() && key->second.is_word)
        for (std::size_t i = 0; i < source.list.size(); ++i)
          if (const auto& w = source.list[i]; !key->second.canonical_word(w))
            diagnostics_.add(MessageId::E011, source.places[i], {input.key, w, text::suggestion(w, key->second.words)});
    } else if (key != set_->keys_.end() && key->second.is_word) {
      input.words = keep_words(key->second.words);
    }
    if (!input.words) input.words = keep_words({});
  }
  void resolve_table(TableUse& use) {
    use.table = set_->table(use.id);
    if (use.table) return;
    std::vector<std::string> known;
    for (const auto& [id, table] : set_->tables_) known.push_back(id);
    diagnostics_.add(MessageId::T011, use.place, {use.id, text::suggestion(use.id, known)});
  }
  void resolve_solver(RuleDraft& draft) {
    if (draft.solver.empty()) return;
    Rule& rule = *draft.rule;
    rule.solver = solvers_.find(draft.solver);
    if (!rule.solver) {
      std::vector<std::string> known;
      for (const auto& s : solvers_.all()) known.emplace_back(s->name());
      diagnostics_.add(MessageId::G007, draft.solver_place, {draft.solver, text::suggestion(draft.solver, known)});
      return;
    }
    for (const auto& port : rule.solver->inputs()) {
      const bool known = rule.input(port.name) || rule.constant(port.name);
      const units::Unit unit = rule.unit_of(port.name);
      if (!known) diagnostics_.add(MessageId::G008, draft.solver_place, {draft.solver, std::string(port.name), "input"});
      else if (units::parse_unit(port.unit)->dimension != unit.dimension)
        diagnostics_.add(MessageId::U026, draft.solver_place, {std::string(port.name), unit.name, draft.solver, std::string(port.unit)});
    }
    for (const auto& result : rule.results) {
      const program::NativePort* port = nullptr;
      for (const auto& p : rule.solver->outputs())
        if (p.name == result.name) port = &p;
      if (!port) diagnostics_.add(MessageId::G008, result.place, {draft.solver, result.name, "result"});
      else if (units::parse_unit(port->unit)->dimension != result.unit.dimension)
        diagnostics_.add(MessageId::U026, result.place, {result.name, result.unit.name, draft.solver, std::string(port->unit)});
    }
  }

  // ---- formulas
  struct RuleScope {
    std::map<std::string, Type, std::less<>> types;
    std::map<std::string, expr::TableType, std::less<>> tables;
  };
  static Type type_of_input(const Input& input) {
    return input.is_word ? Type::word(input.words) : Type::number(input.unit.dimension);
  }
  static expr::TableType table_type(const table::Table& table, const table::Column& column) {
    expr::TableType t;
    for (const auto& axis : table.axes) {
      t.axes.push_back(axis.is_word ? Type::word(&axis.words) : Type::number(axis.unit.dimension));
      t.axis_names.push_back(axis.name);
    }
    t.value = column.is_word ? Type::word(&column.words) : Type::number(column.unit.dimension);
    return t;
  }
  RuleScope scope_of(const Rule& rule) const {
    RuleScope scope;
    for (const auto& c : rule.constants) scope.types[c.name] = Type::number(c.unit.dimension);
    for (const auto& i : rule.inputs) scope.types[i.name] = type_of_input(i);
    for (const auto& r : rule.results) scope.types[r.name] = Type::number(r.unit.dimension);
    for (const auto& use : rule.tables) {
      if (!use.table) continue;
      for (const auto& column : use.table->columns) scope.tables[use.name + "." + column.name] = table_type(*use.table, column);
      if (use.table->columns.size() == 1) scope.tables[use.name] = table_type(*use.table, use.table->columns[0]);
    }
    return scope;
  }
  /// Checks one formula against the names known so far; dotted names are word keys where `keys_too`.
  bool check_formula(Formula& formula, RuleScope& names, bool keys_too) {
    std::map<std::string, Type, std::less<>> key_types;
    expr::Scope scope;
    scope.type_of = [&](std::string_view name) -> const Type* {
      if (const auto it = names.types.find(name); it != names.types.end()) return &it->second;
      if (!keys_too) return nullptr;
      const auto key = set_->keys_.find(name);
      if (key == set_->keys_.end() || !key->second.is_word) return nullptr;
      return &key_types.emplace(std::string(name), Type::word(&key->second.words)).first->second;
    };
    scope.table = [&](std::string_view name) -> const expr::TableType* {
      const auto it = names.tables.find(name);
      return it == names.tables.end() ? nullptr : &it->second;
    };
    scope.known_names = [&] {
      std::vector<std::string> known;
      for (const auto& [name, type] : names.types) known.push_back(name);
      if (keys_too)
        for (const auto& [name, key] : set_->keys_)
          if (key.is_word) known.push_back(name);
      return known;
    };
    std::vector<text::Problem> problems;
    formula.typed = expr::check(formula.tree, scope, problems);
    for (const auto& problem : problems)
      if (units_known_ || !about_dimensions(problem.id)) diagnostics_.add(problem, formula.place);
    return problems.empty();
  }
  static bool about_dimensions(MessageId id) {
    return id == MessageId::U022 || id == MessageId::U023 || id == MessageId::U024;
  }
  bool want_yes_no(const Formula& formula) {
    if (formula.type().kind == Type::Kind::yes_no) return true;
    diagnostics_.add(MessageId::E018, formula.place, {expr::to_string(formula.type())});
    return false;
  }
  void check_formulas() {
    for (auto& draft : drafts_) {
      Rule& rule = *draft.rule;
      RuleScope scope = scope_of(rule);
      units_known_ = draft.units_known;
      const std::size_t errors = diagnostics_.count(text::Severity::error);
      for (auto& step : rule.steps) check_step(step, scope);
      for (auto& line : rule.applies) check_applies(rule, line, scope);
      for (auto& flag : rule.flags)
        if (check_formula(flag.when, scope, false)) want_yes_no(flag.when);
      check_decision(rule);
      for (const auto& c : rule.compare) check_compare(rule, c);
      for (std::size_t i = 0; i < rule.printed.size(); ++i) check_printed(rule, rule.printed[i], draft.printed_axes[i], scope);
      // A name that looks unused may stand where something could not be read.
      const bool solver_known = draft.solver.empty() || rule.solver;
      if (draft.whole && solver_known && diagnostics_.count(text::Severity::error) == errors) warn_unused(rule);
    }
    units_known_ = true;
  }
  void check_step(Step& step, RuleScope& scope) {
    if (check_formula(step.formula, scope, false)) {
      const Type& type = step.formula.type();
      if (type.kind == Type::Kind::number && !type.any_dimension && units_known_ && type.dimension != step.unit.dimension)
        diagnostics_.add(MessageId::U029, step.formula.place,
                         {units::to_string(type.dimension), step.name, step.unit.name, units::to_string(step.unit.dimension)});
      if (type.kind == Type::Kind::yes_no) diagnostics_.add(MessageId::E019, step.formula.place, {step.name});
      scope.types[step.name] = type.kind == Type::Kind::word ? type : Type::number(step.unit.dimension);
    } else {
      scope.types[step.name] = Type::number(step.unit.dimension);
    }
  }
  void check_applies(const Rule& rule, Applies& line, RuleScope& scope) {
    if (!check_formula(line.when, scope, true) || !want_yes_no(line.when)) return;
    if (line.otherwise != Outcome::not_applicable) {
      for (expr::NodeId id = 0; id < line.when.tree.nodes.size(); ++id) {
        const auto& node = line.when.tree.at(id);
        if (node.kind == expr::Kind::name && !line.when.typed.literal_word[id] && !scope.types.count(node.text))
          diagnostics_.add(MessageId::E020, line.when.place.within(node.offset, node.length), {node.text});
      }
      return;
    }
    if (!word_only(line.when)) {
      diagnostics_.add(MessageId::G004, line.when.place);
      return;
    }
    for (expr::NodeId id = 0; id < line.when.tree.nodes.size(); ++id) {
      const auto& node = line.when.tree.at(id);
      if (node.kind != expr::Kind::name || line.when.typed.literal_word[id]) continue;
      const Input* input = rule.input(node.text);
      const std::string key = input ? input->key : node.text;
      if (std::find(line.word_keys.begin(), line.word_keys.end(), key) == line.word_keys.end()) line.word_keys.push_back(key);
    }
  }
  void check_decision(const Rule& rule) {
    if (!rule.check) return;
    for (const auto& name : {rule.check->demand, rule.check->capacity})
      if (!rule.input(name) && !rule.step(name) && !rule.result(name) && !rule.constant(name))
        diagnostics_.add(MessageId::E010, rule.check->place, {name, text::suggestion(name, names_of(rule))});
    if (units_known_ && rule.unit_of(rule.check->demand).dimension != rule.unit_of(rule.check->capacity).dimension)
      diagnostics_.add(MessageId::U027, rule.check->place,
                       {rule.check->demand, rule.unit_of(rule.check->demand).name, rule.check->capacity, rule.unit_of(rule.check->capacity).name});
    if (rule.code.empty()) diagnostics_.add(MessageId::G009, rule.check->place, {rule.id});
  }
  void check_compare(const Rule& rule, const Compare& compare) {
    const auto names = names_of(rule);
    for (const auto& name : {compare.given, compare.against})
      if (std::find(names.begin(), names.end(), name) == names.end())
        diagnostics_.add(MessageId::E010, compare.place, {name, text::suggestion(name, names)});
    if (rule.unit_of(compare.given).dimension != rule.unit_of(compare.against).dimension)
      diagnostics_.add(MessageId::U023, compare.place, {compare.given, units::to_string(rule.unit_of(compare.given).dimension), compare.against, units::to_string(rule.unit_of(compare.against).dimension)});
  }
  static std::vector<std::string> names_of(const Rule& rule) {
    std::vector<std::string> names;
    for (const auto& i : rule.inputs) names.push_back(i.name);
    for (const auto& s : rule.steps) names.push_back(s.name);
    for (const auto& c : rule.constants) names.push_back(c.name);
    for (const auto& r : rule.results) names.push_back(r.name);
    return names;
  }
  void check_printed(const Rule& rule, Printed& printed, const std::vector<std::pair<std::string, std::string>>& axes, RuleScope& scope) {
    printed.table = set_->table(printed.table_id);
    if (!printed.table) {
      std::vector<std::string> known;
      for (const auto& [id, table] : set_->tables_) known.push_back(id);
      diagnostics_.add(MessageId::T011, printed.place, {printed.table_id, text::suggestion(printed.table_id, known)});
      return;
    }
    if (!printed.table->columns.empty()) printed.column = &printed.table->columns.front();
    for (const auto& axis : printed.table->axes) {
      const auto found = std::find_if(axes.begin(), axes.end(), [&](const auto& a) { return a.first == axis.name; });
      const bool known = found != axes.end() && (rule.input(found->second) || rule.step(found->second));
      if (!known) diagnostics_.add(MessageId::T012, printed.place, {printed.table_id, axis.name});
      printed.axis_names.push_back(known ? found->second : std::string());
    }
    if (!rule.step(printed.step)) diagnostics_.add(MessageId::E010, printed.place, {printed.step, text::suggestion(printed.step, names_of(rule))});
    if (printed.when && check_formula(*printed.when, scope, false)) want_yes_no(*printed.when);
  }
  void warn_unused(Rule& rule) {
    std::vector<std::string> used;
    const auto use = [&](const Formula& f) {
      for (const auto& name : expr::names(f.tree)) used.push_back(name);
    };
    for (const auto& s : rule.steps) use(s.formula);
    for (const auto& f : rule.flags) use(f.when);
    for (const auto& a : rule.applies) use(a.when);
    for (const auto& o : rule.outputs) used.push_back(o.step);
    for (const auto& c : rule.compare) used.insert(used.end(), {c.given, c.against});
    for (const auto& p : rule.printed) {
      used.push_back(p.step);
      used.insert(used.end(), p.axis_names.begin(), p.axis_names.end());
      if (p.when) use(*p.when);
    }
    if (rule.check) {
      used.push_back(rule.check->demand);
      used.push_back(rule.check->capacity);
    }
    const auto is_used = [&](const std::string& name) { return std::find(used.begin(), used.end(), name) != used.end(); };
    for (auto& s : rule.steps) {
      s.used = is_used(s.name);
      if (!s.used) diagnostics_.add(MessageId::E021, s.place, {"step", s.name});
    }
    for (const auto& c : rule.constants)
      if (!is_used(c.name) && !rule.solver) diagnostics_.add(MessageId::E021, c.place, {"constant", c.name});
    for (const auto& i : rule.inputs)
      if (!is_used(i.name) && !rule.solver) diagnostics_.add(MessageId::E021, i.place, {"input", i.name});
  }

  // ---- keys that rules define and read
  void register_outputs() {
    for (auto& draft : drafts_)
      for (const auto& output : draft.rule->outputs) register_output(*draft.rule, output);
  }
  void register_output(const Rule& rule, const Output& output) {
    const Step* step = rule.step(output.step);
    const Input* input = rule.input(output.step);
    const NativeResult* result = rule.result(output.step);
    if (!step && !input && !result && !rule.constant(output.step)) {
      diagnostics_.add(MessageId::E010, output.step_place, {output.step, text::suggestion(output.step, names_of(rule))});
      return;
    }
    Key fresh;
    fresh.name = output.key;
    fresh.place = output.place;
    fresh.unit = rule.unit_of(output.step);
    if (step && step->formula.typed.of.size() && step->formula.type().kind == Type::Kind::word) {
      fresh.is_word = true;
      fresh.words = *step->formula.type().words;
    }
    if (input && input->is_word) {
      fresh.is_word = true;
      fresh.words = *input->words;
    }
    fresh.say = step ? step->say : input ? input->say : result ? result->say : "";
    const auto [it, is_new] = set_->keys_.emplace(output.key, fresh);
    if (!is_new) same_kind(it->second, fresh.is_word, fresh.unit, output.place);
    it->second.producers.emplace_back(&rule, &output);
  }
  void same_kind(const Key& key, bool is_word, const units::Unit& unit, const text::Place& place) {
    if (key.is_word == is_word && (is_word || key.unit.dimension == unit.dimension)) return;
    auto& d = diagnostics_.add(MessageId::U028, place,
                               {key.name, is_word ? "a word" : units::to_string(unit.dimension),
                                key.is_word ? "a word" : units::to_string(key.unit.dimension)});
    d.other = key.place;
    d.other_note = "the key is declared here";
  }
  void check_keys_used() {
    for (auto& draft : drafts_)
      for (const auto& input : draft.rule->inputs) {
        const auto it = set_->keys_.find(input.key);
        if (it == set_->keys_.end()) {
          std::vector<std::string> known;
          for (const auto& [name, key] : set_->keys_) known.push_back(name);
          diagnostics_.add(MessageId::G002, input.key_place, {draft.rule->id, input.key, text::suggestion(input.key, known)});
          continue;
        }
        if (draft.units_known) same_kind(it->second, input.is_word, input.unit, input.key_place);
        it->second.consumers.emplace_back(draft.rule.get(), &input);
      }
  }

  // ---- required limit states, combinations
  void read_required() {
    for (auto& doc : required_files_) {
      yaml::check_keys(doc, {"schema", "required"}, "the file", diagnostics_);
      const Node* list = yaml::need(doc, "required", Kind::sequence, "the file", diagnostics_);
      if (!list) continue;
      for (const auto& item : list->items) read_required_line(item);
    }
  }
  void read_required_line(const Node& item) {
    yaml::check_keys(item, {"when", "rules", "beside", "say"}, "a required line", diagnostics_);
    Required line;
    line.place = item.place;
    const Node* when = yaml::need(item, "when", Kind::scalar, "a required line", diagnostics_);
    const Node* rules = yaml::need(item, "rules", Kind::sequence, "a required line", diagnostics_);
    if (const Node* say = item.find("say")) line.say = say->text;
    if (const Node* beside = yaml::may(item, "beside", Kind::scalar, "a required line", diagnostics_)) {
      line.beside = beside->text == "yes";
      if (beside->text != "yes" && beside->text != "no") diagnostics_.add(MessageId::Y009, beside->place, {beside->text, "yes, no"});
    }
    if (!when || !rules || !read_formula(*when, line.when, diagnostics_)) return;
    RuleScope none;
    if (!check_formula(line.when, none, true) || !want_yes_no(line.when)) return;
    for (const auto& id : rules->items) {
      const auto it = std::find_if(drafts_.begin(), drafts_.end(), [&](const RuleDraft& d) { return d.rule->id == id.text; });
      if (it == drafts_.end()) diagnostics_.add(MessageId::G005, id.place, {id.text, suggest_rule(id.text)});
      else if (!it->rule->check) diagnostics_.add(MessageId::G010, id.place, {id.text});
      else line.rules.push_back(it->rule.get());
    }
    set_->required_.push_back(std::move(line));
  }
  std::string suggest_rule(const std::string& id) const {
    std::vector<std::string> known;
    for (const auto& d : drafts_) known.push_back(d.rule->id);
    return text::suggestion(id, known);
  }
  void read_combinations() {
    for (auto& doc : combination_files_) {
      yaml::check_keys(doc, {"schema", "clauses", "combinations"}, "the file", diagnostics_);
      std::vector<Clause> clauses;
      if (const Node* n = yaml::need(doc, "clauses", Kind::map, "the file", diagnostics_))
        clauses = table::read_clauses(*n, "the file", diagnostics_);
      check_documents(clauses);
      const Node* list = yaml::need(doc, "combinations", Kind::sequence, "the file", diagnostics_);
      if (!list) continue;
      for (const auto& item : list->items) read_combination(item, clauses);
    }
  }
  void read_combination(const Node& item, const std::vector<Clause>& clauses) {
    Combination c;
    for (const auto& [key, value] : item.entries) {
      if (key.text == "id") c.id = value.text;
      else if (key.text == "method") c.method = value.text;
      else if (key.text == "duration") c.duration = value.text;
      else if (key.text == "say") c.say = value.text;
      else if (key.text == "cite") {
        const int i = table::find_clause(clauses, value, diagnostics_);
        if (i >= 0) c.clause = clauses[static_cast<std::size_t>(i)];
      } else if (key.text.rfind("f_", 0) == 0) {
        const auto factor = text::parse_number_or_quotient(value.text);
        if (factor) c.factors.emplace_back(key.text, *factor);
        else diagnostics_.add(MessageId::E017, value.place, {value.text});
      } else {
        diagnostics_.add(MessageId::Y003, key.place, {"a combination", key.text, text::suggestion(key.text, {"id", "method", "duration", "say", "cite", "f_D", "f_W"})});
      }
    }
    set_->combinations_.push_back(std::move(c));
  }

  // ---- the graph
  void sort_rules() {
    std::vector<std::pair<std::size_t, std::size_t>> edges;
    std::map<const Rule*, std::size_t> index;
    for (std::size_t i = 0; i < drafts_.size(); ++i) index[drafts_[i].rule.get()] = i;
    for (const auto& [name, key] : set_->keys_)
      for (const auto& [producer, output] : key.producers)
        for (const auto& [consumer, input] : key.consumers)
          if (producer != consumer || output->step != input->name) edges.emplace_back(index[producer], index[consumer]);
    const Order result = order(drafts_.size(), edges);
    for (const auto& loop : result.loops) report_loop(loop);
    for (const std::size_t i : result.sequence) {
      drafts_[i].rule->index = static_cast<int>(set_->rules_.size());
      set_->rules_.push_back(std::move(drafts_[i].rule));
    }
    if (!result.loops.empty())
      for (auto& d : drafts_) set_->rules_.push_back(std::move(d.rule));
    check_also();
  }
  void report_loop(const std::vector<std::size_t>& loop) {
    std::string walk;
    for (const std::size_t i : loop) walk += drafts_[i].rule->id + " -> ";
    walk += drafts_[loop.front()].rule->id;
    auto& d = diagnostics_.add(MessageId::G003, drafts_[loop.front()].rule->place, {walk});
    d.other = drafts_[loop.back()].rule->place;
    d.other_note = "the loop closes here";
  }
  void check_also() {
    for (const auto& rule : set_->rules_)
      for (const auto& also : rule->also)
        if (!set_->rule(also.rule)) {
          std::vector<std::string> known;
          for (const auto& r : set_->rules_) known.push_back(r->id);
          diagnostics_.add(MessageId::G005, also.place, {also.rule, text::suggestion(also.rule, known)});
        }
  }
  /// Two rules that define one key must never both apply.
  void check_conflicts() {
    for (const auto& [name, key] : set_->keys_)
      for (std::size_t i = 0; i < key.producers.size(); ++i)
        for (std::size_t j = i + 1; j < key.producers.size(); ++j) check_pair(name, key.producers[i], key.producers[j]);
    check_codes();
  }
  void check_pair(const std::string& name, const std::pair<const Rule*, const Output*>& a, const std::pair<const Rule*, const Output*>& b) {
    if (a.first == b.first) {
      report_conflict(name, a, b, "always");
      return;
    }
    std::vector<std::string> keys = deciding_keys(*a.first, *set_);
    for (const auto& k : deciding_keys(*b.first, *set_))
      if (std::find(keys.begin(), keys.end(), k) == keys.end()) keys.push_back(k);
    Words words;
    if (both_apply(*a.first, *b.first, keys, 0, words)) {
      std::string when;
      for (const auto& [k, w] : words) when += (when.empty() ? "" : ", ") + k + " " + w;
      report_conflict(name, a, b, when.empty() ? "always" : when);
    }
  }
  bool both_apply(const Rule& a, const Rule& b, const std::vector<std::string>& keys, std::size_t next, Words& words) const {
    const Truth ta = applies(a, *set_, words, nullptr), tb = applies(b, *set_, words, nullptr);
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
    if (const Key* k = set_->key(key)) return k->words;
    return {};
  }
  void report_conflict(const std::string& name, const std::pair<const Rule*, const Output*>& a,
                       const std::pair<const Rule*, const Output*>& b, const std::string& when) {
    auto& d = diagnostics_.add(MessageId::G001, b.second->place, {name, a.first->id, b.first->id, when});
    d.other = a.second->place;
    d.other_note = "also defined here";
  }
  void check_codes() {
    std::map<std::string, const Rule*> seen;
    for (const auto& rule : set_->rules_) {
      if (rule->code.empty() || !rule->check) continue;
      const auto [it, fresh] = seen.emplace(rule->code, rule.get());
      if (fresh) continue;
      Words words;
      std::vector<std::string> keys = deciding_keys(*it->second, *set_);
      for (const auto& k : deciding_keys(*rule, *set_)) keys.push_back(k);
      if (!both_apply(*it->second, *rule, keys, 0, words)) continue;
      auto& d = diagnostics_.add(MessageId::G011, rule->check->place, {rule->code});
      d.other = it->second->check->place;
      d.other_note = "first used here";
    }
  }
  void collect_category_keys() {
    auto& keys = set_->category_keys_;
    const auto add = [&](const std::string& key) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
    };
    for (const auto& rule : set_->rules_)
      for (const auto& key : deciding_keys(*rule, *set_)) add(key);
    for (const auto& line : set_->required_)
      for (const auto& name : expr::names(line.when.tree))
        if (set_->key(name)) add(name);
    std::sort(keys.begin(), keys.end());
  }

  const program::NativeRegistry& solvers_;
  text::SourceSet& sources_;
  text::Diagnostics& diagnostics_;
  std::unique_ptr<RuleSet> set_;
  bool units_known_ = true;  ///< of the rule being checked
  std::vector<RuleDraft> drafts_;
  std::vector<Node> key_files_, required_files_, combination_files_;
};

std::unique_ptr<const RuleSet> load(const Folders& folders, const program::NativeRegistry& solvers, text::SourceSet& sources,
                                    text::Diagnostics& diagnostics) {
  return Loader(solvers, sources, diagnostics).run(folders);
}

const Rule* RuleSet::rule(std::string_view id) const {
  for (const auto& rule : rules_)
    if (rule && rule->id == id) return rule.get();
  return nullptr;
}

const table::Table* RuleSet::table(std::string_view id) const {
  const auto it = tables_.find(id);
  return it == tables_.end() ? nullptr : it->second.get();
}

const Key* RuleSet::key(std::string_view name) const {
  const auto it = keys_.find(name);
  return it == keys_.end() ? nullptr : &it->second;
}

const std::string* Key::canonical_word(std::string_view word) const {
  for (const auto& w : words)
    if (w == word) return &w;
  for (const auto& [alias, w] : aliases)
    if (alias == word) return &w;
  return nullptr;
}

}  // namespace jambcheck::rules
