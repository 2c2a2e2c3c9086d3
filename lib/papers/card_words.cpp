#include "papers/card_words.h"

#include <algorithm>

#include "csv/csv.h"
#include "text/number.h"
#include "text/suggest.h"

namespace jambcheck::papers {
namespace {

struct Term {
  std::string_view id, english, spanish;
};
constexpr Term kTerms[] = {
#define JAMBCHECK_CARD(id, english, spanish) {#id, english, spanish},
#include "papers/card_words.def"
#undef JAMBCHECK_CARD
};

const Term* find(std::string_view id) {
  const auto it = std::find_if(std::begin(kTerms), std::end(kTerms), [&](const Term& t) { return t.id == id; });
  return it == std::end(kTerms) ? nullptr : it;
}

std::string filled(std::string text, const std::vector<std::string>& fill) {
  for (std::size_t i = 0; i < fill.size(); ++i) {
    const std::string field = "{" + std::to_string(i) + "}";
    if (const auto at = text.find(field); at != std::string::npos) text.replace(at, field.size(), fill[i]);
  }
  return text;
}

/// What a term must keep: {0}, {1} and the two {} of the page number.
std::vector<std::string> fields_of(std::string_view text) {
  std::vector<std::string> out;
  for (std::size_t at = text.find('{'); at != std::string_view::npos; at = text.find('{', at + 1)) {
    const auto end = text.find('}', at);
    out.emplace_back(end == std::string_view::npos ? text.substr(at) : text.substr(at, end - at + 1));
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

bool CardWords::knows(std::string_view id) { return find(id) != nullptr; }

void CardWords::replace(const text::SourceFile& file, text::Diagnostics& diagnostics) {
  std::string problem;
  const auto rows = csv::parse(file.text, problem);
  const auto tell = [&](std::size_t line, const std::string& what) {
    diagnostics.add(text::MessageId::L021, {&file, static_cast<std::uint32_t>(line), 1, 0}, {what});
  };
  if (!problem.empty()) return tell(1, problem);
  if (rows.empty() || rows[0].cells.size() < 3 || rows[0].cells[0] != "id" || rows[0].cells[1] != "en" || rows[0].cells[2] != "es")
    return tell(1, "the first line is not  id,en,es");
  std::vector<std::string> ids;
  for (const auto& t : kTerms) ids.emplace_back(t.id);
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto& cells = rows[i].cells;
    if (cells.empty() || (cells.size() == 1 && text::trim(cells[0]).empty())) continue;
    const Term* term = find(text::trim(cells[0]));
    if (!term) {
      tell(rows[i].line, "there is no term '" + cells[0] + "'; " + text::suggestion(cells[0], ids));
      continue;
    }
    auto& own = own_.insert({std::string(term->id), {std::string(term->english), std::string(term->spanish)}}).first->second;
    for (std::size_t c = 1; c < std::min<std::size_t>(3, cells.size()); ++c) {
      if (cells[c].empty()) continue;
      if (fields_of(cells[c]) != fields_of(term->english)) {
        tell(rows[i].line, "'" + cells[c] + "' must keep the fields in braces of '" + std::string(term->english) + "'");
        continue;
      }
      (c == 1 ? own.first : own.second) = cells[c];
    }
  }
}

std::string CardWords::in(Language language, std::string_view id, const std::vector<std::string>& fill) const {
  const auto own = own_.find(id);
  const Term* term = find(id);
  if (own == own_.end() && !term) return filled(std::string(id), fill);
  const std::string text = own != own_.end() ? (language == Language::spanish ? own->second.second : own->second.first)
                                             : std::string(language == Language::spanish ? term->spanish : term->english);
  return filled(text, fill);
}

std::string CardWords::operator()(std::string_view id, const std::vector<std::string>& fill) const {
  if (language_ != Language::both) return in(language_, id, fill);
  const std::string english = in(Language::english, id, fill), spanish = in(Language::spanish, id, fill);
  return english == spanish ? english : english + " / " + spanish;
}

std::vector<Language> CardWords::languages() const {
  return language_ == Language::both ? std::vector<Language>{Language::english, Language::spanish} : std::vector<Language>{language_};
}

std::string CardWords::as_csv() {
  std::string out = csv::write_row({"id", "en", "es", "review"});
  for (const auto& t : kTerms) out += csv::write_row({std::string(t.id), std::string(t.english), std::string(t.spanish), "es: to be read by a tradesperson"});
  return out;
}

}  // namespace jambcheck::papers
