#pragma once
// Inside of opening: one opening from its map of fields.
#include <map>

#include "opening/field_reader.h"

namespace jambcheck::opening {

class OpeningReader {
 public:
  OpeningReader(FieldReader& reader, text::Diagnostics& diagnostics) : reader_(reader), diagnostics_(diagnostics) {}

  /// `number` names it while it has no mark: "opening 3". `like` is not followed here.
  Opening read(const yaml::Node& item, const std::string& number);

 private:
  void read_mark(const yaml::Node& item, const std::string& number, Opening& opening);
  void read_like(const yaml::Node& item, const std::string& owner, Opening& opening);
  bool need_text(const yaml::Entry& entry, const std::string& label, const std::string& sample);
  void read_fields(const yaml::Node& item, const std::string& owner, Opening& opening);
  void read_side(const yaml::Entry& entry, Scope scope);

  FieldReader& reader_;
  text::Diagnostics& diagnostics_;
  std::map<std::string, text::Place, std::less<>> marks_;
};

/// Every combination of values is worked out: there must not be too many (K047).
void count_answers(const std::vector<Choice>& shared, Opening& opening, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
