#include "papers/bags.h"

#include <map>
#include <tuple>
#include <unordered_map>

#include <fmt/format.h>

#include "text/number.h"

namespace jambcheck::papers {

std::vector<Bag> bags_of(const Takeoff& t) {
  std::vector<Bag> out;
  std::unordered_map<std::string, std::size_t> known;  // mark and item to place
  for (const auto& use : t.uses) {
    if (!in_pieces(use.good)) continue;
    const auto [it, fresh] = known.try_emplace(use.mark + '\x1f' + use.item + '\x1f' + use.coating, out.size());
    if (fresh) out.push_back({&use, 0, ""});
    Bag& bag = out[it->second];
    bag.net += use.net;
    bag.parts += (bag.parts.empty() ? "" : ", ") + fmt::format("{} {}", use.part, text::rounded(use.net, 8));
  }
  return out;
}

std::vector<Load> loads_of(const Takeoff& t) {
  std::map<std::tuple<std::string, std::string, std::string>, double> sums;
  for (const auto& use : t.uses)
    if (in_pieces(use.good)) sums[{use.phase, use.floor, use.item}] += use.net;
  std::vector<Load> out;
  for (const auto& [key, net] : sums) out.push_back({std::get<0>(key), std::get<1>(key), std::get<2>(key), net});
  return out;
}

}  // namespace jambcheck::papers
