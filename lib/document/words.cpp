#include "document/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace jambcheck::document {
namespace {

bool begins_character(char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }

/// The first `n` characters.
std::string first_of(const std::string& text, std::size_t n) {
  std::size_t at = 0, seen = 0;
  while (at < text.size()) {
    if (begins_character(text[at]) && seen++ == n) break;
    ++at;
  }
  return text.substr(0, at);
}

}  // namespace

std::size_t columns(std::string_view text) { return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character)); }

std::vector<std::string> lines_of(const std::string& text, std::size_t width) {
  std::vector<std::string> out;
  std::string line;
  const auto flush = [&] {
    out.push_back(line);
    line.clear();
  };
  std::size_t at = 0;
  while (at <= text.size()) {
    const auto end = std::min(text.find_first_of(" \n", at), text.size());
    std::string piece = text.substr(at, end - at);
    if (!line.empty() && columns(line) + 1 + columns(piece) > width) flush();
    while (columns(piece) > width) {
      const std::string head = first_of(piece, width);
      out.push_back(head);
      piece = piece.substr(head.size());
    }
    if (!piece.empty()) line += (line.empty() ? "" : " ") + piece;
    if (end < text.size() && text[end] == '\n') flush();
    at = end + 1;
  }
  if (!line.empty() || out.empty()) flush();
  return out;
}

std::string wrapped(const std::string& text, std::size_t width, const std::string& indent) {
  std::string out;
  for (const auto& line : lines_of(text, width)) out += (out.empty() ? "" : "\n") + indent + line;
  return out;
}

std::string ratio_text(double ratio) {
  if (std::isnan(ratio)) return "--";
  if (std::isinf(ratio)) return "inf";
  std::string text = fmt::format("{:.2f}", ratio);
  // 1.00 of what is more or less than 1 would hide on which side it stands; the same tolerance as for states.
  constexpr double kTolerance = 1e-9;
  if (text == "1.00" && ratio > 1 + kTolerance) return "1.01";
  return text;
}

}  // namespace jambcheck::document
