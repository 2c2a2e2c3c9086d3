#include "choose/narrow.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "choose/catalogue.h"
#include "opening/words.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::choose {
namespace {

constexpr double kSame = 1e-3;  // in: 9.5 mm means 3/8; far less than any two trade sizes are apart

bool among(const Sizes& sizes, double value) {
  const auto holds = [&](const auto& s) { return value > s.first - kSame && value < s.second + kSame; };
  return sizes.empty() || std::any_of(sizes.begin(), sizes.end(), holds);
}

double length_of(const Item& item) {
  const auto it = item.facts.find("length");
  return it == item.facts.end() ? item.length : it->second.value;
}

bool is_left(const Item& item, const Narrow& narrow, const Prices& prices) {
  const auto& kinds = narrow.kinds;
  if (!kinds.empty() && std::find(kinds.begin(), kinds.end(), item.kind) == kinds.end()) return false;
  if (narrow.priced && std::isnan(price_of(prices, item))) return false;
  return among(narrow.sizes, item.diameter) && among(narrow.lengths, length_of(item));
}

/// Nominal diameter in inches of a length, or of the number of a screw; NaN: neither.
double size_of(const rules::RuleSet& set, std::string text) {
  text.erase(text.find_last_not_of(' ') + 1);
  text.erase(0, text.find_first_not_of(' '));
  if (!text.empty() && text.front() == '#') {
    const bool digits = text.size() > 1 && text.size() < 4 && text.find_first_not_of("0123456789", 1) == std::string::npos;
    return digits ? diameter_of_number(set, std::stoi(text.substr(1))) : std::nan("");
  }
  auto length = units::parse_length(text);
  if (!length) length = units::parse_length(text + " in");
  return length ? length->value : std::nan("");
}

}  // namespace

void narrow(Space& space, const Narrow& narrow, const Prices& prices) {
  if (!narrow.any() || space.candidates.empty()) return;
  const std::size_t items = space.items.size(), layouts = space.layouts.size();
  auto& i = space.items;
  std::erase_if(i, [&](const Item& item) { return !is_left(item, narrow, prices); });
  auto& l = space.layouts;
  std::erase_if(l, [&](const Layout& one) { return one.spacing > 0 && !among(narrow.spacings, one.spacing); });
  space.list_candidates();
  space.notes.push_back(fmt::format(
      "narrowed by what was asked for: {} of {} fasteners, {} of {} layouts; the others were not tried", i.size(), items,
      l.size(), layouts));
  if (i.empty())
    space.notes.push_back(
        "no fastener that is tried here is all of that; see jambcheck tables fasteners.stock_lengths and choose.kinds");
  if (l.empty()) space.notes.push_back("no layout that is tried here is all of that; see jambcheck tables choose.spacings");
}

units::Expected<std::string> kind_named(const rules::RuleSet& set, std::string_view text) {
  const table::Table* kinds = set.table("choose.kinds");
  std::vector<std::string> tried = kinds ? kinds->axes.back().words : std::vector<std::string>();
  const std::string kind = opening::choose(opening::word_list("own:fastener_kind", set), text);
  if (std::find(tried.begin(), tried.end(), kind) != tried.end()) return kind;
  return tl::unexpected(text::Problem{text::MessageId::L035, {std::string(text), text::suggestion(text, tried)}});
}

units::Expected<std::pair<double, double>> size_or_range(const rules::RuleSet& set, std::string_view text) {
  const auto dots = text.find("..");
  const double from = size_of(set, std::string(text.substr(0, dots)));
  const double to = dots == std::string_view::npos ? from : size_of(set, std::string(text.substr(dots + 2)));
  if (from > 0 && to >= from) return std::pair{from, to};
  return tl::unexpected(text::Problem{text::MessageId::L036, {std::string(text), ""}});
}

}  // namespace jambcheck::choose
