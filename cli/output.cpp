#include "cli/output.h"

#include <algorithm>
#include <filesystem>

#include "document/writers.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

std::string ending_of(Form form) {
  switch (form) {
    case Form::text: return ".txt";
    case Form::html: return ".html";
    case Form::pdf: return ".pdf";
    case Form::csv: return ".csv";
    case Form::xlsx: return ".xlsx";
    case Form::json: return ".json";
  }
  return "";
}

}  // namespace

bool form_of(Context& context, const std::vector<Form>& allowed, Form& form) {
  form = Form::text;
  const std::string& out = context.options().out;
  if (out.empty() || out == "-") return true;
  const std::string ending = std::filesystem::path(out).extension().string();
  std::vector<std::string> names;
  for (const Form f : allowed) {
    names.push_back(ending_of(f));
    if (ending == names.back() || (f == Form::html && ending == ".htm")) {
      form = f;
      return true;
    }
  }
  text::Diagnostics diagnostics;
  diagnostics.add(text::MessageId::L022, {}, {out, text::join(names)});
  context.report(diagnostics);
  return false;
}

Exit write_document(Context& context, const document::Document& document, Form form) {
  switch (form) {
    case Form::html: return context.write(document::to_html(document));
    case Form::pdf: return context.write(document::to_pdf(document, context.options().jobs));
    default: return context.write(document::to_text(document));
  }
}

document::Paper paper_of(const std::string& word) { return word == "a4" ? document::Paper::a4 : document::Paper::letter; }

}  // namespace jambcheck::cli
