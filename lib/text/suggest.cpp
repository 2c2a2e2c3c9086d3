#include "text/suggest.h"

#include <algorithm>
#include <cctype>

namespace jambcheck::text {
namespace {

/// Edits (insert, delete, replace, swap of neighbours) between two words, case ignored.
std::size_t distance(std::string_view a, std::string_view b) {
  const auto same = [](char x, char y) {
    return std::tolower(static_cast<unsigned char>(x)) == std::tolower(static_cast<unsigned char>(y));
  };
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i)
    for (std::size_t j = 1; j <= b.size(); ++j) {
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (same(a[i - 1], b[j - 1]) ? 0 : 1)});
      if (i > 1 && j > 1 && same(a[i - 1], b[j - 2]) && same(a[i - 2], b[j - 1]))
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[a.size()][b.size()];
}

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  std::string best;
  std::size_t least = std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const auto& candidate : candidates) {
    const std::size_t d = distance(word, candidate);
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

std::string suggestion(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string best = nearest(word, candidates);
  if (!best.empty()) return "did you mean " + best + "?";
  constexpr std::size_t kReadable = 24;  // a longer list is no help in a message
  if (candidates.size() > kReadable) return "none of the " + std::to_string(candidates.size()) + " known ones is near it";
  return "one of: " + join(candidates);
}

std::string join(const std::vector<std::string>& words, std::string_view separator) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i != 0) out += separator;
    out += words[i];
  }
  return out;
}

}  // namespace jambcheck::text
