#include "rules/lack.h"

#include <cmath>
#include <set>

namespace jambcheck::rules {
namespace {

using program::Instruction;
using program::kNoValue;
using program::Opcode;
using program::Value;

class Search {
 public:
  Search(const program::Program& program, const exec::Compiled& kept, const exec::Scratch& scratch, std::size_t lane) : program_(program), kept_(kept), scratch_(scratch), lane_(lane) {}

  void from(Value value) {
    if (value == kNoValue || !lacks(value) || !seen_.insert(value).second) return;
    const Instruction& i = program_.instructions()[value];
    switch (i.op) {
      case Opcode::input: found_.insert(i.aux); return;
      case Opcode::select: return lacks(i.a) ? from(i.a) : from(read(i.a) != 0 ? i.b : i.c);
      case Opcode::lookup:
      case Opcode::native:
        for (const Value argument : program_.args(i)) from(argument);
        return;
      case Opcode::result: return from_solver(i.a);
      default:
        for (const Value operand : {i.a, i.b, i.c}) from(operand);
    }
  }
  [[nodiscard]] std::vector<std::uint32_t> found() const { return {found_.begin(), found_.end()}; }

 private:
  [[nodiscard]] double read(Value value) const { return scratch_.read(kept_.slot(value), lane_); }
  [[nodiscard]] bool lacks(Value value) const { return std::isnan(read(value)); }
  /// A solver's own value says nothing; its arguments do.
  void from_solver(Value solver) {
    if (!seen_.insert(solver).second) return;
    for (const Value argument : program_.args(program_.instructions()[solver])) from(argument);
  }

  const program::Program& program_;
  const exec::Compiled& kept_;
  const exec::Scratch& scratch_;
  std::size_t lane_;
  std::set<Value> seen_;
  std::set<std::uint32_t> found_;
};

}  // namespace

std::vector<std::uint32_t> inputs_lacking(const program::Program& program, const exec::Compiled& kept, const exec::Scratch& scratch, std::size_t lane, Value value) {
  Search search(program, kept, scratch, lane);
  search.from(value);
  return search.found();
}

}  // namespace jambcheck::rules
