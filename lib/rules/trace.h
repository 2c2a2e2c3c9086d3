#pragma once
// The working of one case, line by line, from a replay through the same kernels that ran the batch.
#include <map>
#include <string>
#include <vector>

#include "rules/evaluation.h"

namespace jambcheck::rules {

/// Closed list of what a line of the working can be.
enum class NodeKind { rule, given, assumed, constant, table, step, solver, flag, check, printed, reason };
std::string_view word(NodeKind kind);

struct TraceLine {
  NodeKind kind = NodeKind::step;
  const Rule* rule = nullptr;
  std::string name;     ///< symbol
  std::string say;      ///< in plain words
  std::string formula;  ///< with symbols
  std::string numbers;  ///< the same with numbers
  std::string result;   ///< value and unit, or a word
  double value = 0;     ///< canonical; NaN for none
  units::Unit unit;
  bool is_word = false;
  std::string clause;
  std::string evidence;
  std::string from;               ///< of an input: the key, and the rule that defines it
  std::vector<std::string> notes;  ///< table cells used, the lines of a solver
  const expr::Tree* tree = nullptr;           ///< of a step: its formula
  std::map<std::string, std::string> figures;  ///< of a step: what stands for each name in `numbers`
};

struct TraceOptions {
  int digits = 4;
};

/// The working of `rule` alone: its inputs, constants, steps, flags, check, printed tables.
std::vector<TraceLine> trace_rule(const Evaluation& evaluation, const Rule& rule, const TraceOptions& options = {});

/// The working of all that `check` hangs on, in order, the rule itself last.
std::vector<TraceLine> trace_check(const Evaluation& evaluation, const CheckPoint& check, const TraceOptions& options = {});

/// As text: symbol = formula / = numbers / = result (words) [clause].
std::string to_text(const std::vector<TraceLine>& lines);

}  // namespace jambcheck::rules
