#pragma once
// Single rules on cases written as texts, for properties over random cases.
#include <map>
#include <random>
#include <string>

namespace jambcheck::test {

using Texts = std::map<std::string, std::string>;  ///< key -> value with unit
using Random = std::mt19937_64;

/// A step or output of a built-in rule for this case; NaN where there is no value.
double value(const char* rule, const char* name, const Texts& texts);

double between(Random& random, double lo, double hi);
std::string in(double x);
std::string psi(double x);
std::string lbf(double x);

}  // namespace jambcheck::test
