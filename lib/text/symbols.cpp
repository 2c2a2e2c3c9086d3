#include "text/symbols.h"

namespace jambcheck::text {

std::uint32_t Symbols::intern(std::string_view word) {
  const auto [it, fresh] = index_.emplace(std::string(word), static_cast<std::uint32_t>(words_.size()));
  if (fresh) words_.emplace_back(word);
  return it->second;
}

std::int64_t Symbols::find(std::string_view word) const {
  const auto it = index_.find(std::string(word));
  return it == index_.end() ? -1 : static_cast<std::int64_t>(it->second);
}

}  // namespace jambcheck::text
