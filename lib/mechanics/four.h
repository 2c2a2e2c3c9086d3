#pragma once
// Four numbers that are worked on together, said by hand where the compiler would add up one by one.
#include <cstring>

namespace jambcheck::mechanics {

using Four = double __attribute__((vector_size(4 * sizeof(double))));

// By reference: passed by value they would travel differently on each processor generation.
inline void get(Four& to, const double* from) { std::memcpy(&to, from, sizeof to); }
inline void put(double* to, const Four& from) { std::memcpy(to, &from, sizeof from); }
inline double sum_of(const Four& x) { return (x[0] + x[1]) + (x[2] + x[3]); }

}  // namespace jambcheck::mechanics
