#include "opening/cross_checks.h"

#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "opening/bracket_pattern.h"
#include "opening/layers.h"
#include "rules/cell.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;

constexpr double kTolerance = 1e-6;  // in: sums of lengths that were written in different units
constexpr double kTapeSlip = 0.25;   // in: what a tape may be off

/// The fact that must be less than the other one, or not more than it.
struct Less {
  std::string_view path, than;
  MessageId id;
  bool or_equal = false;
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
    {"guide.fastener.thread_length", "guide.fastener.length", MessageId::K050, true},
    {"bracket.fastener.thread_length", "bracket.fastener.length", MessageId::K050, true},
    {"buck.fastener.thread_length", "buck.fastener.length", MessageId::K050, true},
    {"guide.fastener.root_diameter", "guide.fastener.diameter", MessageId::K051},
    {"bracket.fastener.root_diameter", "bracket.fastener.diameter", MessageId::K051},
    {"buck.fastener.root_diameter", "buck.fastener.diameter", MessageId::K051},
};

/// The checks of an opening, or of one of its sides.
class Checker {
 public:
  Checker(const Opening& opening, std::optional<Side> side, const rules::RuleSet& rules, text::Diagnostics& diagnostics)
      : opening_(opening),
        side_(side),
        rules_(rules),
        prefix_(side ? std::string(word(*side)) + "." : ""),
        diagnostics_(diagnostics) {}

  void run() {
    for (const auto& less : kLess) check_less(less);
    check_edges("guide");
    check_edges("bracket");
    check_pattern();
    check_holes_on_plate();
    check_pattern_on_plate();
    check_nominal_size();
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
    if (!a || !b || !worth_telling()) return;
    if (a->value < b->value || (less.or_equal && a->value <= b->value + kTolerance)) return;
    tell(less.id, *a, {label(less.path), shown(*a), std::string(less.than), shown(*b)}, *b, less.than);
  }

  void check_edges(const std::string& part) {
    start();
    const Fact* edge = number(part + ".edge");
    const Fact* other = number(part + ".other_edge");
    const Fact* width = number("jamb.width");
    const Fact* size = width ? width : known("jamb.size");
    if (!edge || !other || !size || !worth_telling()) return;
    const double wide = width ? width->value : widest(*size);
    if (width && (edge->value >= wide || other->value >= wide)) return;  // K022 has said it
    if (std::isnan(wide) || edge->value + other->value <= wide + (width ? kTolerance : kTapeSlip)) return;
    tell(MessageId::K037, *other, {label(part + ".other_edge"), shown(*edge), shown(*other), units::tape(wide)}, *size,
         width ? "jamb.width" : "jamb.size");
  }

  // ---- nominal sizes
  /// "2x8" as two nominal lengths; NaN where the size is none of that form.
  static std::array<double, 2> nominal(const Fact& size) {
    constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
    const auto times = size.word.find('x');
    if (size.kind == Fact::Kind::number || times == std::string::npos) return {kNone, kNone};
    const auto a = text::parse_number_or_quotient(size.word.substr(0, times)), b = text::parse_number_or_quotient(size.word.substr(times + 1));
    return {a ? *a : kNone, b ? *b : kNone};
  }
  double dressed(const char* column, double nominal) const { return rules::cell(rules_, "wood.dressed_sizes", column, std::span(&nominal, 1)); }
  /// The wider side of the dressed piece; NaN when the table has no such size.
  double widest(const Fact& size) const {
    double out = std::numeric_limits<double>::quiet_NaN();
    for (const double side : nominal(size))
      for (const char* column : {"dimension", "timber"}) out = std::fmax(out, dressed(column, side));
    return out;
  }
  /// A measured thickness that is neither side of the nominal size is a slip in one of the two.
  void check_nominal_size() {
    start();
    const Fact* measured = number("jamb.thickness");
    const Fact* size = known("jamb.size");
    if (!measured || !size || !worth_telling() || std::isnan(widest(*size))) return;
    for (const double side : nominal(*size))
      for (const char* column : {"dimension", "timber"})
        if (std::fabs(dressed(column, side) - measured->value) <= kTapeSlip) return;
    tell(MessageId::K052, *measured, {label("jamb.thickness"), shown(*measured), size->word}, *size, "jamb.size");
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

  /// Holes that are told by count and distances stand in the middle of the plate.
  void check_pattern_on_plate() {
    start();
    const Fact* width = number("bracket.plate.width");
    const Fact* height = number("bracket.plate.height");
    for (const char* path : {"bracket.count", "bracket.columns", "bracket.rows", "bracket.across", "bracket.along"}) known(path);
    if (!width || !height || known("bracket.holes") || known("bracket.plate_left") || known("bracket.plate_bottom") || !worth_telling()) return;
    const Pattern pattern = bracket_pattern(opening_, side_.value_or(Side::left));
    for (std::size_t i = 0; i < pattern.holes.size(); ++i) {
      const PatternHole& hole = pattern.holes[i];
      if (2 * std::fabs(hole.x) < width->value && 2 * std::fabs(hole.z) < height->value) continue;
      const char* far = 2 * std::fabs(hole.x) < width->value ? "bracket.along" : "bracket.across";
      if (const Fact* at = number(far)) tell(MessageId::K028, *at, {label(far), std::to_string(i + 1)}, *width, "bracket.plate");
      return;
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
  const rules::RuleSet& rules_;
  std::string prefix_;
  text::Diagnostics& diagnostics_;
  bool own_ = false, sided_ = false;
};

}  // namespace

void check_contradictions(Opening& opening, const rules::RuleSet& rules, text::Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.count(text::Severity::error);
  gap_from_layers(opening, diagnostics);
  Checker(opening, std::nullopt, rules, diagnostics).run();
  Checker(opening, Side::left, rules, diagnostics).run();
  Checker(opening, Side::right, rules, diagnostics).run();
  opening.broken = opening.broken || diagnostics.count(text::Severity::error) != before;
}

}  // namespace jambcheck::opening
