#pragma once
// What solvers gave for earlier inputs: one plate under the same load is solved once, whatever fastener is tried in it.
#include <cstdint>
#include <cstring>
#include <functional>
#include <span>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "program/native.h"

namespace jambcheck::exec {

/// Belongs to one thread. Inputs count bit for bit, so a remembered answer is the answer.
class Memo {
 public:
  /// The results for `in`, solved on first need.
  std::span<const double> solve(const program::NativeSolver& solver, std::span<const double> in, std::size_t results) {
    key_.assign(in.begin(), in.end());
    const std::string_view bits(reinterpret_cast<const char*>(key_.data()), key_.size() * sizeof(double));
    const std::size_t hash = std::hash<std::string_view>{}(bits) ^ (reinterpret_cast<std::uintptr_t>(&solver) >> 4);
    auto [it, end] = known_.equal_range(hash);
    for (; it != end; ++it)
      if (it->second.solver == &solver && it->second.in.size() == in.size() && std::memcmp(it->second.in.data(), in.data(), in.size() * sizeof(double)) == 0) return it->second.out;
    if (known_.size() >= kMost) known_.clear();
    Answer answer{&solver, key_, std::vector<double>(results)};
    solver.solve(in, answer.out);
    ++solved_;
    return known_.emplace(hash, std::move(answer))->second.out;
  }
  [[nodiscard]] std::size_t solved() const { return solved_; }

 private:
  static constexpr std::size_t kMost = 20000;  // some ten megabytes
  struct Answer {
    const program::NativeSolver* solver;
    std::vector<double> in, out;
  };
  std::unordered_multimap<std::size_t, Answer> known_;
  std::vector<double> key_;
  std::size_t solved_ = 0;
};

}  // namespace jambcheck::exec
