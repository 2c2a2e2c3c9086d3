#include "expr/check.h"

#include <algorithm>

#include "text/suggest.h"

namespace jambcheck::expr {
namespace {

using text::MessageId;
using text::Problem;
using units::Dimension;
using units::Exponent;

constexpr std::size_t kFewWords = 8;  // more are not written out in a message

class Checker {
 public:
  Checker(const Tree& tree, const Scope& scope, std::vector<Problem>& problems)
      : tree_(tree), scope_(scope), problems_(problems) {
    typed_.of.resize(tree.nodes.size());
    typed_.literal_word.resize(tree.nodes.size());
    bad_.resize(tree.nodes.size());
    mark_word_literals();
    mark_table_names();
  }

  Typed run() {
    for (NodeId id = 0; id < tree_.nodes.size(); ++id)
      if (!is_table_name_[id]) visit(id);
    return std::move(typed_);
  }

 private:
  // `grain == end`: a name beside a word is a literal word when it is one of that word's list, or no word of the scope.
  void mark_word_literals() {
    for (const auto& node : tree_.nodes) {
      if (node.kind != Kind::equal && node.kind != Kind::not_equal) continue;
      for (int side = 0; side < 2; ++side) {
        const Node& literal = tree_.at(node.args[static_cast<std::size_t>(side)]);
        const Node& other = tree_.at(node.args[static_cast<std::size_t>(1 - side)]);
        if (literal.kind != Kind::name || other.kind != Kind::name) continue;
        const Type* type = scope_.type_of(other.text);
        const Type* own = scope_.type_of(literal.text);
        if (!type || type->kind != Type::Kind::word) continue;
        const bool listed = std::find(type->words->begin(), type->words->end(), literal.text) != type->words->end();
        if (listed || !own || own->kind != Type::Kind::word)
          typed_.literal_word[node.args[static_cast<std::size_t>(side)]] = true;
      }
    }
  }
  void mark_table_names() {
    is_table_name_.resize(tree_.nodes.size());
    for (const auto& node : tree_.nodes)
      if (node.kind == Kind::call && node.text == "lookup" && tree_.at(node.args[0]).kind == Kind::name)
        is_table_name_[node.args[0]] = true;
  }

  void problem(MessageId message, text::Args args, NodeId id) {
    const Node& node = tree_.at(id);
    problems_.push_back({message, std::move(args), node.offset, std::max<std::uint32_t>(1, node.length)});
    bad_[id] = true;
  }
  /// True when an argument is already in error: one slip gives one message.
  bool any_bad(const Node& node) const {
    return std::any_of(node.args.begin(), node.args.end(), [&](NodeId a) { return bad_[a] && !is_table_name_[a]; });
  }
  std::string source(NodeId id) const {
    const Node& node = tree_.at(id);
    return tree_.source.substr(node.offset, node.length);
  }

  void visit(NodeId id) {
    const Node& node = tree_.at(id);
    if (any_bad(node)) {
      bad_[id] = true;
      return;
    }
    switch (node.kind) {
      case Kind::number:
        typed_.of[id] = Type::pure();
        typed_.of[id].any_dimension = node.number == 0;
        return;
      case Kind::name: return visit_name(id, node);
      case Kind::negate: return visit_negate(id, node);
      case Kind::not_:
      case Kind::and_:
      case Kind::or_:
        for (const NodeId a : node.args)
          if (!want_kind(a, Type::Kind::yes_no)) bad_[id] = true;
        typed_.of[id] = Type::yes_no();
        return;
      case Kind::add:
      case Kind::subtract: return visit_same(id, node, 0);
      case Kind::multiply:
      case Kind::divide: return visit_product(id, node);
      case Kind::power: return visit_power(id, node);
      case Kind::call: return visit_call(id, node);
      default: return visit_comparison(id, node);
    }
  }

  void visit_name(NodeId id, const Node& node) {
    if (typed_.literal_word[id]) return;  // typed by the comparison
    if (const Type* type = scope_.type_of(node.text)) {
      typed_.of[id] = *type;
      return;
    }
    problem(MessageId::E010, {node.text, text::suggestion(node.text, scope_.known_names())}, id);
  }

  bool want_kind(NodeId id, Type::Kind kind) {
    if (typed_.of[id].kind == kind) return true;
    Type wanted;
    wanted.kind = kind;
    problem(MessageId::E012, {source(id), to_string(typed_.of[id]), to_string(wanted)}, id);
    return false;
  }

  void visit_negate(NodeId id, const Node& node) {
    if (!want_kind(node.args[0], Type::Kind::number)) bad_[id] = true;
    typed_.of[id] = typed_.of[node.args[0]];
  }

  /// All arguments from `first` on must be alike; the result is like them.
  void visit_same(NodeId id, const Node& node, std::size_t first) {
    Type result = typed_.of[node.args[first]];
    std::size_t leader = first;
    for (std::size_t i = first; i < node.args.size(); ++i) {
      const Type& type = typed_.of[node.args[i]];
      if (type.kind != Type::Kind::number) {
        want_kind(node.args[i], Type::Kind::number);
        bad_[id] = true;
        return;
      }
      if (result.any_dimension && !type.any_dimension) {
        result = type;
        leader = i;
      } else if (!type.any_dimension && type.dimension != result.dimension) {
        problem(MessageId::U023, {source(node.args[leader]), to_string(result), source(node.args[i]), to_string(type)}, node.args[i]);
        bad_[id] = true;
        return;
      }
    }
    typed_.of[id] = result;
  }

