#include "opening/split.h"

#include <algorithm>

namespace jambcheck::opening {
namespace {

constexpr std::string_view kTimes = "\u00D7";

/// How many bytes of a times sign stand at `at`; 0 when none does.
std::size_t times_at(std::string_view text, std::size_t at) {
  if (text[at] == 'x' || text[at] == 'X') return 1;
  if (text.substr(at, kTimes.size()) == kTimes) return kTimes.size();
  const bool word = text.substr(at, 4) == " by ";
  return word ? 4 : 0;
}

}  // namespace

Part trimmed(std::string_view text, std::size_t begin, std::size_t end) {
  while (begin < end && (text[begin] == ' ' || text[begin] == '\t')) ++begin;
  while (end > begin && (text[end - 1] == ' ' || text[end - 1] == '\t')) --end;
  return {text.substr(begin, end - begin), static_cast<std::uint32_t>(begin)};
}

std::vector<Part> split_at_times(std::string_view text) {
  std::vector<Part> parts;
  std::size_t begin = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t sign = times_at(text, at);
    if (sign != 0) {
      parts.push_back(trimmed(text, begin, at));
      begin = at + sign;
    }
    at += std::max<std::size_t>(sign, 1);
  }
  parts.push_back(trimmed(text, begin, text.size()));
  return parts;
}

units::Expected<units::Quantity> length_of(const Part& part) {
  auto length = units::parse_length(part.text);
  if (length) return length;
  text::Problem problem = length.error();
  if (problem.length == 0) problem.length = static_cast<std::uint32_t>(part.text.size());
  problem.offset += part.offset;
  return tl::unexpected(problem);
}

units::Expected<units::Quantity> signed_length(std::string_view text) {
  Part part = trimmed(text, 0, text.size());
  std::size_t sign = 0;
  for (const std::string_view dash : {"-", "+", "\u2212", "\u2013"})
    if (part.text.substr(0, dash.size()) == dash) sign = dash.size();
  const bool negative = sign != 0 && part.text.front() != '+';
  const auto length = length_of(trimmed(text, part.offset + sign, text.size()));
  if (!length || !negative) return length;
  return units::Quantity{-length->value, length->shown};
}

units::Dimension dimension_of(std::string_view unit) {
  const auto parsed = units::parse_unit(unit);
  return parsed ? parsed->dimension : units::Dimension{};
}

}  // namespace jambcheck::opening
