// README.md and DEVELOPERS.md say what is true:
//   ```console      each line "$ command" is run; "..." alone on a line stands for any lines, inside a line for any text.
//                   Standard output comes first, then standard error. "build/jambcheck" is the program just built.
//   ```yaml         a block whose first line is "# file: rules/..." is written to a scratch folder; all of them together
//                   must load, and their tests must pass. "# file: cases/..." must be that file of the tree.
//   the table of fields between <!-- fields --> and <!-- /fields --> of README.md is made from lib/opening/fields.def;
//   `test_docs --accept` rewrites it.
// Nothing that a user can write or call may be missing: commands, fields, functions, schemas, folders.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "expr/tree.h"
#include "mechanics/solvers.h"
#include "opening/field.h"
#include "opening/words.h"
#include "rules/rule_set.h"
#include "support/program.h"
#include "text/suggest.h"

namespace {

using namespace jambcheck::test;
namespace fs = std::filesystem;
namespace opening = jambcheck::opening;

bool accept = false;

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string document(const std::string& name) { return read_file(fs::path(source_dir()) / name); }

/// A fenced block of a document.
struct Block {
  std::string kind;
  std::vector<std::string> lines;
  std::size_t line = 0;  ///< of its fence
};

std::vector<Block> blocks_of(const std::string& name) {
  std::vector<Block> blocks;
  bool inside = false;
  std::size_t number = 0;
  for (const auto& line : lines_of(document(name))) {
    ++number;
    if (line.starts_with("```")) {
      if (!inside) blocks.push_back({line.substr(3), {}, number});
      inside = !inside;
    } else if (inside) {
      blocks.back().lines.push_back(line);
    }
  }
  return blocks;
}

/// Whether `text` is `pattern`, where "..." stands for any text.
bool line_fits(std::string_view pattern, std::string_view text) {
  const auto dots = pattern.find("...");
  if (dots == std::string_view::npos) return pattern == text;
  if (text.substr(0, dots) != pattern.substr(0, dots)) return false;
  const std::string_view rest = pattern.substr(dots + 3);
  for (std::size_t at = dots; at <= text.size(); ++at)
    if (line_fits(rest, text.substr(at))) return true;
  return false;
}

/// The number of pattern lines that fit from the start; all of them when the output fits.
std::size_t fitting(const std::vector<std::string>& patterns, std::size_t p, const std::vector<std::string>& out, std::size_t o) {
  if (p == patterns.size()) return o == out.size() ? p : p - 1;
  if (patterns[p] != "...") return o < out.size() && line_fits(patterns[p], out[o]) ? fitting(patterns, p + 1, out, o + 1) : p;
  std::size_t best = p;
  for (std::size_t at = o; at <= out.size() && best < patterns.size(); ++at) best = std::max(best, fitting(patterns, p + 1, out, at));
  return best;
}

void check_console(const std::string& name) {
  for (const auto& block : blocks_of(name)) {
    if (block.kind != "console") continue;
    for (std::size_t i = 0; i < block.lines.size();) {
      ASSERT_TRUE(block.lines[i].starts_with("$ ")) << name << ":" << block.line << ": a console block begins with a command";
      const std::string command = replace_all(block.lines[i].substr(2), "build/jambcheck", "jambcheck");
      std::vector<std::string> wanted;
      for (++i; i < block.lines.size() && !block.lines[i].starts_with("$ "); ++i) wanted.push_back(block.lines[i]);
      const Run run = run_shell(command);
      const auto printed = lines_of(run.out + run.err);
      const std::size_t fit = fitting(wanted, 0, printed, 0);
      EXPECT_EQ(fit, wanted.size()) << name << ":" << block.line << ": " << command << "\n  does not print this any more: "
                                    << (fit < wanted.size() ? wanted[fit] : "") << "\n  it prints\n" << run.out << run.err;
    }
  }
}

TEST(Readme, CommandsPrintWhatItShows) { check_console("README.md"); }
TEST(Developers, CommandsPrintWhatItShows) { check_console("DEVELOPERS.md"); }

constexpr std::string_view kFile = "# file: ";

TEST(Readme, FilesItQuotesAreThoseOfTheTree) {
  std::size_t quoted = 0;
  for (const auto& block : blocks_of("README.md")) {
    if (block.lines.empty() || !block.lines[0].starts_with(std::string(kFile) + "cases/")) continue;
    std::string text;
    for (std::size_t i = 1; i < block.lines.size(); ++i) text += block.lines[i] + "\n";
    EXPECT_EQ(text, document(block.lines[0].substr(kFile.size()))) << block.lines[0];
    ++quoted;
  }
  EXPECT_GT(quoted, 0U);
}

TEST(Developers, ExamplesOfFilesLoadAndTheirTestsPass) {
  const ScratchFolder scratch;
  for (const auto& block : blocks_of("DEVELOPERS.md")) {
    if (block.lines.empty() || !block.lines[0].starts_with(kFile)) continue;
    std::string text;
    for (const auto& line : block.lines) text += line + "\n";
    write_file(fs::path(scratch.path()) / block.lines[0].substr(kFile.size()), text);
  }
  const auto loaded = run_shell("jambcheck rules --rules $T/rules --tables $T/tables", scratch.path());
  EXPECT_EQ(loaded.exit, 0) << loaded.err;
  const auto tests = run_shell("jambcheck selftest $T/tests --rules $T/rules --tables $T/tables", scratch.path());
  EXPECT_EQ(tests.exit, 0) << tests.out << tests.err;
  EXPECT_NE(tests.out.find(" 0 missed."), std::string::npos) << tests.out;
}

TEST(Developers, EverySchemaHasAnExample) {
  const std::string text = document("DEVELOPERS.md");
  for (const char* schema : {"rule/1", "table/1", "keys/1", "documents/1", "required/1", "combinations/1", "test/1"})
    EXPECT_NE(text.find("\nschema: " + std::string(schema) + "\n"), std::string::npos) << schema;
}

TEST(Developers, EveryFunctionOfTheFormulasIsListed) {
  const std::string text = document("DEVELOPERS.md");
  for (const auto& function : jambcheck::expr::functions())
    EXPECT_NE(text.find("`" + std::string(function.example) + "`"), std::string::npos) << function.name << ": write `" << function.example << "`";
}

TEST(Developers, EveryFolderIsOnTheMap) {
  const std::string text = document("DEVELOPERS.md");
  for (const char* part : {"lib", "tests"})
    for (const auto& entry : fs::directory_iterator(fs::path(source_dir()) / part)) {
      if (!entry.is_directory()) continue;
      EXPECT_NE(text.find(entry.path().filename().string() + "/"), std::string::npos) << entry.path();
    }
}

TEST(Readme, EveryCommandIsExplained) {
  const std::string readme = document("README.md");
  bool commands = false;
  for (const auto& line : lines_of(run_shell("jambcheck --help").out)) {
    if (line.starts_with("Subcommands:")) commands = true;
    else if (line.empty()) commands = false;
    else if (commands && line.starts_with("  ") && line[2] != ' ') {
      const std::string name = line.substr(2, line.find(' ', 2) - 2);
      EXPECT_NE(readme.find("`" + name + " "), std::string::npos) << name;
    }
  }
}

// ---- the table of fields

/// The words that may stand in a field, or where they are listed.
std::string words_of(const opening::Field& field, const jambcheck::rules::RuleSet& rules) {
  constexpr std::size_t kFew = 12;
  const auto list = opening::word_list(field.words, rules);
  if (list.words.empty()) return "a word";
  if (list.words.size() <= kFew) return "`" + jambcheck::text::join(list.words, "`, `") + "`";
  const bool species = field.words == "key:member.species";
  return "one of " + std::to_string(list.words.size()) + " words" + (species ? ": `jambcheck tables wood.specific_gravity`" : "");
}

/// "usually 2 ft to 60 ft": outside of it the reader asks whether it is right.
std::string usual(const opening::Field& field) {
  if (field.least.empty() && field.most.empty()) return "";
  if (field.least.empty()) return ", usually up to " + std::string(field.most);
  if (field.most.empty()) return ", usually from " + std::string(field.least);
  return ", usually " + std::string(field.least) + " to " + std::string(field.most);
}

std::string sample(const opening::Field& field, const jambcheck::rules::RuleSet& rules) {
  using opening::FieldKind;
  if (field.kind == FieldKind::word) return words_of(field, rules);
  if (field.kind == FieldKind::amount) {
    const auto* key = rules.key(field.words.substr(4));
    if (!key) return "amount" + usual(field);
    return (key->unit.name == "1" ? "number" : "amount in " + key->unit.name + " or alike") + usual(field);
  }
  const std::string text = opening::example(field);
  const auto at = text.find(" such as ");
  if (at == std::string::npos) return text + usual(field);
  switch (field.kind) {
    case FieldKind::length:
    case FieldKind::weight:
    case FieldKind::pressure:
    case FieldKind::torque:
    case FieldKind::line_load:
    case FieldKind::temperature:
    case FieldKind::pure:
    case FieldKind::count: return text.substr(text.find(' ') + 1, at - text.find(' ') - 1) + usual(field);
    default: return "`" + text.substr(at + 9) + "`";
  }
}

/// The fastener's own fields are the same three times: told once.
bool told_already(std::string_view path) { return path.starts_with("bracket.fastener.") || path.starts_with("buck.fastener."); }

std::string field_table(const jambcheck::rules::RuleSet& rules) {
  std::string out;
  for (const auto level : {opening::Level::file, opening::Level::each}) {
    out += level == opening::Level::file ? "**Once a file**\n\n" : "\n**For each opening, below `openings:`**\n\n";
    out += "| Field | What it is | Written as | Misspelt or left out |\n|---|---|---|---|\n";
    for (const auto& field : opening::fields()) {
      if (field.level != level || told_already(field.path)) continue;
      out += "| `" + std::string(field.path) + "` | " + std::string(field.say) + " | " + sample(field, rules) + " | " + std::string(field.why) + " |\n";
    }
  }
  return out;
}

TEST(Readme, TableOfFieldsIsTheProgramsOwn) {
  jambcheck::program::NativeRegistry solvers;
  jambcheck::mechanics::add_solvers(solvers);
  jambcheck::text::SourceSet sources;
  jambcheck::text::Diagnostics diagnostics;
  const auto rules = jambcheck::rules::load({{{source_dir() + "/rules", "rules"}}, {{source_dir() + "/tables", "tables"}}}, solvers, sources, diagnostics);
  ASSERT_TRUE(rules) << jambcheck::text::render(diagnostics);
  const std::string open = "<!-- fields -->\n", close = "<!-- /fields -->";
  const std::string readme = document("README.md");
  const auto from = readme.find(open), to = readme.find(close);
  ASSERT_NE(from, std::string::npos);
  ASSERT_NE(to, std::string::npos);
  const std::string table = field_table(*rules), now = readme.substr(0, from + open.size()) + table + readme.substr(to);
  if (accept) write_file(fs::path(source_dir()) / "README.md", now);
  else EXPECT_EQ(readme, now) << "test_docs --accept takes the fields over from lib/opening/fields.def";
}

}  // namespace

int main(int argc, char** argv) {
  accept = take_flag(argc, argv, "--accept");
  ::testing::InitGoogleTest(&argc, argv);
  return RUN_ALL_TESTS();
}
