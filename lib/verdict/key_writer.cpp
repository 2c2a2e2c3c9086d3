#include "verdict/key_writer.h"

#include <limits>

#include "rules/given.h"

namespace jambcheck::verdict {

using opening::Fact;

const Fact* KeyWriter::find(const std::string& path) const {
  return sided_ ? opening::fact(opening_, path, side_) : opening::fact(opening_.facts, path);
}

void KeyWriter::set_in(rules::Case& values, const std::string& key, const Fact* f) const {
  if (!f) return;
  if (f->unknown) return set_unknown(values, key);
  if (f->kind == Fact::Kind::word || f->kind == Fact::Kind::text) return set_word(values, key, f->word);
  if (const rules::Key* info = set_.key(key)) values.set(*info, {f->value, false, false, {}});
}

void KeyWriter::set_word(rules::Case& values, const std::string& key, const std::string& word) const {
  if (const rules::Key* info = set_.key(key)) rules::set_word(set_, *info, word, values);
}

double KeyWriter::symbol_of(const std::string& key, const std::string& word) const {
  const rules::Key* info = set_.key(key);
  const std::string* canonical = info ? info->canonical_word(word) : nullptr;
  return canonical ? static_cast<double>(set_.symbols().find(*canonical)) : std::numeric_limits<double>::quiet_NaN();
}

void KeyWriter::set_number(rules::Case& values, const std::string& key, double value) const {
  if (const rules::Key* info = set_.key(key)) values.set(*info, {value, false, false, {}});
}

void KeyWriter::set_unknown(rules::Case& values, const std::string& key) const {
  if (const rules::Key* info = set_.key(key)) values.set(*info, {0, false, true, {}});
}

bool KeyWriter::speed() const {
  return find_shared("site.wind.speed") && !find_shared("site.wind.inward") && !find_shared("site.wind.outward");
}

bool KeyWriter::is_between() const {
  const Fact* mount = find("mount");
  return known(mount) && mount->word == "between";
}

}  // namespace jambcheck::verdict
