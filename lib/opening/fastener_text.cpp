#include "opening/fastener_text.h"

#include <algorithm>

#include "opening/split.h"
#include "opening/words.h"
#include "rules/rule_set.h"
#include "text/number.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;
using text::Problem;
using units::Quantity;

constexpr double kThickestWithoutUnit = 2;  // in: more is a metric size whose mm were left out; common practice

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::uint32_t size_of(std::string_view text) { return static_cast<std::uint32_t>(text.size()); }

tl::unexpected<Problem> refuse(std::string_view whole, std::string why, const Part& at) {
  return tl::unexpected<Problem>(
      Problem{MessageId::K012, {"", std::string(whole), std::move(why)}, at.offset, size_of(at.text)});
}

/// Where the words end and the sizes begin.
std::size_t start_of_sizes(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size() && !is_digit(text[at]) && text[at] != '#' && text[at] != '.' &&
         static_cast<unsigned char>(text[at]) < 0x80)
    ++at;
  const std::size_t unknown = text.find("unknown");
  return std::min(at, unknown == std::string_view::npos ? text.size() : unknown);
}

/// Whether the part ends like a number, so that a unit is left out.
bool is_bare(const Part& part) {
  if (part.text.empty()) return false;
  if (is_digit(part.text.back())) return true;
  constexpr std::string_view kFractions[] = {"\u00BD", "\u00BC", "\u00BE", "\u215B", "\u215C", "\u215D", "\u215E"};
  return std::any_of(std::begin(kFractions), std::end(kFractions), [&](std::string_view fraction) {
    return part.text.size() >= fraction.size() && part.text.substr(part.text.size() - fraction.size()) == fraction;
  });
}

bool is_metric(const Part& part) {
  const std::string_view text = part.text;
  return !text.empty() && (text.back() == 'm') && !is_bare(part);
}

units::Expected<Quantity> size_in_inches_or_unit(const Part& part, bool may_be_bare) {
  if (!may_be_bare || !is_bare(part)) return length_of(part);
  const std::string with_unit = std::string(part.text) + " in";
  return length_of({with_unit, part.offset});
}

std::string kind_of(std::string_view words) {
  static const rules::RuleSet none;
  return choose(word_list("own:fastener_kind", none), words);
}

std::string kind_problem(const Part& words) {
  if (words.text.empty()) return "it does not begin with the kind of fastener";
  if (plain(words.text) == "anchor") return "which anchor: wedge, sleeve, screw, adhesive or expansion anchor?";
  if (plain(words.text) == "screw") return "which screw: lag, wood screw or tapping screw?";
  static const rules::RuleSet none;
  return "'" + std::string(words.text) + "' is no kind of fastener here; " +
         suggest_word(word_list("own:fastener_kind", none), words.text);
}

std::optional<int> screw_number(const Part& part) {
  if (part.text.size() < 2 || part.text.size() > 3 || part.text[0] != '#') return std::nullopt;
  int number = 0;
  for (const char c : part.text.substr(1)) {
    if (!is_digit(c)) return std::nullopt;
    number = number * 10 + (c - '0');
  }
  return number;
}

}  // namespace

units::Expected<FastenerText> parse_fastener(std::string_view text) {
  const std::size_t sizes = start_of_sizes(text);
  const Part words = trimmed(text, 0, sizes);
  FastenerText out;
  out.kind = kind_of(words.text);
  if (out.kind.empty() || words.text.empty())
    return refuse(text, kind_problem(words), words.text.empty() ? trimmed(text, 0, text.size()) : words);
  out.kind_at = {words.offset, size_of(words.text)};

  std::vector<Part> parts = split_at_times(text.substr(sizes));
  for (auto& part : parts) part.offset += static_cast<std::uint32_t>(sizes);
  if (parts.size() != 2)
    return refuse(
        text,
        parts.size() < 2 ? "diameter x length are wanted behind the kind" : "there is more than diameter x length",
        trimmed(text, sizes == text.size() ? 0 : sizes, text.size()));
  const Part& thick = parts[0];
  const Part& long_ = parts[1];
  for (const Part& part : parts)
    if (part.text.empty())
      return refuse(text, "the size before or behind the x is missing", trimmed(text, sizes, text.size()));
  out.diameter_at = {thick.offset, size_of(thick.text)};
  out.length_at = {long_.offset, size_of(long_.text)};

  out.number = screw_number(thick);
  if (!out.number && thick.text != "unknown") {
    const auto diameter = size_in_inches_or_unit(thick, !is_metric(long_));
    if (!diameter) return tl::unexpected(diameter.error());
    if (is_bare(thick) && diameter->value > kThickestWithoutUnit)
      return tl::unexpected(Problem{
          MessageId::K034, {"", std::string(thick.text), std::string(long_.text)}, thick.offset, size_of(thick.text)});
    out.diameter = *diameter;
  }
  if (long_.text != "unknown") {
    const auto length = size_in_inches_or_unit(long_, !is_metric(thick));
    if (!length) return tl::unexpected(length.error());
    out.length = *length;
  }
  return out;
}

}  // namespace jambcheck::opening
