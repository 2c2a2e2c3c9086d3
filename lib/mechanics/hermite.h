#pragma once
// Cubic Hermite shapes on the unit interval. Degrees of freedom: value and slope d/dxi at 0, then at 1.
#include <array>

namespace jambcheck::mechanics {

using Hermite = std::array<double, 4>;
using Matrix4 = std::array<std::array<double, 4>, 4>;

Hermite hermite(double xi);
Hermite hermite_second(double xi);  ///< second derivatives by xi
Hermite hermite_first(double xi);   ///< first derivatives by xi

Matrix4 hermite_mass();                   ///< integral of H_i H_j
Matrix4 hermite_slopes();                 ///< integral of H_i' H_j'
Matrix4 hermite_curvatures();             ///< integral of H_i'' H_j''
Matrix4 hermite_curvature_times_value();  ///< integral of H_i'' H_j

}  // namespace jambcheck::mechanics
