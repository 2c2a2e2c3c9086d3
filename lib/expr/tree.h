#pragma once
// The formula language: one-line formulas as trees. See DEVELOPERS.md for the grammar.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "text/diagnostic.h"

namespace jambcheck::expr {

enum class Kind : std::uint8_t {
  number,  // 0.75
  name,    // a step, input, constant, word or dotted case key
  negate,
  not_,
  add,
  subtract,
  multiply,
  divide,
  power,
  less,
  less_equal,
  greater,
  greater_equal,
  equal,
  not_equal,
  and_,
  or_,
  call,  // text = function, args
};

using NodeId = std::uint32_t;

struct Node {
  Kind kind = Kind::number;
  double number = 0;
  std::string text;           ///< of a name or call; of a number as written
  std::vector<NodeId> args;
  std::uint32_t offset = 0;   ///< span in the formula's text
  std::uint32_t length = 0;
};

/// A parsed formula. Children stand before their parents; the root is last.
struct Tree {
  std::string source;
  std::vector<Node> nodes;
  [[nodiscard]] NodeId root() const { return static_cast<NodeId>(nodes.size() - 1); }
  [[nodiscard]] const Node& at(NodeId id) const { return nodes[id]; }
};

/// Problems: E001 not understood, E002 chained comparison, E003 unknown function, E004 number of arguments, E005 unclosed.
tl::expected<Tree, text::Problem> parse(std::string_view formula);

/// Every name in the tree, in order of first use (function names are not among them).
std::vector<std::string> names(const Tree& tree);

/// The value of a subtree made of numbers only; empty when a name or call stands in it.
bool literal_value(const Tree& tree, NodeId id, double& value);

struct Function {
  std::string_view name;
  int least;  ///< number of arguments
  int most;   ///< -1: any number
  std::string_view meaning;
  std::string_view example;
};
const std::vector<Function>& functions();
const Function* find_function(std::string_view name);

}  // namespace jambcheck::expr
