// Recursive descent over the grammar of DEVELOPERS.md; every refusal carries the span of the token that caused it.
#include <cctype>
#include <cmath>

#include "expr/tree.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::expr {
namespace {

using text::MessageId;
using text::Problem;

struct Token {
  enum class Type { number, name, sign, end } type = Type::end;
  std::string_view text;
  std::uint32_t offset = 0;
};

bool is_name_start(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0 || c == '_'; }
bool is_name_part(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '.'; }
bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

class Parser {
 public:
  explicit Parser(std::string_view source) : source_(source) { tree_.source = std::string(source); }

  tl::expected<Tree, Problem> run() {
    advance();
    const NodeId root = disjunction();
    if (!failed_ && token_.type != Token::Type::end) fail_here();
    if (failed_) return tl::make_unexpected(problem_);
    // The root must be last; it always is, for a parent is made after its children.
    (void)root;
    return std::move(tree_);
  }

 private:
  // ---- tokens
  void advance() {
    std::size_t i = next_;
    while (i < source_.size() && (source_[i] == ' ' || source_[i] == '\t')) ++i;
    token_ = {Token::Type::end, {}, static_cast<std::uint32_t>(i)};
    if (i == source_.size()) {
      next_ = i;
      return;
    }
    std::size_t j = i;
    if (is_digit(source_[i]) || (source_[i] == '.' && i + 1 < source_.size() && is_digit(source_[i + 1]))) {
      j = number_end(i);
      token_.type = Token::Type::number;
    } else if (is_name_start(source_[i])) {
      while (j < source_.size() && is_name_part(source_[j])) ++j;
      token_.type = Token::Type::name;
    } else {
      const std::string_view two = source_.substr(i, 2);
      j = i + (two == "<=" || two == ">=" || two == "==" || two == "!=" ? 2 : 1);
      while (j < source_.size() && (static_cast<unsigned char>(source_[j]) & 0xC0) == 0x80) ++j;  // the whole letter
      token_.type = Token::Type::sign;
    }
    token_.text = source_.substr(i, j - i);
    next_ = j;
  }
  std::size_t number_end(std::size_t i) const {
    std::size_t j = i;
    while (j < source_.size() && (is_digit(source_[j]) || source_[j] == '.')) ++j;
    if (j < source_.size() && (source_[j] == 'e' || source_[j] == 'E')) {
      std::size_t k = j + 1;
      if (k < source_.size() && (source_[k] == '+' || source_[k] == '-')) ++k;
      if (k < source_.size() && is_digit(source_[k])) {
        while (k < source_.size() && is_digit(source_[k])) ++k;
        j = k;
      }
    }
    return j;
  }
  [[nodiscard]] bool is_sign(std::string_view text) const {
    return token_.type == Token::Type::sign && token_.text == text;
  }
  [[nodiscard]] bool is_word(std::string_view text) const {
    return token_.type == Token::Type::name && token_.text == text;
  }

  // ---- problems
  NodeId fail(MessageId id, text::Args args, std::uint32_t offset, std::uint32_t length) {
    if (!failed_) problem_ = {id, std::move(args), offset, std::max<std::uint32_t>(1, length)};
    failed_ = true;
    token_ = {};
    next_ = source_.size();
    return make(Kind::number, {}, 0);
  }
  /// What to do about a sign that people write and this language does not have.
  [[nodiscard]] std::string hint() const {
    static constexpr std::pair<std::string_view, std::string_view> kHints[] = {
        {"\u00d7", "write * for times"},      {"\u00b7", "write * for times"}, {"\u00f7", "write / for divided by"},
        {"\u2212", "write - for minus"},      {"\u00b2", "write ^2"},          {"\u00b3", "write ^3"},
        {"\u221a", "write sqrt( )"},          {"=", "write == to compare"},     {"\u2264", "write <="},
        {"\u2265", "write >="},               {"!", "write not"},               {"&", "write and"},
        {"|", "write or"}};
    for (const auto& [sign, todo] : kHints)
      if (token_.text == sign) return std::string(todo);
    return "look for a sign, a name or a bracket that is missing before it";
  }
  NodeId fail_here() {
    const std::string what = token_.type == Token::Type::end ? "the end of the formula" : "'" + std::string(token_.text) + "'";
    return fail(MessageId::E001, {what, hint()}, token_.offset, static_cast<std::uint32_t>(token_.text.size()));
  }

  // ---- nodes
  NodeId make(Kind kind, std::vector<NodeId> args, std::uint32_t offset) {
    Node node;
    node.kind = kind;
    node.args = std::move(args);
    node.offset = offset;
    node.length = last_end_ > offset ? last_end_ - offset : 0;
    tree_.nodes.push_back(std::move(node));
    return tree_.root();
  }
  void take() {
    last_end_ = token_.offset + static_cast<std::uint32_t>(token_.text.size());
    advance();
  }

