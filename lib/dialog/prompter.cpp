#include "dialog/prompter.h"

#include <algorithm>
#include <istream>
#include <ostream>

#include <fmt/format.h>

#include "opening/field.h"
#include "opening/words.h"
#include "text/number.h"

namespace jambcheck::dialog {
namespace {

using opening::Field;
using opening::Level;

constexpr std::size_t kMostWords = 20;

const Field* field_of(const std::string& path) {
  if (const Field* field = opening::find_field(Level::each, path)) return field;
  return opening::find_field(Level::file, path);
}

}  // namespace

std::vector<std::string> Prompter::words_of(const std::string& path) const {
  const Field* field = field_of(path);
  if (!field || field->kind != opening::FieldKind::word) return {};
  auto words = opening::word_list(field->words, rules_).words;
  if (words.size() > kMostWords) words.clear();
  return words;
}

std::string Prompter::problem_of(const opening::Written& value) const {
  text::Diagnostics diagnostics;
  const bool mark = value.path == "mark";
  opening::read_written(mark ? std::vector<opening::Written>{value} : std::vector<opening::Written>{{"mark", "D-1", {}}, value}, "", {}, rules_, diagnostics);
  std::string out;
  for (const auto& d : diagnostics.all())
    if (d.severity == text::Severity::error) out += "  " + d.sentence + (d.todo.empty() ? "" : "; " + d.todo) + "\n";
  return out;
}

Prompter::Answer Prompter::ask(const std::string& path, const std::string& same) {
  const Field* field = field_of(path);
  const auto words = words_of(path);
  for (std::size_t i = 0; i < words.size(); ++i) out_ << (i == 0 ? "    " : "   ") << i + 1 << " " << words[i];
  if (!words.empty()) out_ << "\n";
  else if (field) out_ << "    " << opening::example(*field) << "\n";
  while (true) {
    out_ << "  " << path << (same.empty() ? "" : " [" + same + "]") << ": " << std::flush;
    std::string line;
    if (!std::getline(in_, line)) {
      out_ << "\n";
      stopped_ = true;
      return {};
    }
    std::string answer(text::trim(line));
    if (answer == "stop") {
      stopped_ = true;
      return {};
    }
    if (answer.empty() && same.empty()) return {Kind::skipped, {}};
    if (answer.empty()) answer = same;
    const auto number = text::parse_number(answer);
    if (number && *number >= 1 && *number <= static_cast<double>(words.size()) && *number == static_cast<double>(static_cast<std::size_t>(*number)))
      answer = words[static_cast<std::size_t>(*number) - 1];
    const opening::Written value{path, answer, {sources_.add("your answer", answer), 1, 1, static_cast<std::uint32_t>(answer.size())}};
    const std::string problem = problem_of(value);
    if (problem.empty()) return {answer == "unknown" ? Kind::unknown : Kind::value, value};
    out_ << problem;
  }
}

}  // namespace jambcheck::dialog
