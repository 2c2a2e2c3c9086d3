#include "support/program.h"

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace jambcheck::test {

namespace fs = std::filesystem;

const std::string& source_dir() {
  static const std::string dir = JAMBCHECK_SOURCE_DIR;
  return dir;
}

Run run_shell(const std::string& line, const std::string& scratch) {
  const ScratchFolder capture;
  const std::string out = capture.path() + "/out", err = capture.path() + "/err", script = capture.path() + "/script";
  write_file(script, "export NO_COLOR=1 T='" + scratch + "'\ncd '" + source_dir() + "'\njambcheck() { '" JAMBCHECK_PROGRAM "' \"$@\"; }\n" + line + "\n");
  const int status = std::system(("exec /bin/bash '" + script + "' >'" + out + "' 2>'" + err + "' </dev/null").c_str());
  Run run;
  run.out = read_file(out);
  run.err = replace_all(read_file(err), script, "bash");
  run.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return run;
}

std::string read_file(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("can't read " + path.string());
  std::ostringstream content;
  content << in.rdbuf();
  return content.str();
}

void write_file(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out << text;
  if (!out.flush()) throw std::runtime_error("can't write " + path.string());
}

std::vector<std::string> files_below(const fs::path& folder, const std::string& ending) {
  std::vector<std::string> found;
  if (!fs::is_directory(folder)) return found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const std::string name = entry.path().generic_string();
    if (entry.is_regular_file() && name.ends_with(ending)) found.push_back(name);
  }
  std::sort(found.begin(), found.end());
  return found;
}

ScratchFolder::ScratchFolder() {
  std::string pattern = (fs::temp_directory_path() / "jambcheck.XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no scratch folder");
  path_ = pattern;
}

ScratchFolder::~ScratchFolder() {
  std::error_code error;
  fs::permissions(path_, fs::perms::owner_all, error);
  fs::remove_all(path_, error);
}

bool take_flag(int& argc, char** argv, const std::string& flag) {
  for (int i = 1; i < argc; ++i)
    if (argv[i] == flag) {
      std::copy(argv + i + 1, argv + argc, argv + i);
      --argc;
      return true;
    }
  return false;
}

std::string replace_all(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  return text;
}

}  // namespace jambcheck::test
