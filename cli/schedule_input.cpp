#include "cli/schedule_input.h"

#include <filesystem>

#include "opening/anchor_files.h"

namespace jambcheck::cli {
namespace {

using text::MessageId;

bool read_base(Context& context, const rules::RuleSet& set, const std::string& file, opening::Project& base, Exit& problem) {
  const auto* source = context.read(file);
  if (!source) {
    problem = Exit::file;
    return false;
  }
  text::Diagnostics found, kept;
  base = opening::read_project(*source, set, found);
  opening::read_anchor_files(base, context.sources(), set, found);
  for (const auto& d : found.all())  // its openings are the rows
    if (d.id != MessageId::K018) kept.take(d);
  context.report(kept, context.options().verbose);
  if (kept.has_errors()) problem = Exit::input;
  return !kept.has_errors();
}

}  // namespace

std::optional<SharedByRows> read_shared(Context& context, const rules::RuleSet& set, const std::string& map, const std::string& base_file, Exit& problem) {
  SharedByRows out;
  std::string base = base_file;
  if (!map.empty()) {
    const auto* source = context.read(map);
    if (!source) {
      problem = Exit::file;
      return std::nullopt;
    }
    text::Diagnostics diagnostics;
    auto mapping = schedule::read_mapping(*source, diagnostics);
    context.report(diagnostics);
    if (!mapping) {
      problem = Exit::input;
      return std::nullopt;
    }
    out.mapping = std::move(*mapping);
    if (base.empty() && !out.mapping.base.empty()) base = (std::filesystem::path(map).parent_path() / out.mapping.base).lexically_normal().string();
  }
  if (!base.empty() && !read_base(context, set, base, out.base, problem)) return std::nullopt;
  return out;
}

bool open_schedule(Context& context, const std::string& file, std::ifstream& in) {
  std::error_code error;
  if (file != "-" && (std::filesystem::is_directory(file, error) || !std::ifstream(file))) return context.read(file) != nullptr;
  in.open(file == "-" ? "/dev/stdin" : file, std::ios::binary);
  return true;
}

}  // namespace jambcheck::cli
