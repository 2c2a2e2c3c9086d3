// Numbers with units, and how they slip.
#include <cmath>

#include "opening/field_reader.h"
#include "opening/split.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using text::Problem;
using units::Expected;
using units::Quantity;
using yaml::Node;

namespace {

constexpr double kMostCounted = 1e6;

struct KindUnits {
  std::string unit;      ///< any unit of the right dimension
  std::string to_write;  ///< for "8 what?"
};
KindUnits units_of(const Field& field, const rules::RuleSet& rules) {
  switch (field.kind) {
    case FieldKind::amount: {
      const rules::Key* key = rules.key(field.words.substr(4));  // after "key:"
      const std::string unit = key ? key->unit.name : "1";
      return {unit, unit == "1" ? "nothing" : unit};
    }
    case FieldKind::length: return {"in", "in, ft, mm or another unit of length"};
    case FieldKind::weight: return {"lbf", "lb, kg, lbf or kN"};
    case FieldKind::pressure: return {"psf", "psf, psi, Pa or kPa"};
    case FieldKind::torque: return {"in-lbf", "ft-lb, in-lb or N-m"};
    case FieldKind::line_load: return {"lbf/ft", "lbf/ft, plf or kN/m"};
    case FieldKind::temperature: return {"degF", "degF or degC"};
    default: return {"1", "nothing"};
  }
}

/// Where "lb", "lbs" or "pounds" stands at the end of the text; its size when it does not.
std::size_t start_of_pounds(std::string_view text) {
  std::size_t end = text.size();
  while (end > 0 && ((text[end - 1] >= 'a' && text[end - 1] <= 'z') || (text[end - 1] >= 'A' && text[end - 1] <= 'Z')))
    --end;
  const std::string_view unit = text.substr(end);
  const bool before = end > 0 && (text[end - 1] == ' ' || (text[end - 1] >= '0' && text[end - 1] <= '9'));
  return before && (unit == "lb" || unit == "lbs" || unit == "pounds") ? end : text.size();
}

/// A weight may be written as a mass: lb and kg leave no doubt on a weight. The force is mass times standard gravity,
/// and one lbm weighs one lbf by definition.
Expected<Quantity> weight_of(std::string_view text) {
  const std::size_t pounds = start_of_pounds(text);
  const std::string readable = pounds == text.size() ? std::string(text) : std::string(text.substr(0, pounds)) + "lbf";
  auto quantity = units::parse_quantity(readable, units::Bare::refuse);
  if (!quantity) return quantity;
  if (pounds != text.size()) quantity->shown.name = "lb";
  const auto pound_mass = units::parse_unit("lbm");
  if (pound_mass && quantity->shown.dimension == pound_mass->dimension) {
    quantity->value = pound_mass->from_canonical(quantity->value);
    units::Unit& shown = quantity->shown;
    shown.factor /= pound_mass->factor;
    shown.top = shown.bottom = 0;
    shown.dimension = dimension_of("lbf");
  }
  return quantity;
}

Expected<Quantity> quantity_of(const Field& field, std::string_view text) {
  switch (field.kind) {
    case FieldKind::weight: return weight_of(text);
    case FieldKind::length:
      if (field.path == "gap" && text::trim(text) == "none") return units::parse_length("0 in");
      return field.sign == FieldSign::any ? signed_length(text) : units::parse_length(text);
    case FieldKind::count:
    case FieldKind::pure:
    case FieldKind::amount:
    case FieldKind::percent: return units::parse_quantity(text);
    default: return units::parse_quantity(text, units::Bare::refuse);
  }
}

bool is_whole(double value) { return value >= 1 && value <= kMostCounted && value == std::floor(value); }

/// The message for a number that this field can't be, or none.
std::optional<MessageId> number_problem(const Field& field, const Quantity& quantity) {
  if (field.kind == FieldKind::count && (!is_whole(quantity.value) || quantity.shown.name != "1"))
    return MessageId::K033;
  if (field.kind == FieldKind::percent && quantity.shown.name != "%") return MessageId::K035;
  if (field.kind == FieldKind::pressure && quantity.value < 0) return MessageId::K020;
  if (field.sign == FieldSign::positive && quantity.value <= 0) return MessageId::K005;
  if (field.sign == FieldSign::not_negative && quantity.value < 0) return MessageId::K042;
  return std::nullopt;
}

}  // namespace

void FieldReader::read_amount(const Field& field, const Node& node, const Scope& scope) {
  const std::string label = scope.label(field.path);
  const KindUnits kind = units_of(field, rules_);
  const auto quantity = quantity_of(field, node.text);
  if (!quantity) {
    report_amount(field, quantity.error(), node, label);
    return;
  }
  const auto value = units::convert(*quantity, dimension_of(kind.unit), label);
  if (!value) {
    report(value.error(), node, label, example(field));
    return;
  }
  const std::string written(text::trim(node.text));
  if (const auto problem = number_problem(field, *quantity)) {
    diagnostics_.add(*problem, node.place, {label, written});
    return;
  }
  check_usual(field, *value, written, node.place, label);
  Fact fact = number_fact(*value, quantity->shown, node.place);
  if (field.path == "width" || field.path == "height")
    put_or_compare(scope, field.path, fact, MessageId::K017, label);
  else if (field.name() == "guide_plate" || field.path == "guide.plate")
    put_or_compare(scope, "guide.plate", fact, MessageId::K019, label);
  else
    put(scope, field.path, fact);
}

void FieldReader::report_amount(const Field& field, Problem problem, const Node& node, const std::string& label) {
  if (field.kind == FieldKind::count || field.kind == FieldKind::percent) {
    diagnostics_.add(field.kind == FieldKind::count ? MessageId::K033 : MessageId::K035, node.place,
                     {label, node.text});
    return;
  }
  if (problem.id == MessageId::U010 && problem.args.size() > 1)
    problem.args[1] = std::string(units_of(field, rules_).to_write);
  // Only a weight may be a mass; everywhere else a pound is a force.
  if (problem.id == MessageId::U002 && problem.args.size() > 1 && problem.args[1].substr(0, 4) == "lbf ")
    problem.args[1] = "lbf";
  report(std::move(problem), node, label, example(field));
}

void FieldReader::check_usual(const Field& field, double value, const std::string& written, const text::Place& place,
                              const std::string& label) {
  const auto limit = [](std::string_view text) { return units::parse_quantity(text); };
  if (!field.least.empty())
    if (const auto least = limit(field.least); least && value < least->value)
      diagnostics_.add(MessageId::K023, place, {label, written, "less than " + std::string(field.least)});
  if (!field.most.empty())
    if (const auto most = limit(field.most); most && value > most->value)
      diagnostics_.add(MessageId::K023, place, {label, written, "more than " + std::string(field.most)});
}

}  // namespace jambcheck::opening
