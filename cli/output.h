#pragma once
// Writing a paper in the form that its file name asks for.
#include "cli/context.h"
#include "document/document.h"

namespace jambcheck::cli {

/// .html, .pdf, .txt by the ending of -o; text when there is none. Other endings: L022, with `more` among the ones named.
enum class Form { text, html, pdf, csv, xlsx, json };
bool form_of(Context& context, const std::vector<Form>& allowed, Form& form);

Exit write_document(Context& context, const document::Document& document, Form form);

/// letter or a4; the command line checks the word.
document::Paper paper_of(const std::string& word);

}  // namespace jambcheck::cli
