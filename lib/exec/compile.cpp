#include <cmath>
#include <limits>

#include "exec/compiled.h"
#include "exec/operations.h"

namespace jambcheck::exec {
namespace {

using program::Instruction;
using program::kNoValue;
using program::Opcode;
using program::Value;

constexpr std::uint32_t kNoRegister = 0xffffffffU;

bool records(Opcode op) {
  return op == Opcode::range || op == Opcode::range_noted || op == Opcode::limit || op == Opcode::flag || op == Opcode::lookup;
}

bool folds(Opcode op) {
  return op != Opcode::constant && op != Opcode::input && op != Opcode::native && op != Opcode::result && !records(op);
}

bool has_scalar_form(Opcode op) {
  switch (op) {
    case Opcode::add:
    case Opcode::subtract:
    case Opcode::multiply:
    case Opcode::divide:
    case Opcode::minimum:
    case Opcode::maximum:
    case Opcode::less:
    case Opcode::less_equal: return true;
    default: return false;
  }
}

}  // namespace

/// The stages of compilation over one program.
struct Compiled::Build {
  Compiled& out;
  const program::Program& program;
  const std::vector<Instruction>& code;
  std::vector<bool> is_constant;
  std::vector<double> constant;
  std::vector<bool> needed;
  std::vector<std::uint32_t> last_use;  ///< index of the last instruction that reads a value
  std::vector<std::uint32_t> reg;
  std::vector<std::uint32_t> free_registers;
  std::unordered_map<std::uint64_t, std::uint32_t> constant_register;

  Build(Compiled& compiled, const program::Program& p)
      : out(compiled), program(p), code(p.instructions()), is_constant(code.size()), constant(code.size()),
        needed(code.size()), last_use(code.size()), reg(code.size(), kNoRegister) {}

  template <class F>
  void each_argument(const Instruction& i, F&& f) const {
    if (i.op == Opcode::lookup || i.op == Opcode::native) {
      for (const Value v : program.args(i)) f(v);
    } else {
      if (i.a != kNoValue) f(i.a);
      if (i.b != kNoValue) f(i.b);
      if (i.c != kNoValue) f(i.c);
    }
    if (i.mask != kNoValue) f(i.mask);
  }

  void fold() {
    for (std::size_t k = 0; k < code.size(); ++k) {
      const Instruction& i = code[k];
      if (i.op == Opcode::constant) {
        is_constant[k] = true;
        constant[k] = i.number;
        continue;
      }
      if (!folds(i.op)) continue;
      bool all = true;
      each_argument(i, [&](Value v) { all = all && is_constant[v]; });
      if (!all) continue;
      is_constant[k] = true;
      constant[k] = run_one(i);
    }
  }
  /// The kernel itself on one case: folding cannot differ from running.
  double run_one(const Instruction& i) const;

  void find_needed(std::span<const Value> wanted, Keep keep) {
    for (const Value v : wanted) needed[v] = true;
    for (std::size_t k = code.size(); k-- > 0;) {
      if (keep == Keep::all || records(code[k].op)) needed[k] = true;
      if (!needed[k] || is_constant[k]) continue;
      each_argument(code[k], [&](Value v) { needed[v] = true; });
    }
  }
  void find_last_uses(std::span<const Value> wanted, Keep keep) {
    for (std::size_t k = 0; k < code.size(); ++k) {
      last_use[k] = static_cast<std::uint32_t>(k);
      if (!needed[k] || is_constant[k]) continue;
      each_argument(code[k], [&](Value v) { last_use[v] = static_cast<std::uint32_t>(k); });
    }
    const auto forever = static_cast<std::uint32_t>(code.size());
    for (const Value v : wanted) last_use[v] = forever;
    if (keep == Keep::all) std::fill(last_use.begin(), last_use.end(), forever);
  }

  std::uint32_t new_register() {
    if (!free_registers.empty()) {
      const std::uint32_t r = free_registers.back();
      free_registers.pop_back();
      return r;
    }
    return out.registers_++;
  }
  std::uint32_t operand(Value v) {
    if (!is_constant[v]) return reg[v];
    std::uint64_t bits = 0;
    static_assert(sizeof bits == sizeof(double));
    __builtin_memcpy(&bits, &constant[v], sizeof bits);
    const auto [it, fresh] = constant_register.emplace(bits, 0);
    if (fresh) {
      it->second = out.registers_++;  // never given back: a constant column is filled once
      out.constants_.emplace_back(it->second, constant[v]);
    }
    return it->second;
  }

