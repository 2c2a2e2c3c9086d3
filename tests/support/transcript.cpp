#include "support/transcript.h"

#include <gtest/gtest.h>

#include <sstream>

#include "support/program.h"

namespace jambcheck::test {
namespace {

std::string with_prefix(const std::string& text, const std::string& prefix) {
  std::istringstream lines(text);
  std::string out;
  for (std::string line; std::getline(lines, line);) out += prefix + line + "\n";
  return out;
}

class Transcript : public ::testing::Test {
 public:
  Transcript(std::string path, bool accept) : path_(std::move(path)), accept_(accept) {}
  void TestBody() override {
    const std::string text = read_file(path_);
    ASSERT_NE(text.find("\n$ "), std::string::npos) << path_ << " has no command";
    const std::string now = replay(text);
    if (accept_ && now != text) write_file(path_, now);
    if (accept_) return;
    EXPECT_EQ(text, now) << path_ << "\n  look at the difference; --accept takes the new text over";
  }

 private:
  std::string path_;
  bool accept_;
};

}  // namespace

std::string replay(const std::string& text) {
  const ScratchFolder scratch;
  std::istringstream lines(text);
  std::string out, blanks;
  bool in_output = false;  // old output is dropped up to its [exit]
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("$ ")) {
      const Run run = run_shell(line.substr(2), scratch.path());
      std::string now = with_prefix(run.out, "") + with_prefix(run.err, "2> ");
      now = replace_all(replace_all(now, scratch.path(), "$T"), source_dir() + "/", "");
      out += line + "\n" + now + "[exit " + std::to_string(run.exit) + "]\n";
      in_output = true;
    } else if (in_output) {
      if (line.starts_with("[exit ")) in_output = false;
    } else {
      out += line + "\n";
    }
  }
  return out;
}

void register_transcript(const std::string& suite, const std::string& path, bool accept) {
  const std::string name = replace_all(std::filesystem::path(path).stem().string(), "-", "_");
  ::testing::RegisterTest(suite.c_str(), name.c_str(), nullptr, nullptr, __FILE__, __LINE__,
                          [path, accept]() -> ::testing::Test* { return new Transcript(path, accept); });
}

}  // namespace jambcheck::test
