// Loading a rule set: read every file, then link and check the whole.
#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using yaml::Node;

namespace {

/// Called first when all keys are known, before anyone asks for one by its name.
void number_keys(Loading& in) {
  std::size_t number = 0;
  for (auto& [name, key] : in.parts.keys) {
    key.number = number++;
    in.parts.key_of_name.emplace(key.name, &key);
  }
}

}  // namespace

std::unique_ptr<const RuleSet> load(const Folders& folders, const program::NativeRegistry& solvers, text::SourceSet& sources,
                                    text::Diagnostics& diagnostics) {
  Loading in(solvers, sources, diagnostics);
  read_files(in, folders);
  read_keys(in);
  link_rules(in);
  check_rules(in);
  link_keys(in);
  number_keys(in);
  read_cases(in);
  check_graph(in);
  if (diagnostics.has_errors()) return nullptr;
  return std::move(in.set);
}

void check_documents(Loading& in, const std::vector<Clause>& clauses) {
  for (const auto& clause : clauses)
    if (!in.parts.documents.count(clause.doc)) {
      std::vector<std::string> known;
      for (const auto& [id, d] : in.parts.documents) known.push_back(id);
      in.diagnostics.add(MessageId::C003, clause.doc_place, {clause.doc, text::suggestion(clause.doc, known)});
    }
}

const table::Axis* word_axis(Loading& in, const Node& at, const std::string& path) {
  const auto dot = path.rfind('.');
  const table::Table* table = dot == std::string::npos ? nullptr : in.set->table(path.substr(0, dot));
  if (table)
    for (const auto& axis : table->axes)
      if (axis.is_word && axis.name == path.substr(dot + 1)) return &axis;
  in.diagnostics.add(MessageId::T010, at.place, {path});
  return nullptr;
}

std::vector<std::string> names_of(const Rule& rule) {
  std::vector<std::string> names;
  for (const auto& i : rule.inputs) names.push_back(i.name);
  for (const auto& s : rule.steps) names.push_back(s.name);
  for (const auto& c : rule.constants) names.push_back(c.name);
  for (const auto& r : rule.results) names.push_back(r.name);
  return names;
}

const Rule* RuleSet::rule(std::string_view id) const {
  for (const auto& rule : parts_.rules)
    if (rule && rule->id == id) return rule.get();
  return nullptr;
}

const table::Table* RuleSet::table(std::string_view id) const {
  const auto it = parts_.tables.find(id);
  return it == parts_.tables.end() ? nullptr : it->second.get();
}

const Key* RuleSet::key(std::string_view name) const {
  const auto it = parts_.key_of_name.find(name);
  return it == parts_.key_of_name.end() ? nullptr : it->second;
}

const std::string* Key::canonical_word(std::string_view word) const {
  for (const auto& w : words)
    if (w == word) return &w;
  for (const auto& [alias, w] : aliases)
    if (alias == word) return &w;
  return nullptr;
}

}  // namespace jambcheck::rules
