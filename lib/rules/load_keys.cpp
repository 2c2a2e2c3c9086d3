// The keys that cases and rules exchange, as keys/1 declares them.
#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

namespace {

class KeyReader {
 public:
  explicit KeyReader(Loading& in) : in_(in) {}

  void read() {
    for (const auto& doc : in_.key_files) {
      yaml::check_keys(doc, {"schema", "keys"}, "the file", in_.diagnostics);
      const Node* list = yaml::need(doc, "keys", Kind::map, "the file", in_.diagnostics);
      if (!list) continue;
      for (const auto& entry : list->entries) read_key(entry.key, entry.value);
    }
  }

 private:
  void read_key(const Node& name, const Node& n) {
    yaml::check_keys(n, {"unit", "one_of", "say", "ask", "find", "default"}, "a key", in_.diagnostics);
    Key key;
    key.name = name.text;
    key.declared = true;
    key.place = name.place;
    const auto field = [&](std::string_view k) {
      const Node* v = yaml::may(n, k, Kind::scalar, "a key", in_.diagnostics);
      return v ? v->text : std::string();
    };
    key.say = field("say");
    key.ask = field("ask");
    key.find = field("find");
    if (const Node* words = n.find("one_of")) {
      key.is_word = true;
      if (words->is_sequence()) {
        for (const auto& w : words->items) key.words.push_back(w.text);
      } else if (const auto* axis = word_axis(in_, *words, words->text.substr(0, 6) == "table " ? words->text.substr(6) : words->text)) {
        key.words = axis->words;
        key.aliases = axis->aliases;
      }
    } else if (const Node* unit = yaml::need(n, "unit", Kind::scalar, "a key", in_.diagnostics)) {
      key.unit = read_unit(*unit, in_.diagnostics);
    }
    for (const auto& w : key.words) in_.parts.symbols.intern(w);
    if (const Node* value = n.find("default")) read_key_default(*value, key);
    in_.parts.keys[key.name] = std::move(key);
  }
  void read_key_default(const Node& value, Key& key) {
    if (key.is_word) {
      if (key.canonical_word(value.text)) key.assumed_word = value.text;
      else in_.diagnostics.add(MessageId::E011, value.place, {key.name, value.text, text::suggestion(value.text, key.words)});
      return;
    }
    const auto quantity = units::parse_quantity(value.text);
    if (!quantity) in_.diagnostics.add(quantity.error(), value.place);
    else if (quantity->shown.dimension != key.unit.dimension)
      in_.diagnostics.add(MessageId::U025, value.place, {value.text, units::to_string(quantity->shown.dimension), key.unit.name, units::to_string(key.unit.dimension)});
    else key.assumed = *quantity;
  }

  Loading& in_;
};

}  // namespace

void read_keys(Loading& in) { KeyReader(in).read(); }

}  // namespace jambcheck::rules
