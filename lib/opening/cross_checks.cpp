#include "opening/cross_checks.h"

#include <cmath>
#include <optional>

#include "opening/layers.h"
#include "units/quantity.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;

constexpr double kTolerance = 1e-6;  // in: sums of lengths that were written in different units

/// The fact that must be less than the other one.
struct Less {
  std::string_view path, than;
  MessageId id;
};
constexpr Less kLess[] = {
    {"guide.first", "height", MessageId::K015},
    {"guide.spacing", "height", MessageId::K015},
    {"guide.fastener.diameter", "guide.fastener.length", MessageId::K016},
    {"bracket.fastener.diameter", "bracket.fastener.length", MessageId::K016},
    {"buck.fastener.diameter", "buck.fastener.length", MessageId::K016},
    {"guide.edge", "jamb.width", MessageId::K022},
    {"guide.other_edge", "jamb.width", MessageId::K022},
    {"bracket.edge", "jamb.width", MessageId::K022},
    {"bracket.other_edge", "jamb.width", MessageId::K022},
    {"buck.edge", "buck.width", MessageId::K022},
};

/// The checks of an opening, or of one of its sides.
class Checker {
 public:
  Checker(const Opening& opening, std::optional<Side> side, text::Diagnostics& diagnostics)
      : opening_(opening),
        side_(side),
        prefix_(side ? std::string(word(*side)) + "." : ""),
        diagnostics_(diagnostics) {}

  void run() {
    for (const auto& less : kLess) check_less(less);
    check_edges("guide");
    check_edges("bracket");
    check_pattern();
    check_holes_on_plate();
    if (side_) return;
    check_windlocks();
    check_weights();
  }

 private:
  /// A fact with a value; remembers whether this opening, and this side, says anything of its own.
  const Fact* known(std::string_view path) {
    const Fact* found = side_ ? fact(opening_, path, *side_) : fact(opening_.facts, path);
    if (!found || found->unknown) return nullptr;
    own_ = own_ || found->origin == Origin::given;
    sided_ = sided_ || opening_.facts.count(prefix_ + std::string(path)) != 0;
    return found;
  }
  const Fact* number(std::string_view path) {
    const Fact* found = known(path);
    return found && found->kind == Fact::Kind::number ? found : nullptr;
  }
  void start() { own_ = sided_ = false; }
  /// Whether a contradiction of what was looked at is to be told here.
  [[nodiscard]] bool worth_telling() const { return own_ && sided_; }

  std::string label(std::string_view path) const {
    const bool sided = side_ && opening_.facts.count(prefix_ + std::string(path)) != 0;
    return opening_.mark + " " + (sided ? prefix_ : "") + std::string(path);
  }
  static std::string shown(const Fact& fact) {
    const bool tape = fact.shown.name == "in" || fact.shown.name == "ft";
    const std::string on_tape = tape ? units::tape(fact.value) : "~";
    return on_tape.front() == '~' ? units::show(fact.value, fact.shown) : on_tape;
  }

  void tell(MessageId id, const Fact& at, const text::Args& args, const Fact& other, std::string_view other_path) {
    auto& d = diagnostics_.add(id, at.place, args);
    d.other = other.place;
    d.other_note = std::string(other_path) + " is given here";
  }

  void check_less(const Less& less) {
    start();
    const Fact* a = number(less.path);
    const Fact* b = number(less.than);
    if (!a || !b || a->value < b->value || !worth_telling()) return;
    tell(less.id, *a, {label(less.path), shown(*a), std::string(less.than), shown(*b)}, *b, less.than);
  }

  void check_edges(const std::string& part) {
    start();
    const Fact* edge = number(part + ".edge");
    const Fact* other = number(part + ".other_edge");
    const Fact* width = number("jamb.width");
    if (!edge || !other || !width || !worth_telling()) return;
    if (edge->value >= width->value || other->value >= width->value) return;  // K022 has said it
    if (edge->value + other->value <= width->value + kTolerance) return;
    tell(MessageId::K037, *other, {label(part + ".other_edge"), shown(*edge), shown(*other), shown(*width)}, *width,
         "jamb.width");
  }

  void check_pattern() {
    start();
    const Fact* count = number("bracket.count");
    const Fact* columns = number("bracket.columns");
    const Fact* rows = number("bracket.rows");
    if (count && columns && rows && columns->value * rows->value != count->value && worth_telling())
      tell(MessageId::K009, *count,
           {label("bracket.count"), shown(*count), shown(*columns) + " columns x " + shown(*rows) + " rows",
            std::to_string(static_cast<long>(columns->value * rows->value))},
           *columns, "bracket.columns");
    start();
    count = number("bracket.count");
    const Fact* holes = known("bracket.holes");
    const std::size_t listed = holes ? holes->list.size() / 2 : 0;
    if (count && holes && static_cast<double>(listed) != count->value && worth_telling())
      tell(MessageId::K009, *count,
           {label("bracket.count"), shown(*count), "the holes of the list", std::to_string(listed)}, *holes,
           "bracket.holes");
  }

  void check_holes_on_plate() {
    start();
    const Fact* holes = known("bracket.holes");
    const Fact* left = number("bracket.plate_left");
    const Fact* bottom = number("bracket.plate_bottom");
    const Fact* width = number("bracket.plate.width");
    const Fact* height = number("bracket.plate.height");
    if (!holes || !left || !bottom || !width || !height || !worth_telling()) return;
    for (std::size_t i = 0; i + 1 < holes->list.size(); i += 2) {
      const double x = holes->list[i] - left->value, z = holes->list[i + 1] - bottom->value;
      if (x > 0 && x < width->value && z > 0 && z < height->value) continue;
      tell(MessageId::K028, *holes, {label("bracket.holes"), std::to_string(i / 2 + 1)}, *width, "bracket.plate");
    }
  }

  void check_windlocks() {
    start();
    sided_ = true;
    const Fact* locks = known("door.windlocks");
    const Fact* pull = number("door.windlock_pull");
    if (!locks || !pull || locks->word != "no" || pull->value == 0 || !own_) return;
    tell(MessageId::K021, *pull, {label("door.windlock_pull"), shown(*pull)}, *locks, "door.windlocks");
  }

  void check_weights() {
    start();
    const Fact* whole = number("door.weight");
    const Fact* barrel = number("door.barrel_weight");
    const Fact* curtain = number("door.curtain_weight");
    if (!whole || (!barrel && !curtain) || !own_) return;
    const double parts = (barrel ? barrel->value : 0) + (curtain ? curtain->value : 0);
    if (parts <= whole->value * (1 + kTolerance)) return;
    const Fact& part = barrel ? *barrel : *curtain;
    tell(MessageId::K039, *whole, {label("door.weight"), shown(*whole), units::show(parts, whole->shown)}, part,
         barrel ? "door.barrel_weight" : "door.curtain_weight");
  }

  const Opening& opening_;
  std::optional<Side> side_;
  std::string prefix_;
  text::Diagnostics& diagnostics_;
  bool own_ = false, sided_ = false;
};

}  // namespace

void check_contradictions(Opening& opening, text::Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.count(text::Severity::error);
  gap_from_layers(opening, diagnostics);
  Checker(opening, std::nullopt, diagnostics).run();
  Checker(opening, Side::left, diagnostics).run();
  Checker(opening, Side::right, diagnostics).run();
  opening.broken = opening.broken || diagnostics.count(text::Severity::error) != before;
}

}  // namespace jambcheck::opening
