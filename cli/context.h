#pragma once
// What every command shares: where rules and tables are, how results and talk leave the program, exit codes.
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "program/native.h"
#include "rules/rule_set.h"
#include "text/diagnostic.h"

namespace jambcheck::cli {

/// Documented in README.md; the same for every command.
enum class Exit : int { holds = 0, short_ = 1, usage = 2, input = 3, open = 4, file = 5, broken = 6, stopped = 130 };

struct Options {
  std::vector<std::string> rules;   ///< --rules: folders added after the built-in ones
  std::vector<std::string> tables;  ///< --tables
  std::string out;                  ///< -o; empty or "-": standard output
  bool json = false;
  bool quiet = false;
  bool verbose = false;
  int digits = 4;
  int jobs = 0;                     ///< 0: as many as the machine has
  char** command_line = nullptr;    ///< as main got it
};

class Context {
 public:
  explicit Context(Options options) : options_(std::move(options)) {}
  [[nodiscard]] const Options& options() const { return options_; }

  /// The rule set, loaded on first use; prints the problems and returns null when there are errors.
  const rules::RuleSet* rule_set();
  /// Reads a file into the source set; prints what is wrong and returns null when it can't.
  const text::SourceFile* read(const std::string& path);
  /// Writes to -o or standard output. A file is written beside itself and then renamed: a failure never harms the old one.
  Exit write(const std::string& text);
  /// Messages go to standard error.
  void report(const text::Diagnostics& diagnostics, bool notes = true);
  /// Whether a file or folder could not be read.
  [[nodiscard]] bool unreadable() const { return unreadable_; }
  void say(const std::string& line) const;

  text::SourceSet& sources() { return sources_; }
  /// The folder of the shipped tests.
  [[nodiscard]] std::string selftest_folder() const;

 private:
  Options options_;
  text::SourceSet sources_;
  program::NativeRegistry solvers_;
  /// Null when --rules or --tables are given, or the files beside the program say something else.
  const rules::RuleSet* built_in_rules(const std::string& root);
  const rules::RuleSet* read_rules(const std::filesystem::path& root);

  std::unique_ptr<const rules::RuleSet> rules_;  ///< when they were read
  const rules::RuleSet* set_ = nullptr;
  bool tried_ = false;
  bool unreadable_ = false;
};

/// Writes `text` to `path` by way of a temporary file; empty when it worked, else what went wrong.
std::string write_file(const std::string& path, const std::string& text);

}  // namespace jambcheck::cli
