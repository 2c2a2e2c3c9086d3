#pragma once
// The shipped rules, and projects read against them, for tests of whole openings.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "opening/model.h"
#include "rules/rule_set.h"
#include "verdict/check.h"

namespace jambcheck {

/// Rules and tables are read once a test program, from the repository.
class Shipped : public ::testing::Test {
 protected:
  static void SetUpTestSuite();
  static const rules::RuleSet& set() { return *set_; }
  /// A project file, or the text of one; a project with errors fails the test.
  static opening::Project read(const std::string& path);
  static opening::Project read_text(const std::string& name, const std::string& content);
  static std::vector<const opening::Opening*> all(const opening::Project& project);
  static std::vector<verdict::OpeningResult> check(const opening::Project& project, int jobs = 1);
  static std::string content_of(const std::string& path);

  static const rules::RuleSet* set_;
};

/// `text` with its first `what` replaced; fails the test when there is none.
std::string with(std::string text, const std::string& what, const std::string& by);

/// What a project may say without any number hanging on it.
bool only_tells(const std::string& path);

}  // namespace jambcheck
