#include "text/source.h"

#include <fmt/format.h>

namespace jambcheck::text {

Place Place::within(std::uint32_t offset, std::uint32_t len) const {
  Place inner = *this;
  if (inner.line != 0) inner.column += offset;
  inner.length = len;
  return inner;
}

std::string to_string(const Place& place) {
  if (!place.file) return "";
  if (place.line == 0) return place.file->name;
  return fmt::format("{}:{}:{}", place.file->name, place.line, place.column);
}

SourceFile source_file(std::string name, std::string text, std::uint32_t first_line) {
  SourceFile file{std::move(name), std::move(text), {0}, first_line};
  for (std::size_t at = file.text.find('\n'); at != std::string::npos; at = file.text.find('\n', at + 1)) file.line_starts.push_back(at + 1);
  return file;
}

const SourceFile* SourceSet::add(std::string name, std::string text) {
  return add(source_file(std::move(name), std::move(text)));
}

const SourceFile* SourceSet::add(SourceFile file) {
  files_.push_back(std::make_unique<SourceFile>(std::move(file)));
  return files_.back().get();
}

std::string_view line_of(const SourceFile& file, std::uint32_t line) {
  if (line < file.first_line || line - file.first_line >= file.line_starts.size()) return {};
  std::string_view rest = std::string_view(file.text).substr(file.line_starts[line - file.first_line]);
  rest = rest.substr(0, rest.find('\n'));
  if (!rest.empty() && rest.back() == '\r') rest.remove_suffix(1);
  return rest;
}

}  // namespace jambcheck::text
