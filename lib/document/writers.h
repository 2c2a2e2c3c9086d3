#pragma once
// A document as text, HTML or PDF. The same document gives the same bytes; no clock is asked.
#include <string>

#include "document/document.h"

namespace jambcheck::document {

std::string to_text(const Document& document, std::size_t width = 100);

/// One file: style and drawings inside, no script, nothing fetched.
std::string to_html(const Document& document);

/// With bookmarks, links and text that can be searched; `inside` are its attachments. Throws std::runtime_error with
/// what went wrong when the pages can't be made. `jobs`: threads that draw, 0 for one a core; the bytes don't hang on it.
std::string to_pdf(const Document& document, int jobs = 0);

/// How many pages to_pdf makes of it.
int pages_of(const Document& document);

/// The files inside of a paper that to_html or to_pdf wrote; empty when there are none.
std::vector<Inside> inside_of_html(const std::string& html);
std::vector<Inside> inside_of_pdf(const std::string& pdf);

/// & < > " as HTML and SVG want them.
std::string escaped(std::string_view text);
std::string to_svg(const Drawing& drawing);
std::string to_mathml(const Math& math);

}  // namespace jambcheck::document
