#pragma once
// A uniform straight beam held by two-way springs at any places, exactly (no elements): each load and reaction bends
// the free beam by a cubic, and the reactions are those that close the springs and the statics.
#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "mechanics/status.h"

namespace jambcheck::mechanics {

/// A support: reaction = stiffness * deflection. Infinite stiffness: a support that doesn't give.
struct BeamSupport {
  double at = 0;                                               ///< in from the beam's start
  double stiffness = std::numeric_limits<double>::infinity();  ///< lbf/in, > 0
};

struct UniformLoad {
  double from = 0;  ///< in from the beam's start
  double to = 0;
  double per_length = 0;  ///< lbf/in
};

struct PointLoad {
  double at = 0;
  double force = 0;  ///< lbf
};

struct Beam {
  double length = 0;    ///< in; supports and loads lie in [0, length], overhangs included
  double rigidity = 0;  ///< E I, lbf in^2
  std::span<const BeamSupport> supports;
  std::span<const UniformLoad> uniform;
  std::span<const PointLoad> points;
};

/// Caller's spans for the answers per support (all of the length of Beam::supports; deflection may be empty).
struct BeamAnswers {
  std::span<double> reaction;    ///< lbf, against the load direction
  std::span<double> deflection;  ///< in, in the load direction
};

struct BeamResult {
  Status status = Status::ok;
  double largest_moment = 0;     ///< in-lbf, of greatest magnitude; + bends the beam hollow against the load (sagging)
  double largest_moment_at = 0;  ///< in
  double residual = 0;           ///< sum of forces, and of moments / length, over the sum of all |forces|
};

/// Working store of one thread, used again from call to call.
struct BeamScratch {
  std::vector<double> matrix, right, unknown;
  std::vector<double> places;
  std::vector<std::size_t> held;
};

/// Reactions and deflections at the supports. `missing`: a support that is not there (its reaction is zero; its
/// deflection is that of the beam at its place).
/// Status: ok, not_finite, wrong_size (lengths, stiffness, a place off the beam), no_fastener, unstable (fewer than two
/// places held), indeterminate (two unyielding supports at one place); on any but ok the answers are zero.
BeamResult solve_beam(const Beam& beam, BeamAnswers answers, BeamScratch& scratch,
                      std::optional<std::size_t> missing = std::nullopt);

}  // namespace jambcheck::mechanics
