// Who gives a key and who reads it: outputs and inputs of all rules, of one kind and dimension.
#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using expr::Type;
using text::MessageId;

namespace {

class KeyLinker {
 public:
  explicit KeyLinker(Loading& in) : in_(in) {}

  void register_outputs() {
    for (auto& draft : in_.drafts)
      for (const auto& output : draft.rule->outputs) register_output(*draft.rule, output);
  }
  void check_keys_used() {
    for (auto& draft : in_.drafts)
      for (auto& input : draft.rule->inputs) {
        const auto it = in_.parts.keys.find(input.key);
        if (it == in_.parts.keys.end()) {
          std::vector<std::string> known;
          for (const auto& [name, key] : in_.parts.keys) known.push_back(name);
          in_.diagnostics.add(MessageId::G002, input.key_place, {draft.rule->id, input.key, text::suggestion(input.key, known)});
          continue;
        }
        if (draft.units_known) same_kind(it->second, input.is_word, input.unit, input.key_place);
        input.info = &it->second;
        it->second.consumers.emplace_back(draft.rule.get(), &input);
      }
  }

 private:
  void register_output(const Rule& rule, const Output& output) {
    const Step* step = rule.step(output.step);
    const Input* input = rule.input(output.step);
    const NativeResult* result = rule.result(output.step);
    if (!step && !input && !result && !rule.constant(output.step)) {
      in_.diagnostics.add(MessageId::E010, output.step_place, {output.step, text::suggestion(output.step, names_of(rule))});
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
    const auto [it, is_new] = in_.parts.keys.emplace(output.key, fresh);
    if (!is_new) same_kind(it->second, fresh.is_word, fresh.unit, output.place);
    it->second.producers.emplace_back(&rule, &output);
  }
  void same_kind(const Key& key, bool is_word, const units::Unit& unit, const text::Place& place) {
    if (key.is_word == is_word && (is_word || key.unit.dimension == unit.dimension)) return;
    auto& d = in_.diagnostics.add(MessageId::U028, place,
                                  {key.name, is_word ? "a word" : units::to_string(unit.dimension),
                                   key.is_word ? "a word" : units::to_string(key.unit.dimension)});
    d.other = key.place;
    d.other_note = "the key is declared here";
  }

  Loading& in_;
};

}  // namespace

void link_keys(Loading& in) {
  KeyLinker linker(in);
  linker.register_outputs();
  linker.check_keys_used();
}

}  // namespace jambcheck::rules
