#include "cli/context.h"

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "bundle/bundle.h"
#include "mechanics/solvers.h"

namespace jambcheck::cli {
namespace {

namespace fs = std::filesystem;
using text::MessageId;

/// The folder that holds rules/ and tables/: beside an installed binary, or the source tree of a build folder.
fs::path data_root() {
  std::error_code error;
  const fs::path here = fs::read_symlink("/proc/self/exe", error).parent_path();
  for (const fs::path& root : {here / ".." / "share" / "jambcheck", here / "..", here})
    if (fs::is_directory(root / "rules", error) && fs::is_directory(root / "tables", error)) return root.lexically_normal();
  return here;
}

}  // namespace

const rules::RuleSet* Context::rule_set() {
  if (tried_) return set_;
  tried_ = true;
  mechanics::add_solvers(solvers_);
  const fs::path root = data_root();
  set_ = built_in_rules(root.string());
  if (!set_) set_ = read_rules(root);
  return set_;
}

const rules::RuleSet* Context::built_in_rules(const std::string& root) {
  if (!options_.rules.empty() || !options_.tables.empty()) return nullptr;
  const auto built_in = bundle::built_in(solvers_, root);
  if (built_in.beside == bundle::Beside::different)
    say((fs::path(root) / built_in.first).string() + " is not what is built into this program: the answers come from the files. If you changed none, install the program again.");
  return built_in.set;
}

const rules::RuleSet* Context::read_rules(const fs::path& root) {
  rules::Folders folders{{{(root / "rules").string(), "rules"}}, {{(root / "tables").string(), "tables"}}};
  for (const auto& folder : options_.rules) folders.rules.push_back({folder, folder});
  for (const auto& folder : options_.tables) folders.tables.push_back({folder, folder});
  text::Diagnostics diagnostics;
  rules_ = rules::load(folders, solvers_, sources_, diagnostics);
  report(diagnostics);
  return rules_.get();
}

const text::SourceFile* Context::read(const std::string& path) {
  std::ostringstream content;
  if (path == "-") {
    content << std::ifstream("/dev/stdin").rdbuf();
    return sources_.add("standard input", content.str());
  }
  std::error_code error;
  std::ifstream in(path, std::ios::binary);
  if (!in || fs::is_directory(path, error)) {
    text::Diagnostics diagnostics;
    const std::string why = fs::is_directory(path, error) ? "it is a folder" : fs::exists(path, error) ? "no permission" : "no such file";
    diagnostics.add(MessageId::L005, {sources_.add(path, ""), 0, 0, 0}, {path, why});
    report(diagnostics);
    return nullptr;
  }
  content << in.rdbuf();
  return sources_.add(path, content.str());
}

Exit Context::write(const std::string& text) {
  if (options_.out.empty() || options_.out == "-") {
    std::fwrite(text.data(), 1, text.size(), stdout);
    if (std::fflush(stdout) == 0) return Exit::holds;
    text::Diagnostics diagnostics;
    diagnostics.add(MessageId::L006, {}, {"the result", "standard output takes nothing more"});
    report(diagnostics);
    return Exit::file;
  }
  const std::string problem = write_file(options_.out, text);
  if (problem.empty()) return Exit::holds;
  text::Diagnostics diagnostics;
  diagnostics.add(MessageId::L006, {sources_.add(options_.out, ""), 0, 0, 0}, {options_.out, problem});
  report(diagnostics);
  return Exit::file;
}

void Context::report(const text::Diagnostics& diagnostics, bool notes) {
  for (const auto& d : diagnostics.all()) unreadable_ = unreadable_ || d.id == MessageId::L005;
  const std::string text = text::render(diagnostics, notes ? text::Severity::note : text::Severity::warning);
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void Context::say(const std::string& line) const {
  if (!options_.quiet) fmt::print(stderr, "{}\n", line);
}

std::string Context::selftest_folder() const {
  const fs::path root = data_root();
  std::error_code error;
  for (const fs::path& folder : {root / "selftest", root / "tests" / "published"})
    if (fs::is_directory(folder, error)) return folder.string();
  return (root / "selftest").string();
}

std::string write_file(const std::string& path, const std::string& text) {
  std::error_code error;
  const fs::path target(path);
  const fs::path folder = target.parent_path().empty() ? fs::path(".") : target.parent_path();
  if (!fs::is_directory(folder, error)) return fmt::format("the folder \"{}\" does not exist", folder.string());
  if (fs::is_directory(target, error)) return "it is a folder";
  if (fs::exists(target, error) && !fs::is_regular_file(target, error)) {  // a device or pipe must not be replaced by a file
    std::ofstream out(target, std::ios::binary);
    out << text << std::flush;
    return out ? "" : "it can't be written to";
  }
  const fs::path part = folder / ("." + target.filename().string() + ".part");
  {
    std::ofstream out(part, std::ios::binary | std::ios::trunc);
    out << text;
    out.flush();
    if (!out) {
      fs::remove(part, error);
      return "no permission, or the disk is full";
    }
  }
  fs::rename(part, target, error);
  if (!error) return "";
  const std::string why = error.message();
  fs::remove(part, error);
  return why;
}

}  // namespace jambcheck::cli
