#pragma once
// The package for the one who reviews: answers first, then what they rest on, every number with its clause.
#include "document/document.h"
#include "papers/revision.h"
#include "papers/types.h"
#include "papers/working.h"

namespace jambcheck::papers {

/// Fastenings that do not hold at a type, and why.
struct Refusal {
  std::string part;    ///< guide, bracket
  std::string what;    ///< "sleeve anchor"
  std::string reason;
  std::size_t tried = 0;
  double least = 0;    ///< the least ratio among them; NaN: none has one
};

struct PackageOptions {
  document::Paper paper = document::Paper::letter;
  int digits = 4;
  std::vector<std::string> not_read;  ///< marks with errors
  std::string input;                  ///< the project file as it is
  Extent extent = Extent::deciding;   ///< which checks are worked out
  Revision revision;                  ///< against an older package, where one was given
  std::map<std::string, std::vector<Refusal>> refused;  ///< of each type by its letter; empty: not asked for
  int jobs = 0;  ///< threads; 0: one a core
};

document::Document package(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set,
                           verdict::Checker& checker, const PackageOptions& options);

/// What a package says, in short: rule files, and each opening and check with its numbers. Compared by `replay`.
std::string replay_record(const std::vector<verdict::OpeningResult>& results, const rules::RuleSet& set);

/// Differences between two records in words, one a line; empty when they say the same. `problem` when one is no record.
std::vector<std::string> compare_records(const std::string& before, const std::string& now, std::string& problem);

constexpr const char* kInputName = "project.yaml";
constexpr const char* kRecordName = "record.json";

}  // namespace jambcheck::papers
