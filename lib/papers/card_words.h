#pragma once
// The words of the card in English, Spanish or both, and a firm's own words in their place.
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "text/diagnostic.h"

namespace jambcheck::papers {

enum class Language { english, spanish, both };

class CardWords {
 public:
  explicit CardWords(Language language) : language_(language) {}
  [[nodiscard]] Language language() const { return language_; }
  /// From now on in this language; a firm's own words stay.
  void speak(Language language) { language_ = language; }

  /// Replaces words: rows of a CSV file with the columns id, en, es; an empty cell keeps what is there. Messages L021.
  void replace(const text::SourceFile& file, text::Diagnostics& diagnostics);

  /// The words of `id`, {0} and {1} filled; with both languages "english / spanish". An unknown id is given back as it is.
  [[nodiscard]] std::string operator()(std::string_view id, const std::vector<std::string>& fill = {}) const;
  /// In one language, whatever was chosen.
  [[nodiscard]] std::string in(Language language, std::string_view id, const std::vector<std::string>& fill = {}) const;
  /// The chosen languages one by one, for texts that stand in columns.
  [[nodiscard]] std::vector<Language> languages() const;
  [[nodiscard]] static bool knows(std::string_view id);

  /// Whether the firm gave words of its own: whoever does has read them.
  [[nodiscard]] bool own() const { return !own_.empty(); }

  /// All words as the CSV that replace() reads, with a column that says what is still to be reviewed.
  static std::string as_csv();

 private:
  Language language_;
  std::map<std::string, std::pair<std::string, std::string>, std::less<>> own_;
};

}  // namespace jambcheck::papers
