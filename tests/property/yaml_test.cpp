// The fast reader of plain files answers as the full reader does, places included, or not at all.
#include <gtest/gtest.h>

#include <random>

#include <fmt/format.h>

#include "support/program.h"
#include "yaml/readers.h"

namespace jambcheck {
namespace {

std::string dump(const yaml::Node& node) {
  std::string out = fmt::format("{}@{}:{}+{}{}'{}'", yaml::word(node.kind), node.place.line, node.place.column, node.place.length, node.quoted ? "q" : "", node.text);
  for (const auto& item : node.items) out += "[" + dump(item) + "]";
  for (const auto& entry : node.entries) out += "{" + dump(entry.key) + ": " + dump(entry.value) + "}";
  return out;
}

/// True when the fast reader answered.
bool same_as_full(const std::string& text) {
  const text::SourceFile file{"file", text, {}};
  const auto plain = yaml::read_plain(file);
  if (!plain) return false;
  text::Diagnostics diagnostics;
  const auto full = yaml::read_full(file, diagnostics);
  EXPECT_EQ(diagnostics.all().size(), 0U) << text::render(diagnostics) << "\n" << text;
  EXPECT_EQ(full.size(), 1U) << text;
  if (full.size() == 1) {
    EXPECT_EQ(dump(*plain), dump(full.front())) << text;
  }
  return true;
}

std::vector<std::string> our_files() {
  std::vector<std::string> out;
  for (const char* folder : {"/rules", "/tables", "/tests/published", "/cases"})
    for (const auto& path : test::files_below(test::source_dir() + folder, ".yaml")) out.push_back(path);
  return out;
}

TEST(PlainYaml, AllOurFilesAreReadAlike) {
  std::size_t plain = 0;
  const auto files = our_files();
  for (const auto& path : files) {
    const bool fast = same_as_full(test::read_file(path));
    plain += fast ? 1U : 0U;
  }
  EXPECT_GT(plain * 10, files.size() * 9) << "most files should take the fast way";
}

TEST(PlainYaml, DamagedFilesAreReadAlikeOrLeftToTheFullReader) {
  std::mt19937_64 random(17);
  const auto files = our_files();
  std::size_t answered = 0;
  for (int n = 0; n < 20000 && !::testing::Test::HasFailure(); ++n) {
    const std::string whole = test::read_file(files[random() % files.size()]);
    // A piece of whole lines: short pieces meet more of the odd cases in the same time.
    const auto begin = whole.find('\n', random() % whole.size());
    std::string text = begin == std::string::npos ? whole : whole.substr(begin + 1, 400);
    for (std::size_t slips = random() % 4; slips > 0 && !text.empty(); --slips) {
      const std::size_t at = random() % text.size();
      switch (random() % 4) {
        case 0: text[at] = "{}[]:,\"'\n #&*!|-0~?x=<>%@`"[random() % 26]; break;
        case 1: text.erase(at, 1 + random() % 6); break;
        case 2: text.insert(at, 1, "{}[]:,\"'\n #&*!|-0~?x "[random() % 22]); break;
        default: text.insert(at, text.substr(random() % text.size(), random() % 30)); break;
      }
    }
    answered += same_as_full(text) ? 1U : 0U;
  }
  EXPECT_GT(answered, 300U);
}

}  // namespace
}  // namespace jambcheck
