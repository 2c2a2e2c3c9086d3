#include "expr/print.h"

namespace jambcheck::expr {
namespace {

const char* sign(Kind kind) {
  switch (kind) {
    case Kind::or_: return " or ";
    case Kind::and_: return " and ";
    case Kind::less: return " < ";
    case Kind::less_equal: return " <= ";
    case Kind::greater: return " > ";
    case Kind::greater_equal: return " >= ";
    case Kind::equal: return " == ";
    case Kind::not_equal: return " != ";
    case Kind::add: return " + ";
    case Kind::subtract: return " - ";
    case Kind::multiply: return " * ";
    case Kind::divide: return " / ";
    case Kind::power: return "^";
    default: return "";
  }
}

class Printer {
 public:
  Printer(const Tree& tree, const NameText& name_text) : tree_(tree), name_text_(name_text) {}

  std::string at(NodeId id) const {
    const Node& node = tree_.at(id);
    switch (node.kind) {
      case Kind::number: return node.text;
      case Kind::name: return name_text_(node);
      case Kind::negate: return "-" + child(node.args[0], 8);
      case Kind::not_: return "not " + child(node.args[0], 3);
      case Kind::power: return child(node.args[0], 9) + "^" + exponent(node.args[1]);
      case Kind::call: return call(node);
      default: {
        // From left to right; a + (b + c) keeps its brackets, for it rounds differently. Comparisons do not chain.
        const int own = binding(node.kind);
        const int left = own == binding(Kind::equal) ? own + 1 : own;
        return child(node.args[0], left) + sign(node.kind) + child(node.args[1], own + 1);
      }
    }
  }

 private:
  std::string child(NodeId id, int least) const {
    std::string text = at(id);
    const Node& node = tree_.at(id);
    // A value put in place of a name may carry a sign or a unit; it then needs brackets under a tight parent.
    const bool loose_text = node.kind == Kind::name && least > 5 &&
                            (text.find(' ') != std::string::npos || (!text.empty() && text.front() == '-'));
    if (binding(node.kind) < least || loose_text) return "(" + text + ")";
    return text;
  }
  /// 3/2 is set tight: ^(3/2).
  std::string exponent(NodeId id) const {
    const Node& node = tree_.at(id);
    const bool fraction = node.kind == Kind::divide && tree_.at(node.args[0]).kind == Kind::number && tree_.at(node.args[1]).kind == Kind::number;
    return fraction ? "(" + at(node.args[0]) + "/" + at(node.args[1]) + ")" : child(id, 9);
  }
  std::string call(const Node& node) const {
    std::string out = node.text + "(";
    for (std::size_t i = 0; i < node.args.size(); ++i) {
      if (i != 0) out += ", ";
      const Node& arg = tree_.at(node.args[i]);
      out += node.text == "lookup" && i == 0 ? arg.text : at(node.args[i]);
    }
    return out + ")";
  }

  const Tree& tree_;
  const NameText& name_text_;
};

}  // namespace

int binding(Kind kind) {
  switch (kind) {
    case Kind::or_: return 1;
    case Kind::and_: return 2;
    case Kind::not_: return 3;
    case Kind::less:
    case Kind::less_equal:
    case Kind::greater:
    case Kind::greater_equal:
    case Kind::equal:
    case Kind::not_equal: return 4;
    case Kind::add:
    case Kind::subtract: return 5;
    case Kind::multiply:
    case Kind::divide: return 6;
    case Kind::negate: return 7;
    case Kind::power: return 8;
    default: return 9;
  }
}

std::string print(const Tree& tree, const NameText& name_text) { return Printer(tree, name_text).at(tree.root()); }

std::string print(const Tree& tree) {
  return print(tree, [](const Node& node) { return node.text; });
}

}  // namespace jambcheck::expr
