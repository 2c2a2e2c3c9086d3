#include "opening/moot.h"

namespace jambcheck::opening {
namespace {

constexpr auto kWritten = Decider::When::written;
constexpr auto kDiffers = Decider::When::differs;

constexpr Decider kDeciders[] = {
    {"jamb.kind", "jamb.", kDiffers},
    {"jamb.species", "jamb.specific_gravity", kDiffers},
    {"jamb.size", "jamb.thickness", kDiffers},
    {"jamb.size", "jamb.width", kDiffers},
    {"jamb.layers", "gap", kDiffers},
    {"gap", "jamb.layers", kDiffers},
    {"jamb.thickness", "jamb.size", kWritten},
    {"jamb.width", "jamb.size", kWritten},
    {"buck.kind", "buck.", kDiffers},
    {"buck.size", "buck.thickness", kDiffers},
    {"buck.size", "buck.width", kDiffers},
    {"door.windlocks", "door.windlock_pull", kDiffers},
    {"door.weight", "door.barrel_weight", kDiffers},
    {"door.weight", "door.curtain_weight", kDiffers},
    {"bracket.holes", "bracket.count", kWritten},
    {"bracket.holes", "bracket.columns", kWritten},
    {"bracket.holes", "bracket.rows", kWritten},
    {"bracket.holes", "bracket.across", kWritten},
    {"bracket.holes", "bracket.along", kWritten},
    {"bracket.count", "bracket.holes", kDiffers},
    {"bracket.columns", "bracket.holes", kDiffers},
    {"bracket.rows", "bracket.holes", kDiffers},
    {"bracket.across", "bracket.holes", kDiffers},
    {"bracket.along", "bracket.holes", kDiffers},
#define JAMBCHECK_FASTENER_DECIDERS(of)                                                                             \
  {of, of ".", kDiffers}, {of ".kind", of, kDiffers}, {of ".diameter", of, kDiffers}, {of ".number", of, kDiffers}, \
      {of ".length", of, kDiffers}, {of ".kind", of ".thread_length", kDiffers},                                    \
      {of ".kind", of ".data", kDiffers}, {of ".kind", of ".embedment", kDiffers},                                  \
      {of ".length", of ".embedment", kDiffers}, {of ".kind", of ".root_diameter", kDiffers},                       \
      {of ".kind", of ".tip", kDiffers},                                                                            \
      {of ".kind", of ".head", kDiffers}, {of ".diameter", of ".number", kWritten},                                 \
      {of ".diameter", of ".thread_length", kDiffers}, {of ".diameter", of ".root_diameter", kDiffers},             \
      {of ".diameter", of ".tip", kDiffers}, {of ".number", of ".diameter", kWritten},                              \
      {of ".number", of ".thread_length", kDiffers}, {of ".number", of ".root_diameter", kDiffers},                 \
      {of ".number", of ".tip", kDiffers}, {of ".length", of ".thread_length", kDiffers},
    JAMBCHECK_FASTENER_DECIDERS("guide.fastener") JAMBCHECK_FASTENER_DECIDERS("bracket.fastener")
        JAMBCHECK_FASTENER_DECIDERS("buck.fastener")
#undef JAMBCHECK_FASTENER_DECIDERS
};

bool is_moot_by(const Decider& decider, std::string_view path) {
  if (path == decider.field) return false;
  const bool below = decider.moot.back() == '.';
  return below ? path.substr(0, decider.moot.size()) == decider.moot : path == decider.moot;
}

}  // namespace

std::vector<const Decider*> deciders_of(std::string_view path) {
  std::vector<const Decider*> found;
  for (const auto& decider : kDeciders)
    if (is_moot_by(decider, path)) found.push_back(&decider);
  return found;
}

}  // namespace jambcheck::opening
