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

const SourceFile* SourceSet::add(std::string name, std::string text) {
  files_.push_back(std::make_unique<SourceFile>(SourceFile{std::move(name), std::move(text)}));
  return files_.back().get();
}

std::string_view line_of(const SourceFile& file, std::uint32_t line) {
  std::string_view rest = file.text;
  for (std::uint32_t n = 1; n < line; ++n) {
    const auto end = rest.find('\n');
    if (end == std::string_view::npos) return {};
    rest.remove_prefix(end + 1);
  }
  rest = rest.substr(0, rest.find('\n'));
  if (!rest.empty() && rest.back() == '\r') rest.remove_suffix(1);
  return rest;
}

}  // namespace jambcheck::text
