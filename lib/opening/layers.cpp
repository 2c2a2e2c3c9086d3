#include "opening/layers.h"

#include <cmath>
#include <numeric>

#include "units/quantity.h"

namespace jambcheck::opening {
namespace {

constexpr double kSame = 1e-6;  // in: sums of lengths that were written in different units

Fact sum_of(const Fact& layers) {
  Fact gap;
  gap.kind = Fact::Kind::number;
  gap.value = std::accumulate(layers.list.begin(), layers.list.end(), 0.0);
  gap.shown = layers.shown;
  gap.place = layers.place;
  gap.origin = layers.origin;
  gap.from = layers.origin == Origin::copied ? layers.from : "";
  return gap;
}

void compare(Opening& opening, const std::string& label, const Fact& gap, const Fact& layers, text::Diagnostics& diagnostics) {
  const Fact sum = sum_of(layers);
  if (gap.unknown || std::fabs(gap.value - sum.value) <= kSame) return;
  auto& d = diagnostics.add(text::MessageId::K049, gap.place,
                            {opening.mark + " " + label, units::show(gap.value, gap.shown), units::show(sum.value, sum.shown), layers.word});
  d.other = layers.place;
  d.other_note = "the layers are given here";
  opening.broken = true;
}

}  // namespace

void gap_from_layers(Opening& opening, text::Diagnostics& diagnostics) {
  const Fact* layers[] = {fact(opening, "jamb.layers", Side::left), fact(opening, "jamb.layers", Side::right)};
  const Fact* gaps[] = {fact(opening, "gap", Side::left), fact(opening, "gap", Side::right)};
  const bool alike = layers[0] == layers[1] && gaps[0] == gaps[1];
  for (const Side side : {Side::left, Side::right}) {
    const std::size_t i = side == Side::left ? 0 : 1;
    if (!layers[i] || layers[i]->unknown || (alike && i == 1)) continue;
    const std::string path = alike ? "gap" : std::string(word(side)) + ".gap";
    if (gaps[i]) compare(opening, path, *gaps[i], *layers[i], diagnostics);
    else opening.facts[path] = sum_of(*layers[i]);
  }
}

}  // namespace jambcheck::opening
