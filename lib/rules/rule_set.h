#pragma once
// All rules, tables, keys and documents of a run: loaded once, checked whole, then never changed.
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "rules/rule.h"
#include "text/source.h"
#include "text/symbols.h"

namespace jambcheck::rules {

struct Document {
  std::string id, title, body, edition, family;
  Evidence seen = Evidence::memory;
};

/// A quantity that rules and cases exchange: `fastener.diameter`. Declared in rules/keys.yaml or by a rule's output.
struct Key {
  std::string name;
  std::string say;
  std::string ask;   ///< the question to the user when it is missing
  std::string find;  ///< how to find out in the field
  bool is_word = false;
  std::vector<std::string> words;
  std::vector<std::pair<std::string, std::string>> aliases;  ///< other spelling -> word
  units::Unit unit;
  std::optional<units::Quantity> assumed;  ///< taken when nobody gives it, always told to the user
  std::string assumed_word;
  bool declared = false;  ///< in keys.yaml: a case may give it
  bool decides = false;    ///< a word that decides which rules apply
  std::size_t number = 0;  ///< its place among all keys, in the order of their names
  text::Place place;
  std::vector<std::pair<const Rule*, const Output*>> producers;
  std::vector<std::pair<const Rule*, const Input*>> consumers;
  [[nodiscard]] const std::string* canonical_word(std::string_view word) const;
};

/// The limit states that a case of some kind must have (rules/required.yaml).
struct Required {
  Formula when;
  bool beside = false;  ///< stands beside the fastening's own limit states; alone it covers nothing
  std::vector<const Rule*> rules;
  std::string say;
  text::Place place;
};

/// What a case has without anybody being asked, and what no case can be (rules/cases.yaml).
struct CaseHas {
  std::vector<std::string> keys;
  std::optional<Formula> when;  ///< absent: every case has them
};
struct CaseForms {
  std::vector<CaseHas> has;
  std::vector<Formula> never;
};

/// One load combination (rules/loads/combinations.yaml).
struct Combination {
  std::string id;
  std::string method;
  std::string duration;
  std::string say;
  std::vector<std::pair<std::string, double>> factors;  ///< "f_D" -> 1.2
  Clause clause;
};

struct Stamp {
  std::string path;
  std::uint64_t hash = 0;
};

/// What loading fills (lib/rules/loading.h); everyone else sees it through RuleSet.
struct RuleSetParts {
  std::vector<std::unique_ptr<Rule>> rules;  ///< in topological order
  std::map<std::string, std::unique_ptr<table::Table>, std::less<>> tables;
  std::map<std::string, Key, std::less<>> keys;
  std::unordered_map<std::string_view, const Key*> key_of_name;
  std::map<std::string, Document, std::less<>> documents;
  std::vector<Required> required;
  CaseForms cases;
  std::vector<Combination> combinations;
  text::Symbols symbols;
  std::vector<Stamp> stamps;
  std::vector<std::string> category_keys;
  std::vector<const Key*> assumed_words;
  std::vector<std::unique_ptr<std::vector<std::string>>> word_lists;
};

class RuleSet {
 public:
  [[nodiscard]] const std::vector<std::unique_ptr<Rule>>& rules() const { return parts_.rules; }
  [[nodiscard]] const Rule* rule(std::string_view id) const;
  [[nodiscard]] const std::map<std::string, std::unique_ptr<table::Table>, std::less<>>& tables() const { return parts_.tables; }
  [[nodiscard]] const table::Table* table(std::string_view id) const;
  [[nodiscard]] const std::map<std::string, Key, std::less<>>& keys() const { return parts_.keys; }
  [[nodiscard]] const Key* key(std::string_view name) const;
  [[nodiscard]] const std::map<std::string, Document, std::less<>>& documents() const { return parts_.documents; }
  [[nodiscard]] const std::vector<Required>& required() const { return parts_.required; }
  [[nodiscard]] const CaseForms& cases() const { return parts_.cases; }
  [[nodiscard]] const std::vector<Combination>& combinations() const { return parts_.combinations; }
  [[nodiscard]] const text::Symbols& symbols() const { return parts_.symbols; }
  [[nodiscard]] const std::vector<Stamp>& stamps() const { return parts_.stamps; }
  /// Word keys that decide which rules apply.
  [[nodiscard]] const std::vector<std::string>& category_keys() const { return parts_.category_keys; }
  /// Those of them that have a word where a case says none.
  [[nodiscard]] const std::vector<const Key*>& assumed_words() const { return parts_.assumed_words; }

 private:
  friend struct Loading;
  RuleSetParts parts_;
};

/// A folder and the name under which messages and papers speak of it: "rules" for the built-in one, so that a result
/// has the same bytes wherever the program stands.
struct Folder {
  std::string path;
  std::string label;
};

/// Folders to read; a later folder adds to the earlier ones and replaces rules and tables of the same id.
struct Folders {
  std::vector<Folder> rules;
  std::vector<Folder> tables;
};

/// Reads and checks everything; all problems are reported. Null when there was an error.
std::unique_ptr<const RuleSet> load(const Folders& folders, const program::NativeRegistry& solvers, text::SourceSet& sources,
                                    text::Diagnostics& diagnostics);

}  // namespace jambcheck::rules
