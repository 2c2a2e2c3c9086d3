#include "units/unit_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "text/suggest.h"
#include "units/unit.h"

namespace jambcheck::units {
namespace {

constexpr Ratio of(long double top, long double bottom = 1) {
  Ratio out;
  out.top = top;
  out.bottom = bottom;
  return out;
}
constexpr Ratio operator*(const Ratio& a, int b) { return a * of(b); }
constexpr Ratio operator/(const Ratio& a, int b) { return a / of(b); }

// Exact by definition: the inch and the pound of 1959 in SI units, and the standard acceleration of gravity of 1901.
constexpr Ratio kInchInMetres = of(254, 10000);
constexpr Ratio kPoundInKilograms = of(45359237, 100000000);
constexpr Ratio kGravity = of(980665, 100000);  // m/s^2
constexpr Ratio kPi = of(3.14159265358979323846264338327950288L);

// Canonical: in, lbf, s.
constexpr Ratio kOne;
constexpr Ratio kMetre = kOne / kInchInMetres;
constexpr Ratio kNewton = kOne / (kPoundInKilograms * kGravity);
constexpr Ratio kPascal = kNewton * kInchInMetres * kInchInMetres;
constexpr Ratio kKilogram = kNewton * kInchInMetres;
constexpr Ratio kPoundMass = kInchInMetres / kGravity;

struct NamedQuantity {
  std::string_view words;
  Dimension dimension;
};

enum class QuantityId {
#define JAMBCHECK_QUANTITY(id, words, length, force, time, temperature, angle) id,
#include "units/unit_list.def"
};

constexpr std::array kQuantities = {
#define JAMBCHECK_QUANTITY(id, words, length, force, time, temperature, angle) \
  NamedQuantity{words, Dimension{{Exponent(length), Exponent(force), Exponent(time), Exponent(temperature),    \
                                  Exponent(angle)}}},
#include "units/unit_list.def"
};

constexpr const NamedQuantity& quantity(QuantityId id) { return kQuantities[static_cast<std::size_t>(id)]; }

constexpr std::array kUnits = {
#define JAMBCHECK_UNIT(kind, name, factor, offset, meaning) \
  ListedUnit{name, factor, offset, quantity(QuantityId::kind).dimension, quantity(QuantityId::kind).words, meaning},
#include "units/unit_list.def"
};

constexpr const ListedUnit* unit_named(std::string_view name) {
  for (const auto& unit : kUnits)
    if (unit.name == name) return &unit;
  return nullptr;
}

constexpr bool before(const Spelling& a, const Spelling& b) { return a.text < b.text; }

constexpr auto sorted_spellings() {
  std::array spellings = {
#define JAMBCHECK_UNIT(kind, name, factor, offset, meaning) Spelling{name, unit_named(name), {}},
#define JAMBCHECK_SPELLING(spelling, name) Spelling{spelling, unit_named(name), {}},
#define JAMBCHECK_REFUSED(spelling, what_to_write) Spelling{spelling, nullptr, what_to_write},
#include "units/unit_list.def"
  };
  std::sort(spellings.begin(), spellings.end(), before);
  return spellings;
}

constexpr auto kSpellings = sorted_spellings();

constexpr bool each_once() {
  for (std::size_t i = 1; i < kSpellings.size(); ++i)
    if (!before(kSpellings[i - 1], kSpellings[i])) return false;
  return true;
}
static_assert(each_once(), "a spelling stands twice in unit_list.def");

constexpr bool each_read_or_refused() {
  for (const auto& spelling : kSpellings)
    if (spelling.unit == nullptr && spelling.instead.empty()) return false;
  return true;
}
static_assert(each_read_or_refused(), "a JAMBCHECK_SPELLING names no unit of the list");

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_letters(std::string_view a, std::string_view b) {
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

}  // namespace

const Spelling* find_spelling(std::string_view text) {
  const auto found = std::lower_bound(kSpellings.begin(), kSpellings.end(), Spelling{text, nullptr, {}}, before);
  return found != kSpellings.end() && found->text == text ? &*found : nullptr;
}

std::string_view same_but_for_case(std::string_view text) {
  for (const auto& spelling : kSpellings)
    if (spelling.unit != nullptr && same_letters(spelling.text, text)) return spelling.text;
  return {};
}

std::string unit_suggestion(std::string_view text) {
  // One letter is one slip away from every other letter, and a long text is no misspelt unit: no guess for either.
  constexpr std::size_t kShortest = 2, kLongest = 12;
  std::vector<std::string> names;
  for (const auto& unit : kUnits) names.emplace_back(unit.name);
  if (text.size() < kShortest || text.size() > kLongest) return "one of: " + text::join(names);
  return text::suggestion(text, names);
}

const std::vector<UnitRow>& unit_list() {
  static const std::vector<UnitRow> rows = [] {
    std::vector<UnitRow> out;
    for (const auto& unit : kUnits)
      out.push_back({unit.name, unit.meaning, static_cast<double>(unit.factor.value()), unit.offset, unit.quantity,
                     unit.dimension});
    return out;
  }();
  return rows;
}

std::string describe(const Dimension& dimension) {
  for (const auto& named : kQuantities) {
    if (named.dimension != dimension) continue;
    const std::string formula = to_string(dimension);
    return formula == named.words ? formula : fmt::format("{} ({})", named.words, formula);
  }
  return to_string(dimension);
}

}  // namespace jambcheck::units
