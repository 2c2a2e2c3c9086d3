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
  // The fields of the pattern are shown as ... : the page is about the message, not about one case of it.
  const auto plain = [](std::string_view pattern) {
    std::string out;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
      if (pattern[i] == '{' && i + 2 < pattern.size() && pattern[i + 2] == '}') {
        out += "...";
        i += 2;
      } else {
        out += pattern[i];
      }
    }
    return out;
  };
  std::string out = fmt::format("{}: {}\n", entry->name, plain(entry->sentence));
  if (!entry->why.empty()) out += fmt::format("  why: {}\n", plain(entry->why));
  if (!entry->todo.empty()) out += fmt::format("  do:  {}\n", plain(entry->todo));
  return context.write(out);
}

}  // namespace jambcheck::cli
