#pragma once
// A price list: what fasteners and the goods that go with them cost, and how they are packed. Rows of a CSV file.
#include <limits>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "choose/space.h"

namespace jambcheck::choose {

/// How one thing is sold; NaN where the list does not say.
struct Supply {
  static constexpr double kNotSaid = std::numeric_limits<double>::quiet_NaN();
  double price = kNotSaid;    ///< of one
  double pack = kNotSaid;     ///< pieces in a pack
  double lasts = kNotSaid;    ///< holes that a bit or a vacuum bag lasts
  double content = kNotSaid;  ///< of a cartridge, in3
};

struct Prices {
  std::map<std::string, double> of_item;  ///< fasteners by kind and size, see fastener_key
  double of_hole = 0;                     ///< the work of one
  bool any = false;                       ///< fasteners with a price
  std::map<std::string, Supply> supplies; ///< everything in the list, by fastener_key or goods_key
};

/// What is wrong with a row of a list; empty when nothing is.
struct PriceProblem {
  std::size_t line = 0;
  std::string what;
};

/// Reads CSV rows. The first one names the columns: fastener (or item), then price, pack, lasts, content and note in any
/// order. Items are fasteners as in a project file (lag 3/8 x 4), goods with a size (washer 3/8, bit 1/4, screen tube
/// 1/2, shim 1/4), or adhesive, adhesive NAME (of anchor data), vacuum bag, puller day, and hole for the work of one.
std::vector<PriceProblem> read_prices(std::string_view text, Prices& out);

/// Names of things in a list, however they were written. `size` in inches; of a numbered screw the number, negative.
std::string fastener_key(std::string_view kind, double size, double length);
std::string goods_key(std::string_view what, double size);

/// The price of one with its hole; NaN when the list does not have it.
double price_of(const Prices& prices, const Item& item);

}  // namespace jambcheck::choose
