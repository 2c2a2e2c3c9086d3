#include "document/math.h"

#include "expr/print.h"

#include <array>
#include <utility>

namespace jambcheck::document {
namespace {

using expr::Kind;
using expr::Node;
using expr::NodeId;
using expr::Tree;

constexpr std::array<std::pair<std::string_view, const char*>, 22> kLetters{{
    {"alpha", "α"}, {"beta", "β"},   {"gamma", "γ"}, {"delta", "δ"}, {"Delta", "Δ"}, {"epsilon", "ε"}, {"eta", "η"},   {"theta", "θ"},
    {"kappa", "κ"}, {"lambda", "λ"}, {"mu", "μ"},    {"nu", "ν"},    {"rho", "ρ"},   {"sigma", "σ"},   {"tau", "τ"},   {"phi", "φ"},
    {"psi", "ψ"},   {"Psi", "Ψ"},    {"omega", "ω"}, {"Omega", "Ω"}, {"chi", "χ"},   {"pi", "π"}}};

std::string letter(const std::string& name) {
  for (const auto& [word, sign] : kLetters)
    if (word == name) return sign;
  return name;
}

Math sign(const char* text) { return {Math::Kind::sign, text, {}}; }
Math words(std::string text) { return {Math::Kind::words, std::move(text), {}}; }

/// A fraction holds together by its line, whatever is in it.
int binding_in_print(Kind kind) { return kind == Kind::divide ? expr::binding(Kind::number) : expr::binding(kind); }

const char* sign_of(Kind kind) {
  switch (kind) {
    case Kind::or_: return " or ";
    case Kind::and_: return " and ";
    case Kind::less: return "<";
    case Kind::less_equal: return "≤";
    case Kind::greater: return ">";
    case Kind::greater_equal: return "≥";
    case Kind::equal: return "=";
    case Kind::not_equal: return "≠";
    case Kind::add: return "+";
    case Kind::subtract: return "−";
    default: return "·";
  }
}

class Setter {
 public:
  Setter(const Tree& tree, const MathOf& name) : tree_(tree), name_(name) {}

  Math at(NodeId id) const {
    const Node& node = tree_.at(id);
    switch (node.kind) {
      case Kind::number: return {Math::Kind::number, node.text, {}};
      case Kind::name: return name_(node);
      case Kind::negate: return {Math::Kind::row, "", {sign("−"), child(node.args[0], 8)}};
      case Kind::not_: return {Math::Kind::row, "", {words("not "), child(node.args[0], 3)}};
      case Kind::divide: return math_fraction(at(node.args[0]), at(node.args[1]));
      case Kind::power: return power(node);
      case Kind::call: return call(node);
      default: {
        const int own = binding_in_print(node.kind);
        const int left = own == binding_in_print(Kind::equal) ? own + 1 : own;
        return {Math::Kind::row, "", {child(node.args[0], left), sign(sign_of(node.kind)), child(node.args[1], own + 1)}};
      }
    }
  }

 private:
  Math child(NodeId id, int least) const {
    const Node& node = tree_.at(id);
    Math m = at(id);
    // A number put in place of a name may carry a unit or a sign.
    const bool loose = node.kind == Kind::name && least > 5 && (m.text.find(' ') != std::string::npos || (!m.text.empty() && m.text[0] == '-'));
    return binding_in_print(node.kind) < least || loose ? Math{Math::Kind::brackets, "", {std::move(m)}} : m;
  }
  Math power(const Node& node) const {
    // A fraction or another power under an exponent needs brackets, though its own line holds it together.
    const Kind base = tree_.at(node.args[0]).kind;
    Math below = child(node.args[0], 9);
    if (base == Kind::divide) below = {Math::Kind::brackets, "", {std::move(below)}};
    const Node& up = tree_.at(node.args[1]);
    Math exponent = up.kind == Kind::divide && tree_.at(up.args[0]).kind == Kind::number && tree_.at(up.args[1]).kind == Kind::number
                        ? Math{Math::Kind::words, tree_.at(up.args[0]).text + "/" + tree_.at(up.args[1]).text, {}}
                        : at(node.args[1]);
    return {Math::Kind::power, "", {std::move(below), std::move(exponent)}};
  }
  Math call(const Node& node) const {
    if (node.text == "sqrt") return {Math::Kind::root, "", {at(node.args[0])}};
    Math inner;
    for (std::size_t i = 0; i < node.args.size(); ++i) {
      if (i != 0) inner.parts.push_back(sign(", "));
      const Node& arg = tree_.at(node.args[i]);
      inner.parts.push_back(node.text == "lookup" && i == 0 ? words(arg.text) : at(node.args[i]));
    }
    if (node.text == "abs") {
      inner.parts.insert(inner.parts.begin(), sign("|"));
      inner.parts.push_back(sign("|"));
      return inner;
    }
    return {Math::Kind::row, "", {words(node.text), {Math::Kind::brackets, "", {std::move(inner)}}}};
  }

  const Tree& tree_;
  const MathOf& name_;
};

}  // namespace

Math math_name(const std::string& name) {
  const auto cut = name.find('_');
  if (cut == std::string::npos || cut == 0) return {Math::Kind::name, letter(name), {}};
  std::string below = name.substr(cut + 1);
  for (auto& c : below)
    if (c == '_') c = ',';
  return {Math::Kind::subscript, "", {{Math::Kind::name, letter(name.substr(0, cut)), {}}, {Math::Kind::words, letter(below), {}}}};
}

Math math_words(const std::string& text) { return words(text); }

Math math_fraction(Math above, Math below) { return {Math::Kind::fraction, "", {std::move(above), std::move(below)}}; }

Math math_of(const Tree& tree, const MathOf& name) { return Setter(tree, name).at(tree.root()); }

Math math_of(const Tree& tree) {
  return math_of(tree, [](const Node& node) { return math_name(node.text); });
}

}  // namespace jambcheck::document
