// `jambcheck length`: how a length on the tape was understood, and the same in other units.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::cli {

Exit run_length(Context& context, const std::string& text) {
  const auto length = units::parse_length(text);
  if (!length) {
    text::Diagnostics diagnostics;
    diagnostics.add(length.error(), {context.sources().add("length", text), 1, 1, static_cast<std::uint32_t>(text.size())});
    context.report(diagnostics);
    return Exit::input;
  }
  const double inches = length->value;
  const auto mm = units::parse_unit("mm")->from_canonical(inches);
  if (context.options().json) {
    const nlohmann::ordered_json out = {{"text", text}, {"in", inches}, {"ft", inches / 12}, {"mm", mm}, {"tape", units::tape(inches)}};
    return context.write(out.dump(2) + "\n");
  }
  return context.write(fmt::format("{}\n  tape   {}   or {}\n  in     {}\n  ft     {}\n  mm     {}\n", text, units::tape(inches),
                                   units::tape_inches(inches), text::rounded(inches, 10), text::rounded(inches / 12, 10),
                                   text::rounded(mm, 10)));
}

}  // namespace jambcheck::cli
