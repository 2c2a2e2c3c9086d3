// From formula trees to operations.
#include "program/program.h"

namespace jambcheck::program {
namespace {

using expr::Kind;
using expr::NodeId;

class Lowering {
 public:
  Lowering(Program& program, const expr::Tree& tree, const expr::Typed& typed, const LowerScope& scope)
      : program_(program), tree_(tree), typed_(typed), scope_(scope) {}

  Value at(NodeId id, Value mask) {
    const expr::Node& node = tree_.at(id);
    switch (node.kind) {
      case Kind::number: return program_.constant(node.number);
      case Kind::name: return typed_.literal_word[id] ? scope_.word(node.text) : scope_.value_of(node.text);
      case Kind::negate: return program_.emit(Opcode::negate, at(node.args[0], mask));
      case Kind::not_: return program_.emit(Opcode::not_, at(node.args[0], mask));
      case Kind::power: return power(node, mask);
      case Kind::call: return call(node, mask);
      default: return binary(node, mask);
    }
  }

 private:
  Value binary(const expr::Node& node, Value mask) {
    const Value a = at(node.args[0], mask), b = at(node.args[1], mask);
    switch (node.kind) {
      case Kind::add: return program_.emit(Opcode::add, a, b);
      case Kind::subtract: return program_.emit(Opcode::subtract, a, b);
      case Kind::multiply: return program_.emit(Opcode::multiply, a, b);
      case Kind::divide: return program_.emit(Opcode::divide, a, b);
      case Kind::less: return program_.emit(Opcode::less, a, b);
      case Kind::less_equal: return program_.emit(Opcode::less_equal, a, b);
      case Kind::greater: return program_.emit(Opcode::less, b, a);
      case Kind::greater_equal: return program_.emit(Opcode::less_equal, b, a);
      case Kind::equal: return program_.emit(Opcode::equal, a, b);
      case Kind::not_equal: return program_.emit(Opcode::not_equal, a, b);
      case Kind::and_: return program_.emit(Opcode::and_, a, b);
      default: return program_.emit(Opcode::or_, a, b);
    }
  }
  Value power(const expr::Node& node, Value mask) {
    const Value base = at(node.args[0], mask);
    double exponent = 0;
    if (expr::literal_value(tree_, node.args[1], exponent)) return program_.raise(base, exponent);
    return program_.emit(Opcode::power, base, at(node.args[1], mask));
  }
  static bool unary_opcode(std::string_view f, Opcode& op) {
    static const std::pair<std::string_view, Opcode> list[] = {
        {"abs", Opcode::absolute}, {"sqrt", Opcode::square_root}, {"floor", Opcode::floor_}, {"ceil", Opcode::ceil_},
        {"round_half_up", Opcode::round_half_up}, {"ln", Opcode::natural_log}, {"exp", Opcode::exponential},
        {"sin", Opcode::sine}, {"cos", Opcode::cosine}, {"tan", Opcode::tangent}, {"asin", Opcode::arcsine},
        {"acos", Opcode::arccosine}, {"atan", Opcode::arctangent}};
    for (const auto& [name, code] : list)
      if (name == f) {
        op = code;
        return true;
      }
    return false;
  }
  Value fold(Opcode op, const expr::Node& node, Value mask) {
    Value value = at(node.args[0], mask);
    for (std::size_t i = 1; i < node.args.size(); ++i) value = program_.emit(op, value, at(node.args[i], mask));
    return value;
  }
  Value call(const expr::Node& node, Value mask) {
    const std::string& f = node.text;
    Opcode op{};
    if (unary_opcode(f, op)) return program_.emit(op, at(node.args[0], mask));
    if (f == "min") return fold(Opcode::minimum, node, mask);
    if (f == "max") return fold(Opcode::maximum, node, mask);
    if (f == "first_not_refused") return first_value(node, mask);
    if (f == "atan2") return program_.emit(Opcode::arctangent2, at(node.args[0], mask), at(node.args[1], mask));
    if (f == "if") return select(node, mask);
    if (f == "limit") {
      const Value x = at(node.args[0], mask), lo = at(node.args[1], mask), hi = at(node.args[2], mask);
      return program_.record(Opcode::limit, scope_.site("limit", node), mask, x, lo, hi);
    }
    return lookup(node, mask);
  }
  Value under(Value mask, Value condition) {
    return mask == kNoValue ? condition : program_.emit(Opcode::and_, mask, condition);
  }
  Value select(const expr::Node& node, Value mask) {
    const Value condition = at(node.args[0], mask);
    const Value yes = at(node.args[1], under(mask, condition));
    const Value no = at(node.args[2], under(mask, program_.emit(Opcode::not_, condition)));
    return program_.emit(Opcode::select, condition, yes, no);
  }
  /// What an argument records counts only where no earlier one has a value... which is known only afterwards; the
  /// last argument alone decides, so earlier refusals are silent by design: they were foreseen.
  Value first_value(const expr::Node& node, Value mask) {
    const Value never = program_.constant(0);
    const std::size_t n = node.args.size();
    Value value = at(node.args[0], n == 1 ? mask : never);
    for (std::size_t i = 1; i < n; ++i) {
      const Value has = program_.emit(Opcode::equal, value, value);  // NaN == NaN has no value
      const Value missing = program_.emit(Opcode::first_value, program_.emit(Opcode::not_, has), program_.constant(1));
      const Value next = at(node.args[i], i + 1 == n ? under(mask, missing) : never);
      value = program_.emit(Opcode::first_value, value, next);
    }
    return value;
  }
  Value lookup(const expr::Node& node, Value mask) {
    std::vector<Value> args;
    for (std::size_t i = 1; i < node.args.size(); ++i) args.push_back(at(node.args[i], mask));
    return program_.lookup(scope_.table(tree_.at(node.args[0]).text), args, scope_.site("lookup", node), mask);
  }

  Program& program_;
  const expr::Tree& tree_;
  const expr::Typed& typed_;
  const LowerScope& scope_;
};

}  // namespace

Value lower(Program& program, const expr::Tree& tree, const expr::Typed& typed, const LowerScope& scope, Value mask) {
  return Lowering(program, tree, typed, scope).at(tree.root(), mask);
}

}  // namespace jambcheck::program
