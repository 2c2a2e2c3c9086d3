#pragma once
// Inside of the PDF writer: pages that were drawn apart become one file, with links, bookmarks and attachments.
#include <string>
#include <vector>

#include "document/pdf_pages.h"

namespace jambcheck::document {

struct Painted {
  std::string pdf;
  Flowed found;
};

/// One PDF of all pages, in order; every anchor is a named destination. The same bytes for the same input. Throws
/// std::runtime_error.
std::string join(const Document& document, const std::vector<Painted>& parts);

}  // namespace jambcheck::document
