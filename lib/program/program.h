#pragma once
// A plan's arithmetic as a flat list of operations on numbered values, each value made once. Equal sub-expressions
// are shared when they are added. Nothing here knows what the numbers mean.
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "expr/check.h"
#include "expr/tree.h"
#include "program/native.h"
#include "table/table.h"

namespace jambcheck::program {

enum class Opcode : std::uint8_t {
#define JAMBCHECK_OP(name, arity, meaning, example) name,
#include "program/opcodes.def"
#undef JAMBCHECK_OP
};
struct OpcodeRow {
  std::string_view name;
  int arity;
  std::string_view meaning;
  std::string_view example;
};
const OpcodeRow& row(Opcode op);

using Value = std::uint32_t;
inline constexpr Value kNoValue = 0xffffffffU;

/// One operation. `mask` is the yes/no value under which a recording operation counts (kNoValue: always).
struct Instruction {
  Opcode op = Opcode::constant;
  Value a = kNoValue, b = kNoValue, c = kNoValue;
  Value mask = kNoValue;
  std::uint32_t aux = 0;   ///< input column; site; see the members of Program for lookup and native
  std::uint32_t site = 0;  ///< of recording operations
  double number = 0;       ///< of a constant
  friend bool operator==(const Instruction&, const Instruction&) = default;
};

struct LookupRef {
  const table::Table* table = nullptr;
  const table::Column* column = nullptr;
};

class Program {
 public:
  Value constant(double number);
  Value input(std::uint32_t column);
  Value emit(Opcode op, Value a, Value b = kNoValue, Value c = kNoValue);
  /// A recording operation (range, range_noted, limit, flag) at its own site.
  Value record(Opcode op, std::uint32_t site, Value mask, Value a, Value b = kNoValue, Value c = kNoValue);
  Value lookup(const LookupRef& ref, std::span<const Value> args, std::uint32_t site, Value mask);
  /// A solver call; returns one value a result.
  std::vector<Value> call(const NativeSolver* solver, std::span<const Value> args);
  /// a^exponent; common exponents become products and roots.
  Value raise(Value a, double exponent);

  std::uint32_t new_site() { return site_count_++; }
  std::uint32_t new_input() { return input_count_++; }

  [[nodiscard]] const std::vector<Instruction>& instructions() const { return instructions_; }
  [[nodiscard]] std::span<const Value> args(const Instruction& i) const { return {pool_.data() + i.a, i.b}; }
  [[nodiscard]] const LookupRef& lookup_of(const Instruction& i) const { return lookups_[i.aux]; }
  [[nodiscard]] const NativeSolver* solver_of(const Instruction& i) const { return solvers_[i.aux]; }
  [[nodiscard]] std::uint32_t sites() const { return site_count_; }
  [[nodiscard]] std::uint32_t inputs() const { return input_count_; }

 private:
  struct Hash {
    std::size_t operator()(const Instruction& i) const;
  };
  Value share(const Instruction& instruction);

  std::vector<Instruction> instructions_;
  std::vector<Value> pool_;  ///< arguments of lookups and solvers
  std::vector<LookupRef> lookups_;
  std::vector<const NativeSolver*> solvers_;
  std::unordered_map<Instruction, Value, Hash> seen_;
  std::uint32_t site_count_ = 0;
  std::uint32_t input_count_ = 0;
};

/// What lowering a formula needs besides its tree.
struct LowerScope {
  std::function<Value(std::string_view)> value_of;                ///< of a name
  std::function<Value(std::string_view)> word;                    ///< of a literal word
  std::function<LookupRef(std::string_view)> table;               ///< "G_of" or "dims.D_r"
  std::function<std::uint32_t(std::string_view, const expr::Node&)> site;  ///< a new site: kind ("limit", "lookup"), node
};

/// Adds a checked formula to a program; returns its value. Both sides of if() are computed; what they record counts
/// only where they are taken.
Value lower(Program& program, const expr::Tree& tree, const expr::Typed& typed, const LowerScope& scope,
            Value mask = kNoValue);

}  // namespace jambcheck::program
