// Every message of the catalogue, word for word, from a file that causes it:
//   project/NAME.yaml            jambcheck lint FILE
//   anchor/NAME.yaml             the same of a file of anchor data
//   rules/NAME/{rules,tables}    jambcheck rules --rules ... --tables ... : files added to the built-in ones
//   tests/NAME.yaml              jambcheck selftest FILE
//   cli/NAME.cli                 commands, as in tests/cli
// The text expected on standard error stands in NAME.txt or NAME/expected.txt; the exit code is 3.
// `test_bad --accept` rewrites them; read the difference before you keep it.
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "support/program.h"
#include "support/transcript.h"
#include "text/diagnostic.h"

namespace {

using namespace jambcheck::test;
namespace fs = std::filesystem;

struct BadFile {
  std::string name;
  std::string command;
  std::string expected;  ///< path
};

class Message : public ::testing::Test {
 public:
  Message(BadFile file, bool accept) : file_(std::move(file)), accept_(accept) {}
  void TestBody() override {
    const auto run = run_shell(file_.command);
    EXPECT_EQ(run.exit, 3) << file_.command << "\n" << run.out << run.err;
    if (accept_) return write_file(file_.expected, run.err);
    ASSERT_TRUE(fs::exists(file_.expected)) << file_.expected << " is missing; the program says\n" << run.err;
    EXPECT_EQ(read_file(file_.expected), run.err) << file_.command;
  }

 private:
  BadFile file_;
  bool accept_;
};

std::string from_root(const fs::path& path) { return fs::relative(path, source_dir()).generic_string(); }

std::vector<BadFile> bad_files() {
  const fs::path root = fs::path(source_dir()) / "tests" / "bad";
  std::vector<BadFile> out;
  const auto single = [&](const char* folder, const std::string& command) {
    for (const fs::path path : files_below(root / folder, ".yaml"))
      out.push_back({path.stem().string(), command + " " + from_root(path), fs::path(path).replace_extension(".txt").string()});
  };
  single("project", "jambcheck lint");
  single("anchor", "jambcheck lint");
  single("tests", "jambcheck selftest");
  for (const auto& entry : fs::directory_iterator(root / "rules")) {
    std::string command = "jambcheck rules";
    for (const char* part : {"rules", "tables"})
      if (fs::is_directory(entry.path() / part)) command += std::string(" --") + part + " " + from_root(entry.path() / part);
    out.push_back({entry.path().filename().string(), command, (entry.path() / "expected.txt").string()});
  }
  std::sort(out.begin(), out.end(), [](const BadFile& a, const BadFile& b) { return a.expected < b.expected; });
  return out;
}

TEST(Catalogue, EveryMessageIsShownByAFile) {
  std::string shown;
  for (const char* ending : {".txt", ".cli"})
    for (const auto& path : files_below(source_dir() + "/tests/bad", ending)) shown += read_file(path);
  for (const auto& entry : jambcheck::text::catalogue())
    EXPECT_NE(shown.find(" " + std::string(entry.name) + ": "), std::string::npos)
        << entry.name << " (" << entry.sentence << ") has no file under tests/bad";
}

TEST(Catalogue, WordsAreTheUsers) {
  for (const auto& entry : jambcheck::text::catalogue())
    for (const char* word : {"invalid", "std::", "null", "nullptr", "exception", "double", "string", "illegal"})
      for (const auto text : {entry.sentence, entry.why, entry.todo})
        EXPECT_EQ(text.find(word), std::string_view::npos) << entry.name << ": " << text;
}

}  // namespace

int main(int argc, char** argv) {
  const bool accept = take_flag(argc, argv, "--accept");
  ::testing::InitGoogleTest(&argc, argv);
  for (const auto& file : bad_files()) {
    const std::string name = replace_all(file.name, "-", "_");
    ::testing::RegisterTest("Message", name.c_str(), nullptr, nullptr, __FILE__, __LINE__,
                            [file, accept]() -> ::testing::Test* { return new Message(file, accept); });
  }
  for (const auto& path : files_below(source_dir() + "/tests/bad/cli", ".cli")) register_transcript("Message", path, accept);
  return RUN_ALL_TESTS();
}
