#pragma once
// Solvers written in C++ (geometry, mechanics) as nodes of the same graph and trace as formula rules.
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::program {

/// What a solver wants or gives; the dimension is checked against the rule file that names the solver.
struct NativePort {
  std::string_view name;
  std::string_view unit;  ///< a unit of the right dimension, e.g. "lbf"
};

/// Stateless and shared between threads. Values are canonical (in, lbf, rad); NaN means not given / no result.
class NativeSolver {
 public:
  virtual ~NativeSolver() = default;
  [[nodiscard]] virtual std::string_view name() const = 0;
  [[nodiscard]] virtual std::span<const NativePort> inputs() const = 0;
  [[nodiscard]] virtual std::span<const NativePort> outputs() const = 0;
  /// `in` and `out` in the order of inputs() and outputs().
  virtual void solve(std::span<const double> in, std::span<double> out) const = 0;
  /// The working of the same solve in words, one line each: method, intermediate results, statics check.
  [[nodiscard]] virtual std::vector<std::string> explain(std::span<const double> in) const = 0;
};

/// The solvers a rule set may name.
class NativeRegistry {
 public:
  void add(std::unique_ptr<NativeSolver> solver) { solvers_.push_back(std::move(solver)); }
  [[nodiscard]] const NativeSolver* find(std::string_view name) const {
    for (const auto& solver : solvers_)
      if (solver->name() == name) return solver.get();
    return nullptr;
  }
  [[nodiscard]] const std::vector<std::unique_ptr<NativeSolver>>& all() const { return solvers_; }

 private:
  std::vector<std::unique_ptr<NativeSolver>> solvers_;
};

}  // namespace jambcheck::program
