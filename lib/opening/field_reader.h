#pragma once
// Inside of opening: turns the values of fields into facts, each kind of value in its own file.
#include <string>
#include <string_view>

#include "opening/field.h"
#include "opening/model.h"
#include "yaml/node.h"

namespace jambcheck::opening {

/// Whose fields are being read.
struct Scope {
  Level level = Level::file;
  std::string owner;  ///< "D-104" or "opening 3"; empty for the file
  std::string side;   ///< "left." inside of left:
  Facts* facts = nullptr;
  std::vector<Choice>* choices = nullptr;  ///< null where several values can't stand
  [[nodiscard]] std::string label(std::string_view path) const;  ///< "D-104 left.jamb.species"
};

class FieldReader {
 public:
  FieldReader(const rules::RuleSet& rules, text::Diagnostics& diagnostics) : rules_(rules), diagnostics_(diagnostics) {}

  /// Every entry of a map of fields; `group` is its path, "" at the top.
  void read_map(const yaml::Node& map, std::string_view group, const Scope& scope);
  /// One entry whose path is known to be in the list or not.
  void read_entry(const yaml::Entry& entry, const std::string& path, const Scope& scope);

  /// A problem of a field's text, with the field named in front.
  text::Diagnostic& report(text::Problem problem, const yaml::Node& node, const std::string& label,
                           std::string_view sample = {});
  /// K002: nothing is written behind the key.
  void no_value(const yaml::Entry& entry, const std::string& label, const std::string& sample);
  text::Diagnostics& diagnostics() { return diagnostics_; }

 private:
  void unknown_field(const yaml::Entry& entry, const std::string& path, const Scope& scope);
  void read_group(const yaml::Entry& entry, const std::string& path, const Scope& scope);
  void read_value(const Field& field, const yaml::Entry& entry, const Scope& scope);
  bool wants_scalar(const Field& field, const yaml::Entry& entry, const Scope& scope);

  void read_unknown(const Field& field, const yaml::Node& node, const Scope& scope);
  void read_text(const Field& field, const yaml::Node& node, const Scope& scope);
  void read_word(const Field& field, const yaml::Node& node, const Scope& scope);
  void read_editions(const yaml::Entry& entry, const Scope& scope);
  void read_files(const Field& field, const yaml::Entry& entry, const Scope& scope);
  void read_date(const Field& field, const yaml::Node& node, const Scope& scope);

  // amounts.cpp
  void read_amount(const Field& field, const yaml::Node& node, const Scope& scope);
  void report_amount(const Field& field, text::Problem problem, const yaml::Node& node, const std::string& label);
  void check_usual(const Field& field, double value, const std::string& written, const text::Place& place,
                   const std::string& label);

  // choices.cpp
  bool read_choice(const Field& field, const yaml::Entry& entry, const Scope& scope);
  void read_list(const Field& field, const yaml::Entry& entry, const Scope& scope);
  void read_range(const Field& field, const yaml::Entry& entry, const Scope& scope);
  bool read_option(const Field& field, const yaml::Entry& entry, const Scope& scope, Choice& choice);
  void keep(Choice choice, const Scope& scope);

  // layouts.cpp
  void read_pair(const Field& field, const yaml::Node& node, const Scope& scope);
  void read_timber(const Field& field, const yaml::Node& node, const Scope& scope);
  void read_holes(const Field& field, const yaml::Entry& entry, const Scope& scope);
  void read_lengths(const Field& field, const yaml::Entry& entry, const Scope& scope);
  void read_layers(const Field& field, const yaml::Entry& entry, const Scope& scope);
  bool read_hole(const yaml::Node& pair, const std::string& label, Fact& out);

  // fasteners.cpp
  void read_fastener(const Field& field, const yaml::Node& node, const Scope& scope);
  bool cut_by_remark(const yaml::Node& node, const std::string& label);

  Fact& put(const Scope& scope, std::string_view path, Fact fact);
  /// The same fact written twice in two ways; reports `id` when the two differ.
  void put_or_compare(const Scope& scope, std::string_view path, Fact fact, text::MessageId id,
                      const std::string& label);

  const rules::RuleSet& rules_;
  text::Diagnostics& diagnostics_;
};

/// The place of a part of a scalar; the whole scalar when quotes or line breaks hide where the part stands.
text::Place part_of(const yaml::Node& scalar, std::uint32_t offset, std::uint32_t length);

/// Where ` #12` stands on that line behind byte `from`, to its end; not known() when nowhere.
text::Place remark_that_is_a_number(const text::SourceFile& file, std::uint32_t line, std::size_t from);

Fact number_fact(double value, const units::Unit& shown, const text::Place& place);
Fact word_fact(std::string word, Fact::Kind kind, const text::Place& place);

}  // namespace jambcheck::opening
