#pragma once
// Why a value is not there: the columns of a case that were missing on the way to it.
#include <vector>

#include "exec/compiled.h"
#include "program/program.h"

namespace jambcheck::rules {

/// The inputs without a value that leave `value` without one, in order. Sides of an if() that were not taken, and values
/// that something else stood in for, are not among them. `scratch` holds the
/// case in this lane with every value kept.
std::vector<std::uint32_t> inputs_lacking(const program::Program& program, const exec::Compiled& kept, const exec::Scratch& scratch, std::size_t lane, program::Value value);

}  // namespace jambcheck::rules
