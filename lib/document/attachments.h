#pragma once
// Inside of the PDF writer: files carried by a PDF.
#include <string>
#include <vector>

#include "document/document.h"

namespace jambcheck::document {

/// `pdf` with the files attached; the same bytes for the same input. Throws std::runtime_error.
std::string attach(const std::string& pdf, const std::vector<Inside>& files);

}  // namespace jambcheck::document
