#pragma once
// The formulas of wood.lag_screw.withdrawal and wood.lag_screw.lateral_yield as a careful programmer writes them by
// hand: one case after the other, every common part once. A yardstick for speed only; no answer comes from here.
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace jambcheck::bench {

/// One column an input, all of length n.
struct LagColumns {
  const double *D, *G, *p_t, *C_D, *C_M, *C_t, *end_grain;
  const double *D_r, *l_m, *l_s, *F_em, *F_es, *F_yb, *R_I, *R_II, *R_III, *g;
};

inline double withdrawal_by_hand(const LagColumns& c, std::size_t i) {
  const double G = c.G[i], D = c.D[i];
  const double W = 1800 * std::pow(G, 1.5) * std::pow(D, 0.75);
  return W * c.C_D[i] * c.C_M[i] * c.C_t[i] * (c.end_grain[i] != 0 ? 0.75 : 1.0) * c.p_t[i];
}

inline double lateral_by_hand(const LagColumns& c, std::size_t i) {
  const double D = c.D_r[i], l_m = c.l_m[i], l_s = c.l_s[i], F_em = c.F_em[i], F_es = c.F_es[i], F_yb = c.F_yb[i];
  const double R_I = c.R_I[i], R_II = c.R_II[i], R_III = c.R_III[i], g = c.g[i];
  const double R_e = F_em / F_es, R_t = l_m / l_s;
  const double k_1 = (std::sqrt(R_e + 2 * R_e * R_e * (1 + R_t + R_t * R_t) + R_t * R_t * R_e * R_e * R_e) - R_e * (1 + R_t)) / (1 + R_e);
  const double k_2 = -1 + std::sqrt(2 * (1 + R_e) + 2 * F_yb * (1 + 2 * R_e) * D * D / (3 * F_em * l_m * l_m));
  const double k_3 = -1 + std::sqrt(2 * (1 + R_e) / R_e + 2 * F_yb * (2 + R_e) * D * D / (3 * F_em * l_s * l_s));
  const double Z_Im = D * l_m * F_em / R_I, Z_Is = D * l_s * F_es / R_I;
  const double Z_II = k_1 * D * l_s * F_es / R_II;
  const double Z_IIIm = k_2 * D * l_m * F_em / ((1 + 2 * R_e) * R_III), Z_IIIs = k_3 * D * l_s * F_em / ((2 + R_e) * R_III);
  const double Z_IV = D * D / R_III * std::sqrt(2 * F_em * F_yb / (3 * (1 + R_e)));
  const double contact = std::min(std::min(std::min(Z_Im, Z_Is), std::min(Z_II, Z_IIIm)), std::min(Z_IIIs, Z_IV));
  const double q_m = F_em * D, q_s = F_es * D, M_y = F_yb * D * D * D / 6;
  const auto root = [](double A, double B, double C) { return (-B + std::sqrt(B * B - 4 * A * C)) / (2 * A); };
  const double P_II = root(1 / (4 * q_s) + 1 / (4 * q_m), l_s / 2 + g + l_m / 2, -q_s * l_s * l_s / 4 - q_m * l_m * l_m / 4);
  const double P_IIIm = root(1 / (2 * q_s) + 1 / (4 * q_m), g + l_m / 2, -M_y - q_m * l_m * l_m / 4);
  const double P_IIIs = root(1 / (4 * q_s) + 1 / (2 * q_m), l_s / 2 + g, -q_s * l_s * l_s / 4 - M_y);
  const double P_IV = root(1 / (2 * q_s) + 1 / (2 * q_m), g, -2 * M_y);
  const double gap = std::min(std::min(std::min(Z_Im, Z_Is), P_II / R_II), std::min(std::min(P_IIIm, P_IIIs), P_IV) / R_III);
  return g > 0 ? gap : contact;
}

/// Plain -O3.
void by_hand(const LagColumns& columns, double* R, double* Z, std::size_t n);
/// -O3 -march=native -ffast-math, told to the compiler as one vector loop.
void by_hand_vectorised(const LagColumns& columns, double* R, double* Z, std::size_t n);

}  // namespace jambcheck::bench
