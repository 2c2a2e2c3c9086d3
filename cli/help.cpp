// `jambcheck help Y003`: what a message means.
#include <fmt/format.h>

#include "cli/commands.h"
#include "text/suggest.h"

namespace jambcheck::cli {

Exit run_help(Context& context, const std::string& topic) {
  const text::MessageEntry* entry = text::find_entry(topic);
  if (!entry) {
    std::vector<std::string> known;
    for (const auto& e : text::catalogue()) known.emplace_back(e.name);
    const std::string nearest = text::nearest(topic, known);
    text::Diagnostics diagnostics;
    diagnostics.add(text::MessageId::L002, {}, {topic, nearest.empty() ? "Y003" : nearest});
    context.report(diagnostics);
    return Exit::usage;
  }
  // The fields are shown as ... : the page is about the message, not about one case of it.
  const text::Diagnostic plain = text::make(entry->id, {}, text::Args(9, "..."));
  std::string out = fmt::format("{}: {}\n", entry->name, plain.sentence);
  if (!plain.why.empty()) out += fmt::format("  why: {}\n", plain.why);
  if (!plain.todo.empty()) out += fmt::format("  do:  {}\n", plain.todo);
  return context.write(out);
}

}  // namespace jambcheck::cli
