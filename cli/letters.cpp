#include "cli/letters.h"

#include <filesystem>

namespace jambcheck::cli {

bool types_by_letters(Context& context, const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::string& file, std::vector<papers::Type>& types) {
  papers::Letters letters;
  std::error_code error;
  if (!file.empty() && std::filesystem::exists(file, error)) {
    const auto* source = context.read(file);
    if (!source) return false;
    text::Diagnostics diagnostics;
    letters = papers::read_letters(*source, diagnostics);
    context.report(diagnostics);
    if (diagnostics.has_errors()) return false;
  }
  const papers::Letters before = letters;
  types = papers::types_of(project, results, letters);
  if (file.empty() || (letters == before && std::filesystem::exists(file, error))) return true;
  const std::string problem = write_file(file, papers::write_letters(letters));
  if (problem.empty()) return true;
  text::Diagnostics diagnostics;
  diagnostics.add(text::MessageId::L006, {}, {file, problem});
  context.report(diagnostics);
  return false;
}

}  // namespace jambcheck::cli
