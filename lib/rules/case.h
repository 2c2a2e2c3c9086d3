#pragma once
// A case: what is said of the keys that rules read.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "rules/rule_set.h"

namespace jambcheck::rules {

/// A value that a case gives.
struct Given {
  double value = 0;  ///< canonical, or the symbol of a word
  bool is_word = false;
  bool unknown = false;  ///< the user wrote `unknown`
  std::string_view word;  ///< of the rule set
};

/// Keys with their values, in the order of their names. Cases are copied and walked far more often than they are built,
/// so the keys lie in one list and the values in another. The rule set of the keys must outlive it.
class Case {
 public:
  struct Entry {
    const Key& key;
    const Given& given;
  };
  class Iterator {
   public:
    Iterator(const Case& of, std::size_t at) : of_(&of), at_(at) {}
    Entry operator*() const { return {*of_->slots_[at_].key, of_->values_[of_->slots_[at_].value]}; }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    friend bool operator==(const Iterator&, const Iterator&) = default;

   private:
    const Case* of_;
    std::size_t at_;
  };

  [[nodiscard]] Iterator begin() const { return {*this, 0}; }
  [[nodiscard]] Iterator end() const { return {*this, slots_.size()}; }
  [[nodiscard]] std::size_t size() const { return slots_.size(); }

  /// Null when nothing is said of the key.
  [[nodiscard]] const Given* find(const Key& key) const;
  [[nodiscard]] const Given* find(std::string_view name) const;
  [[nodiscard]] Given* find(std::string_view name) { return const_cast<Given*>(static_cast<const Case&>(*this).find(name)); }
  [[nodiscard]] bool says(std::string_view name) const { return find(name) != nullptr; }
  /// Empty when there is none, or it is unknown.
  [[nodiscard]] std::string word(std::string_view name) const;
  /// Canonical; NaN when there is none, or it is unknown.
  [[nodiscard]] double number(std::string_view name) const;

  /// In place of what was said before.
  void set(const Key& key, Given given);
  /// All of another case; what it says counts.
  void set(const Case& other);
  void erase(const Key& key);

 private:
  struct Slot {
    const Key* key;
    std::uint32_t value;  ///< place in values_
  };
  [[nodiscard]] std::vector<Slot>::const_iterator place_of(const Key& key) const;

  std::vector<Slot> slots_;  ///< by number of the key
  std::vector<Given> values_;
};

}  // namespace jambcheck::rules
