#pragma once
// One opening by questions: only what the checks turn out to need, one at a time, the most useful first.
#include <iosfwd>
#include <set>
#include <string>
#include <vector>

#include "dialog/prompter.h"
#include "verdict/check.h"

namespace jambcheck::dialog {

class Interview {
 public:
  /// `given`: what is known before the first question; it must be free of errors.
  Interview(const rules::RuleSet& rules, std::vector<opening::Written> given);

  /// Asks until nothing is left to ask, the answer is SHORT, or the user stops. Reads lines from `in`, talks on `out`.
  void run(std::istream& in, std::ostream& out);
  /// Adds to the questions that remain what their answers would give.
  void finish();

  [[nodiscard]] const verdict::OpeningResult& result() const { return result_; }
  [[nodiscard]] const std::vector<opening::Written>& values() const { return values_; }
  [[nodiscard]] const opening::Project& project() const { return *read_.shared; }
  [[nodiscard]] std::size_t asked() const { return asked_; }

 private:
  /// A question of the result with the fields that would answer it and are not given yet.
  struct Open {
    verdict::Question question;
    std::vector<std::string> fields;
  };
  std::string check();
  [[nodiscard]] std::vector<Open> open_questions() const;
  [[nodiscard]] std::vector<std::string> whole_fasteners(const std::vector<std::string>& fields) const;
  [[nodiscard]] double use_of(const verdict::Question& question) const;
  void ask(Open open, Prompter& prompter, std::ostream& out);
  void ask_fields(const Open& open, Prompter& prompter);
  [[nodiscard]] std::string what_answers_give(verdict::Question& question);
  [[nodiscard]] std::string standing() const;

  const rules::RuleSet& rules_;
  verdict::Checker checker_;
  opening::Project nothing_;
  std::vector<opening::Written> values_;
  opening::OneOpening read_;
  verdict::OpeningResult result_;
  std::set<std::string> done_;  ///< keys asked for: nothing is asked twice
  std::size_t asked_ = 0;
};

/// The fields that answer a question, where the result names none: a key that comes out of a field in words.
std::vector<std::string> fields_for(const verdict::Question& question);

}  // namespace jambcheck::dialog
