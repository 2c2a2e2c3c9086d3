#include "text/diagnostic.h"

#include <algorithm>
#include <map>

namespace jambcheck::text {
namespace {

constexpr std::string_view word(Severity severity) {
  switch (severity) {
    case Severity::note: return "note";
    case Severity::warning: return "warning";
    case Severity::error: return "error";
  }
  return "";
}

std::string fill(std::string_view pattern, const Args& args) {
  fmt::dynamic_format_arg_store<fmt::format_context> store;
  for (const auto& arg : args) store.push_back(arg);
  return fmt::vformat(pattern, store);
}

/// The source line and a caret line under the place; empty when there is nothing to show.
std::string excerpt(const Place& place) {
  if (!place.file || place.line == 0) return "";
  const std::string_view line = line_of(*place.file, place.line);
  if (line.empty() || place.column == 0) return "";
  const std::size_t column = std::min<std::size_t>(place.column - 1, line.size());
  // Columns count bytes; a letter of several bytes takes one place on the screen.
  const auto starts_letter = [&](std::size_t i) { return (static_cast<unsigned char>(line[i]) & 0xC0) != 0x80; };
  std::string under;
  for (std::size_t i = 0; i < column; ++i)
    if (starts_letter(i)) under += line[i] == '\t' ? '\t' : ' ';
  under += '^';
  for (std::size_t i = column + 1; i < std::min<std::size_t>(column + place.length, line.size()); ++i)
    if (starts_letter(i)) under += '~';
  return fmt::format("{:>5} | {}\n      | {}\n", place.line, line, under);
}

}  // namespace

const std::vector<MessageEntry>& catalogue() {
  static const std::vector<MessageEntry> entries = {
#define JAMBCHECK_MESSAGE(id, severity, sentence, why, todo) \
  {MessageId::id, #id, Severity::severity, sentence, why, todo},
#include "text/messages.def"
#undef JAMBCHECK_MESSAGE
  };
  return entries;
}

const MessageEntry& entry(MessageId id) { return catalogue()[static_cast<std::size_t>(id)]; }

const MessageEntry* find_entry(std::string_view name) {
  for (const auto& e : catalogue())
    if (e.name == name) return &e;
  return nullptr;
}

Diagnostic make(MessageId id, const Place& place, const Args& args) {
  const MessageEntry& e = entry(id);
  return {id, e.severity, place, fill(e.sentence, args), fill(e.why, args), fill(e.todo, args), {}, {}};
}

Diagnostic& Diagnostics::add(MessageId id, const Place& place, const Args& args) {
  all_.push_back(make(id, place, args));
  return all_.back();
}

Diagnostic& Diagnostics::add(const Problem& problem, const Place& scalar_place) {
  const bool inside = problem.length != 0;
  return add(problem.id, inside ? scalar_place.within(problem.offset, problem.length) : scalar_place, problem.args);
}

void Diagnostics::append(const Diagnostics& other) { all_.insert(all_.end(), other.all_.begin(), other.all_.end()); }

bool Diagnostics::has_errors() const { return count(Severity::error) != 0; }

std::size_t Diagnostics::count(Severity severity) const {
  return static_cast<std::size_t>(
      std::count_if(all_.begin(), all_.end(), [&](const Diagnostic& d) { return d.severity == severity; }));
}

std::string render(const Diagnostic& d) {
  const std::string where = to_string(d.place);
  std::string out = fmt::format("{}{}{} {}: {}\n", where, where.empty() ? "" : ": ", word(d.severity),
                                entry(d.id).name, d.sentence);
  out += excerpt(d.place);
  if (d.other.known()) out += fmt::format("  {}: {}\n{}", to_string(d.other), d.other_note, excerpt(d.other));
  if (!d.why.empty()) out += fmt::format("  why: {}\n", d.why);
  if (!d.todo.empty()) out += fmt::format("  do:  {}\n", d.todo);
  return out;
}

std::string render(const Diagnostics& diagnostics, Severity least) {
  // Files in the order of their first message; inside a file by place; the worst last, where eyes rest.
  std::map<const SourceFile*, std::size_t> order;
  for (const auto& d : diagnostics.all()) order.emplace(d.place.file, order.size());
  std::vector<const Diagnostic*> sorted;
  for (const auto& d : diagnostics.all())
    if (d.severity >= least) sorted.push_back(&d);
  const auto key = [&](const Diagnostic* d) {
    return std::make_tuple(order[d->place.file], static_cast<int>(d->severity), d->place.line, d->place.column);
  };
  std::stable_sort(sorted.begin(), sorted.end(), [&](auto* a, auto* b) { return key(a) < key(b); });
  std::string out;
  for (const auto* d : sorted) out += render(*d);
  return out;
}

}  // namespace jambcheck::text
