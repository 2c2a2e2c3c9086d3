#pragma once
// Inside of the writers: lines broken at blanks, and ratios as text.
#include <string>
#include <vector>

namespace jambcheck::document {

/// Characters as they stand on the screen, not bytes.
std::size_t columns(std::string_view text);

/// Broken at blanks; a word longer than a line is broken where it must be.
std::vector<std::string> lines_of(const std::string& text, std::size_t width);

/// The same as one text, every line with `indent` before it.
std::string wrapped(const std::string& text, std::size_t width, const std::string& indent);

/// Two decimals; what is above 1 never reads 1.00.
std::string ratio_text(double ratio);

}  // namespace jambcheck::document
