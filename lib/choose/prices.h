#pragma once
// A price list: rows of fastener and price, and one row "hole" for the work of one.
#include <map>
#include <string>
#include <string_view>

#include "choose/space.h"

namespace jambcheck::choose {

struct Prices {
  std::map<std::string, double> of_item;  ///< by kind and size: "lag_screw 0.375 4"
  double of_hole = 0;
  bool any = false;
};

/// What is wrong with a row of a list; empty when nothing is.
struct PriceProblem {
  std::size_t line = 0;
  std::string what;
};

/// Reads CSV rows "fastener,price": the fastener as in a project file (lag 3/8 x 4), "hole" for the work of one hole.
std::vector<PriceProblem> read_prices(std::string_view text, Prices& out);

/// The price of one with its hole; NaN when the list does not have it.
double price_of(const Prices& prices, const Item& item);

}  // namespace jambcheck::choose
