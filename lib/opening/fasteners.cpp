// A fastener's text as facts: guide.fastener, .kind, .diameter, .length, .number.
#include "opening/fastener_text.h"
#include "opening/field_reader.h"
#include "text/number.h"

namespace jambcheck::opening {

using text::MessageId;
using yaml::Node;

namespace {

Fact unknown_at(const text::Place& place) {
  Fact fact = word_fact("", Fact::Kind::text, place);
  fact.unknown = true;
  return fact;
}

}  // namespace

void FieldReader::read_fastener(const Field& field, const Node& node, const Scope& scope) {
  const std::string label = scope.label(field.path);
  const auto parsed = parse_fastener(node.text);
  if (!parsed) {
    if (!cut_by_remark(node, label)) report(parsed.error(), node, label, "kind diameter x length, as  lag 3/8 x 3");
    return;
  }
  const std::string path(field.path);
  const auto at = [&](const Span& span) { return part_of(node, span.offset, span.length); };
  put(scope, path, word_fact(std::string(text::trim(node.text)), Fact::Kind::text, node.place));
  put(scope, path + ".kind", word_fact(parsed->kind, Fact::Kind::word, at(parsed->kind_at)));
  const auto size = [&](const char* name, const std::optional<units::Quantity>& quantity, const Span& span) {
    const Field* one = find_field(scope.level, path + name);
    if (!quantity) return put(scope, path + name, unknown_at(at(span))), void();
    const std::string written = node.text.substr(span.offset, span.length);
    if (quantity->value <= 0) return diagnostics_.add(MessageId::K005, at(span), {label, written}), void();
    if (one) check_usual(*one, quantity->value, written, at(span), label);
    put(scope, path + name, number_fact(quantity->value, quantity->shown, at(span)));
  };
  if (parsed->number)
    put(scope, path + ".number", number_fact(*parsed->number, {}, at(parsed->diameter_at)));
  else
    size(".diameter", parsed->diameter, parsed->diameter_at);
  size(".length", parsed->length, parsed->length_at);
}

/// `wood screw #12 x 3` without quotes: YAML takes everything from the # on as a remark.
bool FieldReader::cut_by_remark(const Node& node, const std::string& label) {
  if (node.quoted || !node.place.file) return false;
  const text::Place place =
      remark_that_is_a_number(*node.place.file, node.place.line, node.place.column - 1 + node.text.size());
  if (!place.known()) return false;
  const std::string_view line = text::line_of(*place.file, place.line);
  diagnostics_.add(MessageId::K032, place,
                   {label, node.text + " " + std::string(text::trim(line.substr(place.column - 1)))});
  return true;
}

text::Place remark_that_is_a_number(const text::SourceFile& file, std::uint32_t line_number, std::size_t from) {
  const std::string_view line = text::line_of(file, line_number);
  const std::size_t sign = from < line.size() ? line.find(" #", from) : std::string_view::npos;
  if (sign == std::string_view::npos || sign + 2 >= line.size() || line[sign + 2] < '0' || line[sign + 2] > '9')
    return {};
  return {&file, line_number, static_cast<std::uint32_t>(sign + 2), static_cast<std::uint32_t>(line.size() - sign - 1)};
}

}  // namespace jambcheck::opening
