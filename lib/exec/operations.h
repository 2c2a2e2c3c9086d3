#pragma once
// Inside of exec: which kernel an operation has, and the two operations that go value by value.
#include <span>

#include "exec/kernels.h"
#include "exec/memo.h"
#include "program/program.h"

namespace jambcheck::exec {

/// Null for operations of another kind.
const BinaryKernels* binary(program::Opcode op);
Unary unary(program::Opcode op);

/// Cells of a table for n cases; `hit` is 1 where the table refuses. At most 8 arguments. Neighbours alike are found once.
void look_up(const program::LookupRef& ref, std::span<const double* const> args, std::size_t n, double* d, double* hit);

/// A solver for n cases; neighbours alike are solved once, and with a memory what it solved before not again.
void solve(const program::NativeSolver& solver, std::span<const double* const> args, std::span<double* const> results, std::size_t n, Memo* memo);

}  // namespace jambcheck::exec
