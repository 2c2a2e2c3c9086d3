#include "verdict/key_writer.h"

namespace jambcheck::verdict {

using opening::Fact;
using rules::Given;

const Fact* KeyWriter::find(const std::string& path) const {
  return sided_ ? opening::fact(opening_, path, side_) : opening::fact(opening_.facts, path);
}

void KeyWriter::set_in(rules::Case& values, const std::string& key, const Fact* f) const {
  if (!f || key.empty()) return;
  Given given;
  given.unknown = f->unknown;
  given.value = f->value;
  given.shown = f->shown;
  if (!f->unknown && (f->kind == Fact::Kind::word || f->kind == Fact::Kind::text)) {
    given = word_of(key, f->word);
    if (given.word.empty()) return;
  }
  values[key] = given;
}

Given KeyWriter::word_of(const std::string& key, const std::string& text) const {
  Given given;
  const rules::Key* info = set_.key(key);
  const std::string* word = info ? info->canonical_word(text) : nullptr;
  if (!word) return given;
  given.is_word = true;
  given.word = *word;
  given.value = static_cast<double>(set_.symbols().find(*word));
  return given;
}

void KeyWriter::set_word(rules::Case& values, const std::string& key, const std::string& word) const {
  const Given given = word_of(key, word);
  if (!given.word.empty()) values[key] = given;
}

void KeyWriter::set_number(rules::Case& values, const std::string& key, double value) const {
  Given given;
  given.value = value;
  if (const rules::Key* info = set_.key(key)) given.shown = info->unit;
  values[key] = given;
}

bool KeyWriter::speed() const {
  return find_shared("site.wind.speed") && !find_shared("site.wind.inward") && !find_shared("site.wind.outward");
}

bool KeyWriter::is_between() const {
  const Fact* mount = find("mount");
  return known(mount) && mount->word == "between";
}

}  // namespace jambcheck::verdict
