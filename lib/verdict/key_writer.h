#pragma once
// Inside of verdict: facts of one side of an opening written as keys of a case.
#include <string>

#include "opening/model.h"
#include "rules/judge.h"

namespace jambcheck::verdict {

class KeyWriter {
 public:
  /// All three must outlive it.
  KeyWriter(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set,
            opening::Side side)
      : project_(project), opening_(opening), set_(set), side_(side), sided_(opening::says_of(opening, side)) {}

  /// The fact that holds on this side, or null.
  [[nodiscard]] const opening::Fact* find(const std::string& path) const;
  /// A fact of the project, or null.
  [[nodiscard]] const opening::Fact* find_shared(const std::string& path) const {
    return opening::fact(project_.facts, path);
  }
  [[nodiscard]] const rules::RuleSet& rule_set() const { return set_; }
  static bool known(const opening::Fact* f) { return f && !f->unknown; }

  /// Nothing is written where there is no fact, or its word is none of the key's.
  void set_in(rules::Case& values, const std::string& key, const opening::Fact* f) const;
  void set_word(rules::Case& values, const std::string& key, const std::string& word) const;
  /// The symbol of a key's word, in any of its spellings; NaN when it is none of them.
  [[nodiscard]] double symbol_of(const std::string& key, const std::string& word) const;
  /// `value` is canonical.
  void set_number(rules::Case& values, const std::string& key, double value) const;
  /// Nothing is known of the key, though there is a place for it.
  void set_unknown(rules::Case& values, const std::string& key) const;

  /// Whether pressures are worked out from the wind speed: only where none is given.
  [[nodiscard]] bool speed() const;
  /// Guides between the jambs.
  [[nodiscard]] bool is_between() const;

 protected:
  const opening::Project& project_;
  const opening::Opening& opening_;
  const rules::RuleSet& set_;
  opening::Side side_;
  bool sided_;  ///< something is said of this side alone
};

}  // namespace jambcheck::verdict