  void emit(std::size_t k) {
    const Instruction& i = code[k];
    Step step;
    step.op = i.op;
    step.one = unary(i.op);
    step.two = binary(i.op);
    step.site = i.site;
    step.aux = i.aux;
    if (i.op == Opcode::result) {
      reg[k] = reg[i.a] + i.aux;  // a solver's results stand in consecutive registers
      return;
    }
    if (i.op == Opcode::lookup || i.op == Opcode::native) {
      step.a = static_cast<std::uint32_t>(out.pool_.size());
      step.b = i.b;
      std::vector<std::uint32_t> registers;
      for (const Value v : program.args(i)) registers.push_back(operand(v));
      out.pool_.insert(out.pool_.end(), registers.begin(), registers.end());
      if (i.op == Opcode::lookup) {
        step.aux = static_cast<std::uint32_t>(out.lookups_.size());
        out.lookups_.push_back(program.lookup_of(i));
      } else {
        step.aux = static_cast<std::uint32_t>(out.solvers_.size());
        out.solvers_.push_back(program.solver_of(i));
      }
    } else {
      choose_form(i, step);
    }
    if (i.mask != kNoValue) {
      step.has_mask = true;
      step.mask = operand(i.mask);
    }
    if (i.op == Opcode::native) {
      step.d = out.registers_;
      out.registers_ += static_cast<std::uint32_t>(program.solver_of(i)->outputs().size());
    } else {
      step.d = new_register();
    }
    reg[k] = step.d;
    out.steps_.push_back(step);
  }
  void choose_form(const Instruction& i, Step& step) {
    const bool two = i.b != kNoValue && i.c == kNoValue;
    if (two && has_scalar_form(i.op) && is_constant[i.b] && !is_constant[i.a]) {
      step.scalar_side = 1;
      step.scalar = constant[i.b];
      step.a = operand(i.a);
    } else if (two && has_scalar_form(i.op) && is_constant[i.a] && !is_constant[i.b]) {
      step.scalar_side = 2;
      step.scalar = constant[i.a];
      step.a = operand(i.b);
    } else {
      if (i.a != kNoValue) step.a = operand(i.a);
      if (i.b != kNoValue) step.b = operand(i.b);
      if (i.c != kNoValue) step.c = operand(i.c);
    }
  }

  void allocate(Keep keep) {
    for (std::size_t k = 0; k < code.size(); ++k) {
      if (!needed[k] || is_constant[k]) continue;
      emit(k);
      if (keep == Keep::all) continue;
      // The destination is taken before arguments are released: kernels need distinct columns.
      std::vector<std::uint32_t> released;
      each_argument(code[k], [&](Value v) {
        if (is_constant[v] || last_use[v] != k || reg[v] == kNoRegister) return;
        if (code[v].op == Opcode::result || code[v].op == Opcode::native) return;  // a solver's registers are its own
        for (const std::uint32_t r : released)
          if (r == reg[v]) return;
        released.push_back(reg[v]);
      });
      if (last_use[k] == k && code[k].op != Opcode::native && code[k].op != Opcode::result) released.push_back(reg[k]);
      free_registers.insert(free_registers.end(), released.begin(), released.end());
    }
  }
};

double Compiled::Build::run_one(const Instruction& i) const {
  program::Program tiny;
  std::uint32_t column = 0;
  double values[3] = {0, 0, 0};
  std::vector<Value> args;
  const auto add = [&](Value v) {
    if (v == kNoValue) return;
    values[column++] = constant[v];
    args.push_back(tiny.input(tiny.new_input()));
  };
  add(i.a);
  add(i.b);
  add(i.c);
  args.resize(3, kNoValue);
  // Symmetric operations may swap their arguments; the kernels are symmetric too.
  const Value result = tiny.emit(i.op, args[0], args[1], args[2]);
  const Compiled compiled(tiny, std::span(&result, 1), Keep::wanted);
  Scratch scratch(compiled);
  Column columns[3];
  for (std::uint32_t k = 0; k < column; ++k) columns[k] = {&values[k], true};
  run_block(compiled, std::span(columns, column), 0, 1, scratch);
  return scratch.read(compiled.slot(result), 0);
}

Compiled::Compiled(const program::Program& program, std::span<const program::Value> wanted, Keep keep) {
  Build build(*this, program);
  inputs_ = program.inputs();
  sites_ = program.sites();
  build.fold();
  build.find_needed(wanted, keep);
  build.find_last_uses(wanted, keep);
  build.allocate(keep);
  slots_.resize(build.code.size());
  for (std::size_t k = 0; k < build.code.size(); ++k)
    slots_[k] = {build.is_constant[k], build.constant[k], build.reg[k] == kNoRegister ? 0 : build.reg[k]};
}

}  // namespace jambcheck::exec
