#include "choose/alike.h"

#include <bit>
#include <cstdint>
#include <string>
#include <unordered_map>

#include "opening/field.h"

namespace jambcheck::choose {
namespace {

// Counts and lengths stand before what they count, so that no text can be taken for the end of another.
void add(std::string& key, std::uint64_t bits) { key.append(reinterpret_cast<const char*>(&bits), sizeof bits); }
void add(std::string& key, double value) { add(key, std::bit_cast<std::uint64_t>(value)); }
void add(std::string& key, std::string_view text) {
  add(key, std::uint64_t{text.size()});
  key += text;
}

void add(std::string& key, const opening::Facts& facts) {
  std::uint64_t count = 0;
  for (const auto& [path, f] : facts) count += opening::only_names(path) ? 0 : 1;
  add(key, count);
  for (const auto& [path, f] : facts) {
    if (opening::only_names(path)) continue;
    add(key, path);
    key += static_cast<char>('0' + static_cast<int>(f.kind));
    key += f.unknown ? '?' : '=';
    add(key, f.value);
    add(key, f.shown.name);
    add(key, f.word);
    add(key, std::uint64_t{f.list.size()});
    for (const double x : f.list) add(key, x);
  }
}

std::string key_of(const opening::Opening& o) {
  std::string key;
  add(key, o.facts);
  for (const auto& choice : o.choices) {
    add(key, choice.path);
    key += choice.range ? 'r' : 'l';
    add(key, std::uint64_t{choice.options.size()});
    for (const auto& option : choice.options) {
      add(key, option.text);
      add(key, option.facts);
    }
  }
  return key;
}

}  // namespace

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
