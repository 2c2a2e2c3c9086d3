#pragma once
// One value asked for on a terminal: what it is, how it is written, again until it is understood.
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "opening/written.h"

namespace jambcheck::dialog {

class Prompter {
 public:
  Prompter(const rules::RuleSet& rules, text::SourceSet& sources, std::istream& in, std::ostream& out) : rules_(rules), sources_(sources), in_(in), out_(out) {}

  enum class Kind { value, unknown, skipped, stopped };
  struct Answer {
    Kind kind = Kind::stopped;
    opening::Written value;  ///< of a value, or the word unknown
  };
  /// Asks for a field until the answer is one; `stop` or the end of the input stops. A number picks one of the words.
  /// `same`: what an empty answer stands for; without it an empty answer skips.
  Answer ask(const std::string& path, const std::string& same = "");

  /// The words of a field, when it has a short list of them.
  [[nodiscard]] std::vector<std::string> words_of(const std::string& path) const;
  [[nodiscard]] bool stopped() const { return stopped_; }

 private:
  /// The message that says why the text is no such value, or empty.
  std::string problem_of(const opening::Written& value) const;

  const rules::RuleSet& rules_;
  text::SourceSet& sources_;
  std::istream& in_;
  std::ostream& out_;
  bool stopped_ = false;
};

}  // namespace jambcheck::dialog
