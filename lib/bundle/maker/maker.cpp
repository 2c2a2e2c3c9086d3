// Reads rules/ and tables/ with the ordinary readers and all their checks, in memory at the address at which the image
// will lie in the program, and writes that memory to a file. Arguments: the folder of both, the file.
#include <cstdio>
#include <fstream>
#include <new>
#include <stdexcept>
#include <string>

#include "bundle/contents.h"
#include "bundle/maker/arena.h"
#include "mechanics/solvers.h"

namespace {

using namespace jambcheck;

std::unique_ptr<const rules::RuleSet> load(const std::string& root, const program::NativeRegistry& solvers, text::SourceSet& sources) {
  text::Diagnostics diagnostics;
  const rules::Folders folders{{{root + "/rules", "rules"}}, {{root + "/tables", "tables"}}};
  auto set = rules::load(folders, solvers, sources, diagnostics);
  if (!diagnostics.all().empty()) throw std::runtime_error(text::render(diagnostics));
  return set;
}

void fill(const std::string& root, const program::NativeRegistry& solvers) {
  auto* const contents = new bundle::Contents;
  contents->set = load(root, solvers, contents->sources);
  contents->files = bundle::files_below(root);
  for (auto& file : contents->files) file.hash = bundle::hash_of(root + "/" + file.path);
  for (const auto& rule : contents->set->rules())
    if (rule->solver) {
      contents->solvers.emplace_back(rule.get(), rule->solver->name());
      rule->solver = nullptr;
    }
  new (reinterpret_cast<void*>(bundle::kBase)) bundle::Header{bundle::kMagic, bundle::kShape, contents};
}

void make(const std::string& root, const std::string& to) {
  program::NativeRegistry solvers;
  mechanics::add_solvers(solvers);
  {
    text::SourceSet sources;
    load(root, solvers, sources);  // what the program makes for itself on first use is not to lie in the image
  }
  bundle::open_arena(sizeof(bundle::Header));
  fill(root, solvers);
  bundle::close_arena();
  std::ofstream out(to, std::ios::binary | std::ios::trunc);
  out.write(reinterpret_cast<const char*>(bundle::kBase), static_cast<std::streamsize>(bundle::arena_size()));
  if (!out.flush()) throw std::runtime_error("can't write " + to);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fprintf(stderr, "usage: make_bundle FOLDER_OF_RULES_AND_TABLES IMAGE\n");
    return 2;
  }
  try {
    make(argv[1], argv[2]);
    return 0;
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "%s\n", problem.what());
    return 1;
  }
}
