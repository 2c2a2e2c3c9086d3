#pragma once
// Formulas back as text, from the tree: with names, or with whatever stands for a name (its number).
#include <functional>
#include <string>

#include "expr/tree.h"

namespace jambcheck::expr {

/// What to print for a name; its own text is the plain choice.
using NameText = std::function<std::string(const Node&)>;

/// How tightly a node binds; a looser child of a tighter parent needs brackets.
int binding(Kind kind);

/// The formula with as few brackets as its meaning needs.
std::string print(const Tree& tree, const NameText& name_text);
std::string print(const Tree& tree);

}  // namespace jambcheck::expr
