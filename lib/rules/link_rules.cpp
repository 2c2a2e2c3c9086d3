// What the names of a rule stand for: documents, words of its inputs, tables, its solver.
#include <algorithm>

#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

namespace {

class RuleLinker {
 public:
  explicit RuleLinker(Loading& in) : in_(in) {}

  void link() {
    for (auto& draft : in_.drafts) {
      Rule& rule = *draft.rule;
      check_documents(in_, rule.clauses);
      for (std::size_t i = 0; i < rule.inputs.size(); ++i) resolve_input(rule.inputs[i], draft.input_words[i]);
      for (auto& use : rule.tables) resolve_table(use);
      resolve_solver(draft);
    }
    for (const auto& [id, table] : in_.parts.tables) check_documents(in_, table->clauses);
  }

 private:
  const std::vector<std::string>* keep_words(std::vector<std::string> words) {
    for (const auto& w : words) in_.parts.symbols.intern(w);
    in_.parts.word_lists.push_back(std::make_unique<std::vector<std::string>>(std::move(words)));
    return in_.parts.word_lists.back().get();
  }
  void resolve_input(Input& input, const WordSource& source) {
    if (!input.is_word) return;
    const auto key = in_.parts.keys.find(input.key);
    if (!source.table_axis.empty()) {
      Node at;
      at.place = source.places.front();
      if (const auto* axis = word_axis(in_, at, source.table_axis)) input.words = keep_words(axis->words);
    } else if (!source.list.empty()) {
      input.words = keep_words(source.list);
      if (key != in_.parts.keys.end() && key->second.is_word)
        for (std::size_t i = 0; i < source.list.size(); ++i)
          if (const auto& w = source.list[i]; !key->second.canonical_word(w))
            in_.diagnostics.add(MessageId::E011, source.places[i], {input.key, w, text::suggestion(w, key->second.words)});
    } else if (key != in_.parts.keys.end() && key->second.is_word) {
      input.words = keep_words(key->second.words);
    }
    if (!input.words) input.words = keep_words({});
  }
  void resolve_table(TableUse& use) {
    use.table = in_.set->table(use.id);
    if (use.table) return;
    std::vector<std::string> known;
    for (const auto& [id, table] : in_.parts.tables) known.push_back(id);
    in_.diagnostics.add(MessageId::T011, use.place, {use.id, text::suggestion(use.id, known)});
  }
  void resolve_solver(RuleDraft& draft) {
    if (draft.solver.empty()) return;
    Rule& rule = *draft.rule;
    rule.solver = in_.solvers.find(draft.solver);
    if (!rule.solver) {
      std::vector<std::string> known;
      for (const auto& s : in_.solvers.all()) known.emplace_back(s->name());
      in_.diagnostics.add(MessageId::G007, draft.solver_place, {draft.solver, text::suggestion(draft.solver, known)});
      return;
    }
    for (const auto& port : rule.solver->inputs()) {
      const bool known = rule.input(port.name) || rule.constant(port.name);
      const units::Unit unit = rule.unit_of(port.name);
      if (!known) in_.diagnostics.add(MessageId::G008, draft.solver_place, {draft.solver, std::string(port.name), "input"});
      else if (units::parse_unit(port.unit)->dimension != unit.dimension)
        in_.diagnostics.add(MessageId::U026, draft.solver_place, {std::string(port.name), unit.name, draft.solver, std::string(port.unit)});
    }
    for (const auto& result : rule.results) {
      const program::NativePort* port = nullptr;
      for (const auto& p : rule.solver->outputs())
        if (p.name == result.name) port = &p;
      if (!port) in_.diagnostics.add(MessageId::G008, result.place, {draft.solver, result.name, "result"});
      else if (units::parse_unit(port->unit)->dimension != result.unit.dimension)
        in_.diagnostics.add(MessageId::U026, result.place, {result.name, result.unit.name, draft.solver, std::string(port->unit)});
    }
  }

  Loading& in_;
};

}  // namespace

void link_rules(Loading& in) { RuleLinker(in).link(); }

}  // namespace jambcheck::rules
