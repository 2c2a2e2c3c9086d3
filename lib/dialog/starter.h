#pragma once
// A project file to begin with: every field that a first check asks for, with what it is; what nobody said is unknown.
#include <iosfwd>
#include <string>
#include <vector>

#include "opening/written.h"

namespace jambcheck::dialog {

class Starter {
 public:
  explicit Starter(const rules::RuleSet& rules);
  /// Asks the few things that shape the file: jamb, size, mounting, windlocks, fasteners.
  void ask(std::istream& in, std::ostream& out);
  [[nodiscard]] std::string text() const;

 private:
  void set(const std::string& path, const std::string& text);
  [[nodiscard]] std::string value_of(const std::string& path) const;

  const rules::RuleSet& rules_;
  std::vector<opening::Written> values_;
};

}  // namespace jambcheck::dialog
