#include "support/shipped.h"

#include <fstream>
#include <sstream>

#include "mechanics/solvers.h"
#include "opening/anchor_files.h"
#include "opening/model.h"

namespace jambcheck {
namespace {

text::SourceSet& sources() {
  static text::SourceSet kept;
  return kept;
}
program::NativeRegistry& solvers() {
  static program::NativeRegistry kept;
  if (kept.all().empty()) mechanics::add_solvers(kept);
  return kept;
}

}  // namespace

const rules::RuleSet* Shipped::set_ = nullptr;

void Shipped::SetUpTestSuite() {
  if (set_) return;
  text::Diagnostics diagnostics;
  set_ = rules::load({{{"rules", "rules"}}, {{"tables", "tables"}}}, solvers(), sources(), diagnostics).release();
  ASSERT_NE(set_, nullptr) << text::render(diagnostics);
}

std::string Shipped::content_of(const std::string& path) {
  std::ifstream in(path);
  std::ostringstream content;
  content << in.rdbuf();
  return content.str();
}

opening::Project Shipped::read(const std::string& path) { return read_text(path, content_of(path)); }

opening::Project Shipped::read_text(const std::string& name, const std::string& content) {
  text::Diagnostics diagnostics;
  auto project = opening::read_project(*sources().add(name, content), *set_, diagnostics);
  opening::read_anchor_files(project, sources(), *set_, diagnostics);
  EXPECT_FALSE(diagnostics.has_errors()) << text::render(diagnostics);
  EXPECT_FALSE(project.openings.empty()) << name;
  return project;
}

std::vector<const opening::Opening*> Shipped::all(const opening::Project& project) {
  std::vector<const opening::Opening*> out;
  for (const auto& o : project.openings) out.push_back(&o);
  return out;
}

std::vector<verdict::OpeningResult> Shipped::check(const opening::Project& project, int jobs) {
  static verdict::Checker checker(*set_);  // keeps its plans
  return checker.check_all(project, all(project), jobs);
}

std::string with(std::string text, const std::string& what, const std::string& by) {
  const auto at = text.find(what);
  EXPECT_NE(at, std::string::npos) << "no '" << what << "' to replace";
  return at == std::string::npos ? text : text.replace(at, what.size(), by);
}

bool only_tells(const std::string& path) {
  for (const char* word : {"from", "location", "remarks", "quantity", "floor", "type", "phase", "ifc_guid", "space", "coil_radius", "curtain_weight"})
    if (path.find(word) != std::string::npos) return true;
  return false;
}

}  // namespace jambcheck
