#pragma once
// Running the program as a user does, and the folders of the source tree.
#include <filesystem>
#include <string>
#include <vector>

namespace jambcheck::test {

struct Run {
  std::string out;
  std::string err;
  int exit = 0;
};

/// The root of the source tree, from which every test runs.
const std::string& source_dir();

/// Runs a shell line in the root of the source tree; `jambcheck` in it is the program just built. NO_COLOR is set,
/// $T is `scratch`.
Run run_shell(const std::string& line, const std::string& scratch = "/nonexistent");

std::string read_file(const std::filesystem::path& path);
void write_file(const std::filesystem::path& path, const std::string& text);

/// Files below `folder` with this ending, sorted.
std::vector<std::string> files_below(const std::filesystem::path& folder, const std::string& ending);

/// A folder that goes when this goes.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// True, and taken out of the arguments, when `flag` is among them.
bool take_flag(int& argc, char** argv, const std::string& flag);

std::string replace_all(std::string text, const std::string& from, const std::string& to);

}  // namespace jambcheck::test