  // ---- grammar, loosest first
  NodeId disjunction() {
    const std::uint32_t start = token_.offset;
    NodeId left = conjunction();
    while (!failed_ && is_word("or")) {
      take();
      const NodeId right = conjunction();
      left = make(Kind::or_, {left, right}, start);
    }
    return left;
  }
  NodeId conjunction() {
    const std::uint32_t start = token_.offset;
    NodeId left = negation();
    while (!failed_ && is_word("and")) {
      take();
      const NodeId right = negation();
      left = make(Kind::and_, {left, right}, start);
    }
    return left;
  }
  NodeId negation() {
    const std::uint32_t start = token_.offset;
    if (is_word("not")) {
      take();
      const NodeId inner = deeper([&] { return negation(); });
      return make(Kind::not_, {inner}, start);
    }
    return comparison();
  }
  static bool comparison_kind(std::string_view text, Kind& kind) {
    if (text == "<") kind = Kind::less;
    else if (text == "<=") kind = Kind::less_equal;
    else if (text == ">") kind = Kind::greater;
    else if (text == ">=") kind = Kind::greater_equal;
    else if (text == "==") kind = Kind::equal;
    else if (text == "!=") kind = Kind::not_equal;
    else return false;
    return true;
  }
  NodeId comparison() {
    const std::uint32_t start = token_.offset;
    const NodeId left = sum();
    Kind kind{};
    if (failed_ || token_.type != Token::Type::sign || !comparison_kind(token_.text, kind)) return left;
    take();
    const NodeId right = sum();
    Kind again{};
    if (!failed_ && token_.type == Token::Type::sign && comparison_kind(token_.text, again))
      return fail(MessageId::E002, {}, token_.offset, static_cast<std::uint32_t>(token_.text.size()));
    return make(kind, {left, right}, start);
  }
  NodeId sum() {
    const std::uint32_t start = token_.offset;
    NodeId left = product();
    while (!failed_ && (is_sign("+") || is_sign("-"))) {
      const Kind kind = is_sign("+") ? Kind::add : Kind::subtract;
      take();
      const NodeId right = product();
      left = make(kind, {left, right}, start);
    }
    return left;
  }
  NodeId product() {
    const std::uint32_t start = token_.offset;
    NodeId left = signed_power();
    while (!failed_ && (is_sign("*") || is_sign("/"))) {
      const Kind kind = is_sign("*") ? Kind::multiply : Kind::divide;
      take();
      const NodeId right = signed_power();
      left = make(kind, {left, right}, start);
    }
    return left;
  }
  NodeId signed_power() {
    const std::uint32_t start = token_.offset;
    if (is_sign("-")) {
      take();
      const NodeId inner = deeper([&] { return signed_power(); });
      return make(Kind::negate, {inner}, start);
    }
    return power();
  }
  NodeId power() {
    const std::uint32_t start = token_.offset;
    const NodeId base = primary();
    if (failed_ || !is_sign("^")) return base;
    take();
    const NodeId exponent = deeper([&] { return signed_power(); });  // right side first: a^b^c is a^(b^c)
    return make(Kind::power, {base, exponent}, start);
  }
  NodeId primary() {
    return deeper([&] { return primary_inner(); });
  }
  /// One level further in; a hostile formula must not run off the stack.
  template <class Part>
  NodeId deeper(Part&& part) {
    constexpr int kDeepest = 100;
    if (failed_) return 0;
    if (depth_ == kDeepest) return fail(MessageId::E005, {}, token_.offset, 1);
    ++depth_;
    const NodeId id = part();
    --depth_;
    return id;
  }
  NodeId primary_inner() {
    const Token token = token_;
    if (token.type == Token::Type::number) {
      const auto value = text::parse_number(token.text);
      if (!value) return fail_here();
      take();
      const NodeId id = make(Kind::number, {}, token.offset);
      tree_.nodes[id].number = *value;
      tree_.nodes[id].text = std::string(token.text);
      return id;
    }
    if (token.type == Token::Type::name && token.text != "and" && token.text != "or" && token.text != "not") {
      take();
      if (is_sign("(")) return call(token);
      const NodeId id = make(Kind::name, {}, token.offset);
      tree_.nodes[id].text = std::string(token.text);
      return id;
    }
    if (is_sign("(")) {
      take();
      const NodeId inner = disjunction();
      if (!failed_ && !is_sign(")")) return fail(MessageId::E005, {}, token.offset, 1);
      if (!failed_) take();
      return inner;
    }
    return fail_here();
  }
  NodeId call(const Token& name) {
    const auto size = static_cast<std::uint32_t>(name.text.size());
    const Function* function = find_function(name.text);
    if (!function) {
      std::vector<std::string> known;
      for (const auto& f : functions()) known.emplace_back(f.name);
      return fail(MessageId::E003, {std::string(name.text), text::suggestion(name.text, known)}, name.offset, size);
    }
    const std::uint32_t open = token_.offset;
    take();
    std::vector<NodeId> args;
    if (!is_sign(")")) {
      args.push_back(disjunction());
      while (!failed_ && is_sign(",")) {
        take();
        args.push_back(disjunction());
      }
    }
    if (!failed_ && !is_sign(")")) {
      if (token_.type == Token::Type::end) return fail(MessageId::E005, {}, open, 1);
      return fail_here();
    }
    if (failed_) return 0;
    take();
    const int n = static_cast<int>(args.size());
    if (n < function->least || (function->most >= 0 && n > function->most))
      return fail(MessageId::E004, {std::string(name.text), std::to_string(n), std::string(function->example)}, name.offset, size);
    const NodeId id = make(Kind::call, std::move(args), name.offset);
    tree_.nodes[id].text = std::string(name.text);
    return id;
  }

