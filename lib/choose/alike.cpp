#include "choose/alike.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <string>
#include <unordered_map>

namespace jambcheck::choose {
namespace {

constexpr std::array<std::string_view, 8> kOfLists = {"quantity", "location", "floor", "type", "phase", "remarks", "ifc_guid", "space"};

void add(std::string& key, std::string_view text) {
  key += text;
  key += '\0';
}
void add(std::string& key, double value) {
  const auto bits = std::bit_cast<std::uint64_t>(value);
  key.append(reinterpret_cast<const char*>(&bits), sizeof bits);
}
void add(std::string& key, const opening::Facts& facts) {
  for (const auto& [path, f] : facts) {
    if (std::find(kOfLists.begin(), kOfLists.end(), path) != kOfLists.end()) continue;
    add(key, path);
    key += static_cast<char>('0' + static_cast<int>(f.kind));
    key += f.unknown ? '?' : '=';
    add(key, f.value);
    add(key, f.shown.name);
    add(key, f.word);
    add(key, static_cast<double>(f.list.size()));
    for (const double x : f.list) add(key, x);
  }
}

std::string key_of(const opening::Opening& o) {
  std::string key;
  add(key, o.facts);
  for (const auto& choice : o.choices) {
    add(key, choice.path);
    key += choice.range ? 'r' : 'l';
    for (const auto& option : choice.options) {
      add(key, option.text);
      add(key, option.facts);
    }
  }
  return key;
}

}  // namespace

std::span<const std::string_view> fields_of_lists() { return kOfLists; }

std::vector<std::vector<std::size_t>> alike(std::span<const opening::Opening* const> openings) {
  std::vector<std::vector<std::size_t>> out;
  std::unordered_map<std::string, std::size_t> place;
  for (std::size_t i = 0; i < openings.size(); ++i) {
    const auto [it, is_new] = place.try_emplace(key_of(*openings[i]), out.size());
    if (is_new) out.emplace_back();
    out[it->second].push_back(i);
  }
  return out;
}

}  // namespace jambcheck::choose
