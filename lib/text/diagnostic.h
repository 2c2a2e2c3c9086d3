#pragma once
// Messages: what is wrong, where, why it matters and what to do. All texts stand in messages.def.
#include <fmt/args.h>
#include <fmt/format.h>

#include <string>
#include <string_view>
#include <vector>

#include "text/source.h"

namespace jambcheck::text {

enum class Severity { note, warning, error };

/// One name per catalogue entry of messages.def, e.g. MessageId::Y003.
enum class MessageId {
#define JAMBCHECK_MESSAGE(id, severity, sentence, why, todo) id,
#include "text/messages.def"
#undef JAMBCHECK_MESSAGE
};

/// The catalogue entry of a message. `why` and `todo` may be empty; all three may hold {} fields.
struct MessageEntry {
  MessageId id;
  std::string_view name;
  Severity severity;
  std::string_view sentence;
  std::string_view why;
  std::string_view todo;
};
const MessageEntry& entry(MessageId id);
const std::vector<MessageEntry>& catalogue();
/// The entry called `name` ("Y003"), or null.
const MessageEntry* find_entry(std::string_view name);

struct Diagnostic {
  MessageId id;
  Severity severity;
  Place place;
  std::string sentence;
  std::string why;
  std::string todo;
  Place other;             ///< a second place, e.g. the other of two definitions
  std::string other_note;  ///< what stands there
};

/// Arguments of a message, filled into sentence, why and todo alike by position: {0}, {1}, ...
using Args = std::vector<std::string>;

/// A message whose place is not known yet: what a parser of a short text returns.
struct Problem {
  MessageId id;
  Args args;
  std::uint32_t offset = 0;  ///< where in the parsed text
  std::uint32_t length = 0;
};

Diagnostic make(MessageId id, const Place& place, const Args& args);

/// Collects messages; nothing stops at the first one.
class Diagnostics {
 public:
  /// Returns the new message so that a second place or a hint can be added to it.
  Diagnostic& add(MessageId id, const Place& place, const Args& args = {});
  Diagnostic& add(const Problem& problem, const Place& scalar_place);
  void append(const Diagnostics& other);
  void take(Diagnostic diagnostic) { all_.push_back(std::move(diagnostic)); }
  [[nodiscard]] bool has_errors() const;
  [[nodiscard]] std::size_t count(Severity severity) const;
  [[nodiscard]] const std::vector<Diagnostic>& all() const { return all_; }

 private:
  std::vector<Diagnostic> all_;
};

/// `file:line:column: error Y003: sentence`, the line with a caret under the place, why, what to do.
std::string render(const Diagnostic& diagnostic);
/// All of them, grouped by file in the order of the files, by line; warnings before errors of a file's end.
/// Nothing below `least` is printed.
std::string render(const Diagnostics& diagnostics, Severity least = Severity::note);

}  // namespace jambcheck::text