  std::string_view source_;
  Tree tree_;
  Token token_;
  std::size_t next_ = 0;
  std::uint32_t last_end_ = 0;
  int depth_ = 0;
  bool failed_ = false;
  Problem problem_{MessageId::E001, {}, 0, 0};
};

}  // namespace

tl::expected<Tree, Problem> parse(std::string_view formula) { return Parser(formula).run(); }

std::vector<std::string> names(const Tree& tree) {
  std::vector<std::string> out;
  for (const auto& node : tree.nodes) {
    if (node.kind != Kind::name) continue;
    bool seen = false;
    for (const auto& name : out) seen = seen || name == node.text;
    if (!seen) out.push_back(node.text);
  }
  return out;
}

bool literal_value(const Tree& tree, NodeId id, double& value) {
  const Node& node = tree.at(id);
  double a = 0, b = 0;
  switch (node.kind) {
    case Kind::number: value = node.number; return true;
    case Kind::negate:
      if (!literal_value(tree, node.args[0], a)) return false;
      value = -a;
      return true;
    case Kind::add:
    case Kind::subtract:
    case Kind::multiply:
    case Kind::divide:
      if (!literal_value(tree, node.args[0], a) || !literal_value(tree, node.args[1], b)) return false;
      value = node.kind == Kind::add ? a + b : node.kind == Kind::subtract ? a - b : node.kind == Kind::multiply ? a * b : a / b;
      return true;
    default: return false;
  }
}

const std::vector<Function>& functions() {
  static const std::vector<Function> list = {
      {"if", 3, 3, "the second argument where the first is true, else the third", "if(grain == end, k_eg, 1)"},
      {"min", 2, -1, "the least", "min(a, b)"},
      {"max", 2, -1, "the greatest", "max(a, b)"},
      {"abs", 1, 1, "without its sign", "abs(x)"},
      {"sqrt", 1, 1, "square root", "sqrt(x)"},
      {"floor", 1, 1, "the whole number below", "floor(x)"},
      {"ceil", 1, 1, "the whole number above", "ceil(x)"},
      {"round_half_up", 1, 1, "the nearest whole number, halves upward", "round_half_up(x / unit)"},
      {"ln", 1, 1, "natural logarithm", "ln(x)"},
      {"exp", 1, 1, "e to the power", "exp(x)"},
      {"sin", 1, 1, "of an angle", "sin(theta)"},
      {"cos", 1, 1, "of an angle", "cos(theta)"},
      {"tan", 1, 1, "of an angle", "tan(theta)"},
      {"asin", 1, 1, "gives an angle", "asin(x)"},
      {"acos", 1, 1, "gives an angle", "acos(x)"},
      {"atan", 1, 1, "gives an angle", "atan(x)"},
      {"atan2", 2, 2, "gives the angle of the point (second, first)", "atan2(y, x)"},
      {"lookup", 2, -1, "the cell of a table", "lookup(G_of, species)"},
      {"limit", 3, 3, "kept between two bounds; that a bound bit is recorded", "limit(x, lo, hi)"},
      {"first_not_refused", 1, -1, "the first argument that has a value", "first_not_refused(a, b)"},
  };
  return list;
}

const Function* find_function(std::string_view name) {
  for (const auto& function : functions())
    if (function.name == name) return &function;
  return nullptr;
}

}  // namespace jambcheck::expr
