#pragma once
// Words as numbers: a word of a file (a species, a state, a material) gets one index for the life of a rule set.
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace jambcheck::text {

class Symbols {
 public:
  std::uint32_t intern(std::string_view word);
  /// The index of a word that was interned before; -1 when it was not.
  [[nodiscard]] std::int64_t find(std::string_view word) const;
  [[nodiscard]] const std::string& word(std::uint32_t index) const { return words_[index]; }
  [[nodiscard]] std::size_t size() const { return words_.size(); }

 private:
  std::vector<std::string> words_;
  std::unordered_map<std::string, std::uint32_t> index_;
};

}  // namespace jambcheck::text
