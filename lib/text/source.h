#pragma once
// Source files and places in them: every message of the program points at one of these.
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::text {

/// A text that was read, kept whole so that a message can show its line.
struct SourceFile {
  std::string name;  ///< as the user wrote it
  std::string text;
  std::vector<std::size_t> line_starts;  ///< where each line begins; filled by SourceSet
  std::uint32_t first_line = 1;          ///< of a piece that was cut from a longer file
};

/// `text` as a source file of its own, its lines counted.
SourceFile source_file(std::string name, std::string text, std::uint32_t first_line = 1);

/// A span in a source file. Lines and columns count from 1; line 0 means "the whole file".
struct Place {
  const SourceFile* file = nullptr;
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::uint32_t length = 0;  ///< in bytes of the source line; 0 when not known

  /// The same line, `offset` columns further right and `len` long: a token inside a scalar.
  [[nodiscard]] Place within(std::uint32_t offset, std::uint32_t len) const;
  [[nodiscard]] bool known() const { return file != nullptr; }
};

/// `file:line:column`, or less when less is known.
std::string to_string(const Place& place);

/// Owns source files; addresses stay valid for the life of the set.
class SourceSet {
 public:
  const SourceFile* add(std::string name, std::string text);
  const SourceFile* add(SourceFile file);

 private:
  std::vector<std::unique_ptr<SourceFile>> files_;
};

/// The text of line `line` (from 1), without its end; empty when there is none.
std::string_view line_of(const SourceFile& file, std::uint32_t line);

}  // namespace jambcheck::text
