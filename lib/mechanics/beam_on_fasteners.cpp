#include "mechanics/beam_on_fasteners.h"

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace jambcheck::mechanics {

namespace {

using Eigen::Index;
using Matrix = Eigen::Map<Eigen::MatrixXd>;
using Vector = Eigen::Map<Eigen::VectorXd>;

constexpr double kSamePlace = 1e-9;  // of the length

// Free beam under a unit force at distance u: deflection |u|^3 / 12 E I, besides a straight line.
double bend_by_force(double u) { return std::abs(u * u * u) / 12; }
// The same integrated over a load that starts at distance u: the load's two ends give the difference.
double bend_by_load_end(double u) { return u * u * u * std::abs(u) / 48; }

bool on_beam(double at, double length) { return at >= 0 && at <= length; }

Status check(const Beam& beam, const BeamAnswers& answers) {
  double sum = std::abs(beam.length) + std::abs(beam.rigidity);
  for (const BeamSupport& s : beam.supports) sum += std::abs(s.at);
  for (const UniformLoad& u : beam.uniform) sum += std::abs(u.from) + std::abs(u.to) + std::abs(u.per_length);
  for (const PointLoad& p : beam.points) sum += std::abs(p.at) + std::abs(p.force);
  if (!std::isfinite(sum)) return Status::not_finite;
  if (std::any_of(beam.supports.begin(), beam.supports.end(), [](const auto& s) { return std::isnan(s.stiffness); })) {
    return Status::not_finite;
  }
  const std::size_t n = beam.supports.size();
  const bool deflection_fits = answers.deflection.empty() || answers.deflection.size() == n;
  if (answers.reaction.size() != n || !deflection_fits) return Status::wrong_size;
  if (!(beam.length > 0 && beam.rigidity > 0)) return Status::wrong_size;
  for (const BeamSupport& s : beam.supports) {
    if (!(s.stiffness > 0) || !on_beam(s.at, beam.length)) return Status::wrong_size;
  }
  for (const UniformLoad& u : beam.uniform) {
    if (!on_beam(u.from, beam.length) || !on_beam(u.to, beam.length) || u.to < u.from) return Status::wrong_size;
  }
  for (const PointLoad& p : beam.points) {
    if (!on_beam(p.at, beam.length)) return Status::wrong_size;
  }
  return n == 0 ? Status::no_fastener : Status::ok;
}

Status check_places(const Beam& beam, std::span<const std::size_t> held) {
  double lowest = HUGE_VAL;
  double highest = -HUGE_VAL;
  for (std::size_t i : held) {
    lowest = std::min(lowest, beam.supports[i].at);
    highest = std::max(highest, beam.supports[i].at);
  }
  if (!(highest - lowest > kSamePlace * beam.length)) return Status::unstable;
  for (std::size_t i : held) {
    for (std::size_t j : held) {
      if (j >= i) break;
      const bool both_hard = std::isinf(beam.supports[i].stiffness) && std::isinf(beam.supports[j].stiffness);
      const double apart = std::abs(beam.supports[i].at - beam.supports[j].at);
      if (both_hard && apart <= kSamePlace * beam.length) return Status::indeterminate;
    }
  }
  return Status::ok;
}

// Lengths over the beam's length, from its middle; deflections times E I / length^3, so in lbf.
class Solver {
 public:
  Solver(const Beam& beam, BeamScratch& scratch) : beam_(beam), s_(scratch) {}

  void solve() {
    const std::size_t n = s_.held.size();
    const auto size = static_cast<Index>(n + 2);
    s_.matrix.resize((n + 2) * (n + 2));
    s_.right.resize(n + 2);
    s_.unknown.resize(n + 2);
    Matrix a(s_.matrix.data(), size, size);
    Vector right(s_.right.data(), size);
    Vector unknown(s_.unknown.data(), size);
    fill(a, right);
    const Eigen::PartialPivLU<Eigen::MatrixXd> lu(a);
    unknown = lu.solve(right);
    unknown += lu.solve(right - a * unknown);  // takes off the rounding of a long row of supports
  }

  double reaction(std::size_t k) const { return s_.unknown[k]; }

  double deflection(double at) const {
    const std::size_t n = s_.held.size();
    double d = loads_bend(at) + s_.unknown[n] + s_.unknown[n + 1] * place(at);
    for (std::size_t k = 0; k < n; ++k) {
      d -= s_.unknown[k] * bend_by_force(place(at) - place(beam_.supports[s_.held[k]].at));
    }
    return d * std::pow(beam_.length, 3) / beam_.rigidity;
  }

 private:
  double place(double at) const { return at / beam_.length - 0.5; }

  // Give of a support, in the scale of the deflections.
  double give(std::size_t i) const { return beam_.rigidity / std::pow(beam_.length, 3) / beam_.supports[i].stiffness; }

  double loads_bend(double at) const {
    double d = 0;
    for (const PointLoad& p : beam_.points) d += p.force * bend_by_force(place(at) - place(p.at));
    for (const UniformLoad& u : beam_.uniform) {
      d += u.per_length * beam_.length *
           (bend_by_load_end(place(at) - place(u.from)) - bend_by_load_end(place(at) - place(u.to)));
    }
    return d;
  }

  // Unknown: the reactions, then the straight line. Rows: the give of each support, then forces and moments.
  void fill(Matrix& a, Vector& right) const {
    const auto n = static_cast<Index>(s_.held.size());
    a.setZero();
    for (Index k = 0; k < n; ++k) {
      const std::size_t i = s_.held[static_cast<std::size_t>(k)];
      const double at = place(beam_.supports[i].at);
      for (Index l = 0; l < n; ++l) {
        a(k, l) = bend_by_force(at - place(beam_.supports[s_.held[static_cast<std::size_t>(l)]].at));
      }
      a(k, k) += give(i);
      a(k, n) = a(n, k) = -1;
      a(k, n + 1) = a(n + 1, k) = -at;
      right[k] = loads_bend(beam_.supports[i].at);
    }
    right[n] = right[n + 1] = 0;
    for (const PointLoad& p : beam_.points) {
      right[n] -= p.force;
      right[n + 1] -= p.force * place(p.at);
    }
    for (const UniformLoad& u : beam_.uniform) {
      const double force = u.per_length * (u.to - u.from);
      right[n] -= force;
      right[n + 1] -= force * (place(u.from) + place(u.to)) / 2;
    }
  }

  const Beam& beam_;
  BeamScratch& s_;
};

struct Section {
  double shear = 0;   // all load less all reactions before the place
  double moment = 0;  // sagging +
  double load = 0;    // per length just after the place
};

Section section(const Beam& beam, std::span<const double> reaction, double at) {
  Section out;
  for (std::size_t i = 0; i < beam.supports.size(); ++i) {
    if (beam.supports[i].at > at) continue;
    out.shear -= reaction[i];
    out.moment += reaction[i] * (at - beam.supports[i].at);
  }
  for (const PointLoad& p : beam.points) {
    if (p.at > at) continue;
    out.shear += p.force;
    out.moment -= p.force * (at - p.at);
  }
  for (const UniformLoad& u : beam.uniform) {
    if (u.from > at) continue;
    const double covered = std::min(at, u.to) - u.from;
    out.shear += u.per_length * covered;
    out.moment -= u.per_length * covered * (at - u.from - covered / 2);
    if (u.to > at) out.load += u.per_length;
  }
  return out;
}

void note(double moment, double at, BeamResult& out) {
  if (std::abs(moment) <= std::abs(out.largest_moment)) return;
  out.largest_moment = moment;
  out.largest_moment_at = at;
}

// The moment peaks where something acts or, between two such places, where the shear passes zero.
void find_largest_moment(const Beam& beam, std::span<const double> reaction, BeamScratch& s, BeamResult& out) {
  s.places.clear();
  for (const BeamSupport& b : beam.supports) s.places.push_back(b.at);
  for (const PointLoad& p : beam.points) s.places.push_back(p.at);
  for (const UniformLoad& u : beam.uniform) {
    s.places.push_back(u.from);
    s.places.push_back(u.to);
  }
  std::sort(s.places.begin(), s.places.end());
  for (std::size_t i = 0; i < s.places.size(); ++i) {
    const double at = s.places[i];
    const Section here = section(beam, reaction, at);
    note(here.moment, at, out);
    if (i + 1 == s.places.size() || here.load == 0) continue;
    const double ahead = -here.shear / here.load;
    if (ahead > 0 && ahead < s.places[i + 1] - at) {
      note(here.moment - here.shear * ahead - here.load * ahead * ahead / 2, at + ahead, out);
    }
  }
}

double statics_left(const Beam& beam, std::span<const double> reaction) {
  double force = 0;
  double moment = 0;
  double size = 0;
  const auto add = [&](double f, double at) {
    force += f;
    moment += f * (at / beam.length - 0.5);
    size += std::abs(f);
  };
  for (std::size_t i = 0; i < beam.supports.size(); ++i) add(-reaction[i], beam.supports[i].at);
  for (const PointLoad& p : beam.points) add(p.force, p.at);
  for (const UniformLoad& u : beam.uniform) add(u.per_length * (u.to - u.from), (u.from + u.to) / 2);
  return size > 0 ? std::max(std::abs(force), std::abs(moment)) / size : 0;
}

}  // namespace

BeamResult solve_beam(const Beam& beam, BeamAnswers answers, BeamScratch& scratch, std::optional<std::size_t> missing) {
  BeamResult out;
  std::fill(answers.reaction.begin(), answers.reaction.end(), 0.0);
  std::fill(answers.deflection.begin(), answers.deflection.end(), 0.0);
  out.status = check(beam, answers);
  if (out.status == Status::ok && missing && *missing >= beam.supports.size()) out.status = Status::wrong_size;
  if (out.status != Status::ok) return out;
  scratch.held.clear();
  for (std::size_t i = 0; i < beam.supports.size(); ++i) {
    if (!missing || *missing != i) scratch.held.push_back(i);
  }
  out.status = check_places(beam, scratch.held);
  if (out.status != Status::ok) return out;

  Solver solver(beam, scratch);
  solver.solve();
  for (std::size_t k = 0; k < scratch.held.size(); ++k) answers.reaction[scratch.held[k]] = solver.reaction(k);
  for (std::size_t i = 0; i < answers.deflection.size(); ++i) {
    const bool held_by_spring = !missing || *missing != i;
    // Through the spring where there is one: exact zero on an unyielding support.
    answers.deflection[i] =
        held_by_spring ? answers.reaction[i] / beam.supports[i].stiffness : solver.deflection(beam.supports[i].at);
  }
  find_largest_moment(beam, answers.reaction, scratch, out);
  out.residual = statics_left(beam, answers.reaction);
  return out;
}

}  // namespace jambcheck::mechanics
