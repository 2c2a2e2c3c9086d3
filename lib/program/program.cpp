#include "program/program.h"

#include <bit>
#include <utility>

namespace jambcheck::program {

const OpcodeRow& row(Opcode op) {
  static const OpcodeRow rows[] = {
#define JAMBCHECK_OP(name, arity, meaning, example) {#name, arity, meaning, example},
#include "program/opcodes.def"
#undef JAMBCHECK_OP
  };
  return rows[static_cast<std::size_t>(op)];
}

std::size_t Program::Hash::operator()(const Instruction& i) const {
  std::uint64_t h = static_cast<std::uint64_t>(i.op);
  for (const std::uint64_t part : {std::uint64_t{i.a}, std::uint64_t{i.b}, std::uint64_t{i.c}, std::uint64_t{i.mask},
                                   std::uint64_t{i.aux}, std::uint64_t{i.site}, std::bit_cast<std::uint64_t>(i.number)})
    h = (h ^ part) * 0x9e3779b97f4a7c15ULL + (h >> 29);
  return static_cast<std::size_t>(h);
}

Value Program::share(const Instruction& instruction) {
  const auto [it, fresh] = seen_.emplace(instruction, static_cast<Value>(instructions_.size()));
  if (fresh) instructions_.push_back(instruction);
  return it->second;
}

Value Program::constant(double number) {
  Instruction i;
  i.number = number;
  return share(i);
}

Value Program::input(std::uint32_t column) {
  Instruction i;
  i.op = Opcode::input;
  i.aux = column;
  return share(i);
}

Value Program::emit(Opcode op, Value a, Value b, Value c) {
  Instruction i;
  i.op = op;
  // Sums and products do not care about order: one order shares more.
  const bool symmetric = op == Opcode::add || op == Opcode::multiply || op == Opcode::equal || op == Opcode::not_equal;
  if (symmetric && b < a) std::swap(a, b);
  i.a = a;
  i.b = b;
  i.c = c;
  return share(i);
}

Value Program::record(Opcode op, std::uint32_t site, Value mask, Value a, Value b, Value c) {
  Instruction i;
  i.op = op;
  i.a = a;
  i.b = b;
  i.c = c;
  i.mask = mask;
  i.site = site;
  return share(i);
}

Value Program::lookup(const LookupRef& ref, std::span<const Value> args, std::uint32_t site, Value mask) {
  Instruction i;
  i.op = Opcode::lookup;
  i.a = static_cast<Value>(pool_.size());
  i.b = static_cast<Value>(args.size());
  i.mask = mask;
  i.site = site;
  i.aux = static_cast<std::uint32_t>(lookups_.size());
  pool_.insert(pool_.end(), args.begin(), args.end());
  lookups_.push_back(ref);
  instructions_.push_back(i);
  return static_cast<Value>(instructions_.size() - 1);
}

std::vector<Value> Program::call(const NativeSolver* solver, std::span<const Value> args) {
  Instruction i;
  i.op = Opcode::native;
  i.a = static_cast<Value>(pool_.size());
  i.b = static_cast<Value>(args.size());
  i.aux = static_cast<std::uint32_t>(solvers_.size());
  pool_.insert(pool_.end(), args.begin(), args.end());
  solvers_.push_back(solver);
  instructions_.push_back(i);
  const auto call = static_cast<Value>(instructions_.size() - 1);
  std::vector<Value> results;
  for (std::uint32_t k = 0; k < solver->outputs().size(); ++k) {
    Instruction r;
    r.op = Opcode::result;
    r.a = call;
    r.aux = k;
    results.push_back(share(r));
  }
  return results;
}

Value Program::raise(Value a, double exponent) {
  const auto root = [&](Value v) { return emit(Opcode::square_root, v); };
  const auto product = [&](Value x, Value y) { return emit(Opcode::multiply, x, y); };
  if (exponent == 1) return a;
  if (exponent == 2) return product(a, a);
  if (exponent == 3) return product(product(a, a), a);
  if (exponent == 4) return product(product(a, a), product(a, a));
  if (exponent == 0.5) return root(a);
  if (exponent == 1.5) return product(a, root(a));
  if (exponent == 2.5) return product(product(a, a), root(a));
  if (exponent == 0.25) return root(root(a));
  if (exponent == 0.75) return product(root(a), root(root(a)));
  if (exponent == -1) return emit(Opcode::divide, constant(1), a);
  return emit(Opcode::power, a, constant(exponent));
}

}  // namespace jambcheck::program
