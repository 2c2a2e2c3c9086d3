#include "text/number.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>

namespace jambcheck::text {

std::optional<double> parse_number(std::string_view text) {
  text = trim(text);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  if (text.empty()) return std::nullopt;
  for (const char c : text)
    if (!std::isdigit(static_cast<unsigned char>(c)) && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E')
      return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<double> parse_number_or_quotient(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) return parse_number(text);
  const auto whole = [](std::string_view part) {
    part = trim(part);
    return !part.empty() &&
           std::all_of(part.begin(), part.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
  };
  const auto top = trim(text.substr(0, slash)), bottom = trim(text.substr(slash + 1));
  if (!whole(top) || !whole(bottom)) return std::nullopt;
  const auto n = parse_number(top), d = parse_number(bottom);
  if (!n || !d || *d == 0) return std::nullopt;
  return *n / *d;
}

std::string shortest(double value) { return fmt::format("{}", value); }

std::string rounded(double value, int digits) {
  if (!std::isfinite(value)) return std::isnan(value) ? "no value" : value > 0 ? "unlimited" : "-unlimited";
  if (value == 0) return "0";
  const double size = std::fabs(value);
  if (size < 1e-4 || size >= 1e9) return fmt::format("{:.{}g}", value, digits);
  const int before = static_cast<int>(std::floor(std::log10(size))) + 1;
  std::string out = fmt::format("{:.{}f}", value, std::max(0, digits - before));
  if (out.find('.') != std::string::npos) {
    out.erase(out.find_last_not_of('0') + 1);
    if (out.back() == '.') out.pop_back();
  }
  return out == "-0" ? "0" : out;
}

std::string_view trim(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace jambcheck::text
