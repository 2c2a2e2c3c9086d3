#include "rules/in_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "expr/print.h"
#include "text/number.h"

namespace jambcheck::rules {
namespace {

using expr::Kind;
using expr::Node;
using expr::NodeId;

/// "side_grain" -> "side grain"
std::string spaced(std::string word) {
  std::replace(word.begin(), word.end(), '_', ' ');
  return word;
}

/// The sign, and what the opposite says.
std::pair<const char*, const char*> relation(Kind kind) {
  switch (kind) {
    case Kind::less: return {"is less than", "is not less than"};
    case Kind::less_equal: return {"is at most", "is more than"};
    case Kind::greater: return {"is more than", "is at most"};
    case Kind::greater_equal: return {"is at least", "is less than"};
    case Kind::equal: return {"is", "is not"};
    case Kind::not_equal: return {"is not", "is"};
    default: return {"", ""};
  }
}

const std::pair<const char*, const char*> kFunctions[] = {
    {"first_not_refused(", "the first known of ("}, {"min(", "the least of ("}, {"max(", "the greatest of ("}, {"abs(", "the size of ("}};

class Speaker {
 public:
  Speaker(const Rule& rule, const Formula& formula) : rule_(rule), formula_(formula) {}

  std::string condition(NodeId id, bool no) const {
    const Node& node = at(id);
    switch (node.kind) {
      case Kind::not_: return condition(node.args[0], !no);
      case Kind::and_:
      case Kind::or_: return joined(node, no);
      case Kind::less:
      case Kind::less_equal:
      case Kind::greater:
      case Kind::greater_equal:
      case Kind::equal:
      case Kind::not_equal: {
        const auto words = relation(node.kind);
        return fmt::format("{} {} {}", amount(node.args[0]), no ? words.second : words.first, amount(node.args[1]));
      }
      default: return (no ? "not so: " : "") + amount(id);
    }
  }

 private:
  const Node& at(NodeId id) const { return formula_.tree.at(id); }
  /// The opposite of "a and b" is "not a or not b".
  std::string joined(const Node& node, bool no) const {
    const bool both = (node.kind == Kind::and_) != no;
    const auto side = [&](NodeId id) {
      const bool mixed = at(id).kind != node.kind && (at(id).kind == Kind::and_ || at(id).kind == Kind::or_);
      return mixed ? "(" + condition(id, no) + ")" : condition(id, no);
    };
    return side(node.args[0]) + (both ? " and " : " or ") + side(node.args[1]);
  }
  /// A name says what it stands for; inside arithmetic it stands in brackets.
  std::string amount(NodeId id) const {
    const Node& node = at(id);
    if (formula_.typed.literal_word[id]) return spaced(node.text);
    if (node.kind == Kind::name) return meaning(node.text);
    expr::Tree part;
    part.source = formula_.tree.source;
    part.nodes.assign(formula_.tree.nodes.begin(), formula_.tree.nodes.begin() + id + 1);
    // Printed with marks for the names first: a text with spaces would get brackets of its own.
    std::vector<std::string> names;
    std::string out = expr::print(part, [&](const Node& name) {
      names.push_back(inside(name.text));
      return fmt::format("\x01{}\x02", names.size() - 1);
    });
    for (std::size_t i = 0; i < names.size(); ++i) replace(out, fmt::format("\x01{}\x02", i), names[i]);
    for (const auto& [function, words] : kFunctions) replace(out, function, words);
    return out;
  }
  static void replace(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  }
  std::string inside(const std::string& name) const {
    return rule_.constant(name) ? meaning(name) : known(name) ? "[" + meaning(name) + "]" : spaced(name);
  }
  bool known(const std::string& name) const { return rule_.input(name) || rule_.step(name) || rule_.result(name); }
  std::string meaning(const std::string& name) const {
    if (const Constant* c = rule_.constant(name)) return c->text + (c->unit.name == "1" ? "" : " " + c->unit.name);
    std::string say;
    if (const Input* i = rule_.input(name)) say = i->say.empty() ? spaced(i->key) : i->say;
    else if (const Step* s = rule_.step(name)) say = s->say;
    else if (const NativeResult* r = rule_.result(name)) say = r->say;
    return say.empty() ? spaced(name) : say;
  }

  const Rule& rule_;
  const Formula& formula_;
};

}  // namespace

std::string in_words(const Rule& rule, const Formula& formula, bool no) {
  return Speaker(rule, formula).condition(formula.tree.root(), no);
}

}  // namespace jambcheck::rules
