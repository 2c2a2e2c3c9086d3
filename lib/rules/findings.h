#pragma once
// What the walk over the words finds, each once with all the cases it came up in.
#include <map>
#include <set>
#include <tuple>

#include "rules/complete.h"

namespace jambcheck::rules {

class Findings {
 public:
  void add(FindingKind kind, const std::string& subject, const std::string& other, const text::Place& place, const Words* when) {
    auto& entry = entries_[{kind, subject, other}];
    entry.place = place;
    if (when) entry.when.insert(*when);
  }
  [[nodiscard]] std::vector<Finding> all(const RuleSet& set) const {
    std::vector<Finding> out;
    for (const auto& [id, entry] : entries_) {
      const auto& [kind, subject, other] = id;
      out.push_back({kind, subject, other, fold(set, {entry.when.begin(), entry.when.end()}), entry.place});
    }
    return out;
  }

 private:
  struct Entry {
    text::Place place;
    std::set<Words> when;
  };
  std::map<std::tuple<FindingKind, std::string, std::string>, Entry> entries_;
};

}  // namespace jambcheck::rules
