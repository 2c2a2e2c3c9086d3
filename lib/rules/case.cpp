#include "rules/case.h"

#include <algorithm>
#include <limits>

namespace jambcheck::rules {

namespace {
constexpr std::size_t kRoom = 16;  // a load case has a dozen keys
}

std::vector<Case::Slot>::const_iterator Case::place_of(const Key& key) const {
  return std::lower_bound(slots_.begin(), slots_.end(), key.number, [](const Slot& slot, std::size_t number) { return slot.key->number < number; });
}

const Given* Case::find(const Key& key) const {
  const auto it = place_of(key);
  return it != slots_.end() && it->key == &key ? &values_[it->value] : nullptr;
}

const Given* Case::find(std::string_view name) const {
  const auto it = std::lower_bound(slots_.begin(), slots_.end(), name, [](const Slot& slot, std::string_view wanted) { return slot.key->name < wanted; });
  return it != slots_.end() && it->key->name == name ? &values_[it->value] : nullptr;
}

std::string Case::word(std::string_view name) const {
  const Given* given = find(name);
  return given && given->is_word && !given->unknown ? std::string(given->word) : std::string();
}

double Case::number(std::string_view name) const {
  const Given* given = find(name);
  return given && !given->is_word && !given->unknown ? given->value : std::numeric_limits<double>::quiet_NaN();
}

void Case::set(const Key& key, Given given) {
  const auto it = place_of(key);
  if (it != slots_.end() && it->key == &key) {
    values_[it->value] = std::move(given);
    return;
  }
  if (values_.empty()) {
    values_.reserve(kRoom);
    slots_.reserve(kRoom);
    slots_.push_back({&key, 0});
  } else {
    slots_.insert(it, {&key, static_cast<std::uint32_t>(values_.size())});
  }
  values_.push_back(std::move(given));
}

void Case::set(const Case& other) {
  for (const auto& [key, given] : other) set(key, given);
}

void Case::erase(const Key& key) {
  const auto it = place_of(key);
  if (it == slots_.end() || it->key != &key) return;
  const auto gone = it->value, last = static_cast<std::uint32_t>(values_.size() - 1);
  slots_.erase(it);
  if (gone != last) {
    // The last value moves to the place that is free now.
    std::find_if(slots_.begin(), slots_.end(), [&](const Slot& s) { return s.value == last; })->value = gone;
    values_[gone] = std::move(values_[last]);
  }
  values_.pop_back();
}

}  // namespace jambcheck::rules
