#include "dialects.h"

#include <fmt/format.h>

#include <map>

namespace jambcheck::bench {
namespace {

using expr::Kind;
using expr::Node;

struct Untranslatable {};

/// {0}, {1}: the arguments. Two arguments at a time where more may stand.
struct Pattern {
  const char* numpy;
  const char* calc;
};

const std::map<Kind, Pattern>& signs() {
  static const std::map<Kind, Pattern> all = {
      {Kind::negate, {"(-{0})", "(-({0}))"}},           {Kind::not_, {"np.logical_not({0})", "NOT({0})"}},
      {Kind::add, {"({0} + {1})", "({0}+{1})"}},        {Kind::subtract, {"({0} - {1})", "({0}-{1})"}},
      {Kind::multiply, {"({0} * {1})", "({0}*{1})"}},   {Kind::divide, {"({0} / {1})", "({0}/{1})"}},
      {Kind::power, {"({0} ** {1})", "POWER({0};{1})"}}, {Kind::less, {"({0} < {1})", "({0}<{1})"}},
      {Kind::less_equal, {"({0} <= {1})", "({0}<={1})"}}, {Kind::greater, {"({0} > {1})", "({0}>{1})"}},
      {Kind::greater_equal, {"({0} >= {1})", "({0}>={1})"}}, {Kind::equal, {"({0} == {1})", "({0}={1})"}},
      {Kind::not_equal, {"({0} != {1})", "({0}<>{1})"}}, {Kind::and_, {"np.logical_and({0}, {1})", "AND({0};{1})"}},
      {Kind::or_, {"np.logical_or({0}, {1})", "OR({0};{1})"}}};
  return all;
}

const std::map<std::string, Pattern>& calls() {
  static const std::map<std::string, Pattern> all = {
      {"if", {"np.where({0}, {1}, {2})", "IF({0};{1};{2})"}}, {"min", {"np.minimum({0}, {1})", "MIN({0};{1})"}},
      {"max", {"np.maximum({0}, {1})", "MAX({0};{1})"}},      {"abs", {"np.abs({0})", "ABS({0})"}},
      {"sqrt", {"np.sqrt({0})", "SQRT({0})"}},                {"floor", {"np.floor({0})", "INT({0})"}},
      {"ceil", {"np.ceil({0})", "(-INT(-({0})))"}},           {"round_half_up", {"np.floor({0} + 0.5)", "INT({0}+0.5)"}},
      {"ln", {"np.log({0})", "LN({0})"}},                     {"exp", {"np.exp({0})", "EXP({0})"}},
      {"sin", {"np.sin({0})", "SIN({0})"}},                   {"cos", {"np.cos({0})", "COS({0})"}},
      {"tan", {"np.tan({0})", "TAN({0})"}},                   {"asin", {"np.arcsin({0})", "ASIN({0})"}},
      {"acos", {"np.arccos({0})", "ACOS({0})"}},              {"atan", {"np.arctan({0})", "ATAN({0})"}},
      {"atan2", {"np.arctan2({0}, {1})", "ATAN2({1};{0})"}},
      {"limit", {"np.maximum({1}, np.minimum({0}, {2}))", "MAX({1};MIN({0};{2}))"}}};
  return all;
}

class Translator {
 public:
  Translator(const expr::Tree& tree, const expr::NameText& names, Dialect dialect) : tree_(tree), names_(names), dialect_(dialect) {}

  std::string at(expr::NodeId id) const {
    const Node& node = tree_.at(id);
    if (node.kind == Kind::number) return fmt::format("{:.17g}", node.number);
    if (node.kind == Kind::name) return names_(node);
    std::vector<std::string> args;
    for (const auto arg : node.args) args.push_back(at(arg));
    if (node.kind != Kind::call) return fill(signs().at(node.kind), args);
    const auto pattern = calls().find(node.text);
    if (pattern == calls().end()) throw Untranslatable();
    if (node.text != "min" && node.text != "max") return fill(pattern->second, args);
    std::string all = args[0];
    for (std::size_t i = 1; i < args.size(); ++i) all = fill(pattern->second, {all, args[i]});
    return all;
  }

 private:
  std::string fill(const Pattern& pattern, std::vector<std::string> args) const {
    args.resize(3);
    return fmt::format(fmt::runtime(dialect_ == Dialect::numpy ? pattern.numpy : pattern.calc), args[0], args[1], args[2]);
  }

  const expr::Tree& tree_;
  const expr::NameText& names_;
  Dialect dialect_;
};

}  // namespace

std::optional<std::string> translate(const expr::Tree& tree, const expr::NameText& name_text, Dialect dialect) {
  try {
    return Translator(tree, name_text, dialect).at(tree.root());
  } catch (const Untranslatable&) {
    return std::nullopt;
  }
}

}  // namespace jambcheck::bench
