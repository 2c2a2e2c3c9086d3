#include "choose/cover.h"

#include <algorithm>
#include <cstdint>

namespace jambcheck::choose {
namespace {

using Bits = std::vector<std::uint64_t>;

std::size_t count(const Bits& bits) {
  std::size_t n = 0;
  for (const auto word : bits) n += static_cast<std::size_t>(__builtin_popcountll(word));
  return n;
}
bool has(const Bits& bits, std::size_t i) { return (bits[i / 64] >> (i % 64) & 1) != 0; }
void set(Bits& bits, std::size_t i) { bits[i / 64] |= std::uint64_t{1} << (i % 64); }
Bits without(const Bits& a, const Bits& b) {
  Bits out = a;
  for (std::size_t k = 0; k < out.size(); ++k) out[k] &= ~b[k];
  return out;
}
std::size_t common(const Bits& a, const Bits& b) {
  std::size_t n = 0;
  for (std::size_t k = 0; k < a.size(); ++k) n += static_cast<std::size_t>(__builtin_popcountll(a[k] & b[k]));
  return n;
}
bool inside(const Bits& a, const Bits& b) { return count(without(a, b)) == 0; }

/// Branch and bound: the open element with the fewest sets is covered by each of them in turn; a branch ends where even
/// the largest sets left could not do better than the best cover so far.
class Search {
 public:
  Search(std::vector<Bits> sets, std::vector<std::size_t> index, std::size_t elements, std::size_t most) : sets_(std::move(sets)), index_(std::move(index)), elements_(elements), most_(most) {}

  std::vector<std::size_t> run(const Bits& open, bool& exact) {
    best_ = greedy(open);
    std::vector<std::size_t> taken;
    go(open, taken);
    exact = nodes_ <= most_;
    for (auto& s : best_) s = index_[s];
    std::sort(best_.begin(), best_.end());
    return best_;
  }

 private:
  std::vector<std::size_t> greedy(Bits open) const {
    std::vector<std::size_t> out;
    while (count(open) != 0) {
      std::size_t best = 0, most = 0;
      for (std::size_t s = 0; s < sets_.size(); ++s)
        if (const std::size_t n = common(sets_[s], open); n > most) best = s, most = n;
      out.push_back(best);
      open = without(open, sets_[best]);
    }
    return out;
  }
  void go(const Bits& open, std::vector<std::size_t>& taken) {
    if (++nodes_ > most_) return;
    const std::size_t missing = count(open);
    if (missing == 0) {
      if (taken.size() < best_.size()) best_ = taken;
      return;
    }
    std::size_t largest = 0;
    for (const auto& s : sets_) largest = std::max(largest, common(s, open));
    if (taken.size() + (missing + largest - 1) / largest >= best_.size()) return;
    const std::size_t rarest = rarest_of(open);
    for (std::size_t s = 0; s < sets_.size(); ++s) {
      if (!has(sets_[s], rarest)) continue;
      taken.push_back(s);
      go(without(open, sets_[s]), taken);
      taken.pop_back();
    }
  }
  std::size_t rarest_of(const Bits& open) const {
    std::size_t found = 0, fewest = sets_.size() + 1;
    for (std::size_t e = 0; e < elements_; ++e) {
      if (!has(open, e)) continue;
      const auto n = static_cast<std::size_t>(std::count_if(sets_.begin(), sets_.end(), [&](const Bits& s) { return has(s, e); }));
      if (n < fewest) found = e, fewest = n;
    }
    return found;
  }

  std::vector<Bits> sets_;
  std::vector<std::size_t> index_;
  std::size_t elements_, most_, nodes_ = 0;
  std::vector<std::size_t> best_;
};

}  // namespace

Cover fewest(const std::vector<std::vector<std::size_t>>& lists, std::size_t elements, std::size_t most) {
  Cover out;
  const std::size_t words = elements / 64 + 1;
  std::vector<Bits> all;
  Bits open(words, 0);
  for (const auto& list : lists) {
    Bits bits(words, 0);
    for (const std::size_t e : list) set(bits, e);
    for (const std::size_t e : list) set(open, e);
    all.push_back(std::move(bits));
  }
  for (std::size_t e = 0; e < elements; ++e)
    if (!has(open, e)) out.left.push_back(e);
  // A set that lies inside another can be left out of the search; of equal ones the first stays.
  std::vector<Bits> sets;
  std::vector<std::size_t> index;
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool needless = count(all[i]) == 0;
    for (std::size_t k = 0; k < all.size() && !needless; ++k)
      needless = k != i && inside(all[i], all[k]) && (k < i || !inside(all[k], all[i]));
    if (needless) continue;
    sets.push_back(all[i]);
    index.push_back(i);
  }
  if (!sets.empty()) out.chosen = Search(std::move(sets), std::move(index), elements, most).run(open, out.exact);
  return out;
}

}  // namespace jambcheck::choose