  void visit_product(NodeId id, const Node& node) {
    for (const NodeId a : node.args)
      if (!want_kind(a, Type::Kind::number)) {
        bad_[id] = true;
        return;
      }
    const Dimension& a = typed_.of[node.args[0]].dimension;
    const Dimension& b = typed_.of[node.args[1]].dimension;
    typed_.of[id] = Type::number(node.kind == Kind::multiply ? a * b : a / b);
  }

  void visit_power(NodeId id, const Node& node) {
    for (const NodeId a : node.args)
      if (!want_kind(a, Type::Kind::number)) {
        bad_[id] = true;
        return;
      }
    const Type& base = typed_.of[node.args[0]];
    if (!typed_.of[node.args[1]].dimension.pure()) {
      problem(MessageId::U022, {source(node.args[1])}, node.args[1]);
      bad_[id] = true;
      return;
    }
    if (base.dimension.pure()) {
      typed_.of[id] = Type::pure();
      return;
    }
    double value = 0;
    Exponent exponent;
    if (!literal_value(tree_, node.args[1], value) || !Exponent::from_double(value, exponent)) {
      problem(MessageId::U022, {source(node.args[1])}, node.args[1]);
      bad_[id] = true;
      return;
    }
    typed_.of[id] = Type::number(base.dimension.power(exponent));
  }

  void visit_comparison(NodeId id, const Node& node) {
    typed_.of[id] = Type::yes_no();
    const NodeId a = node.args[0], b = node.args[1];
    if (typed_.literal_word[a] || typed_.literal_word[b]) {
      const NodeId literal = typed_.literal_word[a] ? a : b, other = typed_.literal_word[a] ? b : a;
      typed_.of[literal] = typed_.of[other];
      const auto& words = *typed_.of[other].words;
      const std::string& word = tree_.at(literal).text;
      if (std::find(words.begin(), words.end(), word) == words.end())
        problem(MessageId::E011, {source(other), word, text::suggestion(word, words)}, literal);
      return;
    }
    if (typed_.of[a].kind == Type::Kind::word && typed_.of[b].kind == Type::Kind::word &&
        (node.kind == Kind::equal || node.kind == Kind::not_equal))
      return;
    const Type saved = typed_.of[id];
    visit_same(id, node, 0);
    typed_.of[id] = saved;
  }

  void visit_call(NodeId id, const Node& node) {
    const std::string& f = node.text;
    if (f == "lookup") return visit_lookup(id, node);
    if (f == "if") {
      if (!want_kind(node.args[0], Type::Kind::yes_no)) bad_[id] = true;
      return visit_same(id, node, 1);
    }
    if (f == "min" || f == "max" || f == "limit" || f == "first_not_refused" || f == "abs") return visit_same(id, node, 0);
    for (const NodeId a : node.args)
      if (!want_kind(a, Type::Kind::number)) {
        bad_[id] = true;
        return;
      }
    const Dimension& d = typed_.of[node.args[0]].dimension;
    Dimension angle;
    angle.of[units::kAngle] = Exponent(1);
    if (f == "sqrt") {
      typed_.of[id] = Type::number(d.power(Exponent(1, 2)));
    } else if (f == "sin" || f == "cos" || f == "tan") {
      if (d != angle) problem(MessageId::U024, {f, "an angle", source(node.args[0]), to_string(Type::number(d)), "give the angle with its unit, deg or rad"}, node.args[0]);
      typed_.of[id] = Type::pure();
    } else if (f == "atan2") {
      visit_same(id, node, 0);
      if (!bad_[id]) typed_.of[id] = Type::number(angle);
    } else {
      if (!d.pure())
        problem(MessageId::U024, {f, "a pure number", source(node.args[0]), to_string(Type::number(d)), "divide by a constant that carries the unit"}, node.args[0]);
      typed_.of[id] = f == "asin" || f == "acos" || f == "atan" ? Type::number(angle) : Type::pure();
    }
  }

  void visit_lookup(NodeId id, const Node& node) {
    const Node& name = tree_.at(node.args[0]);
    const TableType* table = name.kind == Kind::name ? scope_.table(name.text) : nullptr;
    if (!table) {
      problem(MessageId::E014, {source(node.args[0])}, node.args[0]);
      bad_[id] = true;
      return;
    }
    if (node.args.size() != table->axes.size() + 1) {
      problem(MessageId::E013, {name.text, text::join(table->axis_names), std::to_string(node.args.size() - 1)}, id);
      return;
    }
    for (std::size_t i = 0; i < table->axes.size(); ++i) {
      const Type& want = table->axes[i];
      const Type& have = typed_.of[node.args[i + 1]];
      if (have.kind != want.kind || (want.kind == Type::Kind::number && have.dimension != want.dimension)) {
        problem(MessageId::E012, {source(node.args[i + 1]), to_string(have), to_string(want)}, node.args[i + 1]);
        bad_[id] = true;
        return;
      }
    }
    typed_.of[id] = table->value;
  }

  const Tree& tree_;
  const Scope& scope_;
  std::vector<Problem>& problems_;
  Typed typed_;
  std::vector<bool> bad_;
  std::vector<bool> is_table_name_;
};

}  // namespace

std::string to_string(const Type& type) {
  switch (type.kind) {
    case Type::Kind::number: return type.dimension.pure() ? "a pure number" : units::to_string(type.dimension);
    case Type::Kind::word:
      if (!type.words) return "a word";
      return type.words->size() <= kFewWords ? "a word (" + text::join(*type.words) + ")" : "one of " + std::to_string(type.words->size()) + " words";
    case Type::Kind::yes_no: return "yes or no";
  }
  return "";
}

Typed check(const Tree& tree, const Scope& scope, std::vector<Problem>& problems) {
  return Checker(tree, scope, problems).run();
}

}  // namespace jambcheck::expr
