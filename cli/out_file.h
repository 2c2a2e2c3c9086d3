#pragma once
// Results that are written bit by bit: to standard output, or beside the file that they become when all is well.
#include <cstdio>
#include <filesystem>
#include <string>

namespace jambcheck::cli {

class OutFile {
 public:
  /// "" or "-": standard output.
  explicit OutFile(const std::string& path);
  ~OutFile();
  OutFile(const OutFile&) = delete;
  OutFile& operator=(const OutFile&) = delete;

  void write(const std::string& text);
  /// Closes, and gives the file its name; of a run that was stopped, NAME.incomplete.csv, so that nobody takes it for the
  /// whole. Empty when it worked, else what went wrong.
  std::string finish(bool complete);
  /// Where the result stands after finish(); "standard output" when it is no file.
  [[nodiscard]] std::string name() const;
  /// What went wrong so far.
  [[nodiscard]] const std::string& problem() const { return problem_; }

 private:
  std::filesystem::path target_, part_;
  std::FILE* file_ = nullptr;
  std::string problem_;
};

}  // namespace jambcheck::cli
