#pragma once
// A project file as facts: what it says about each opening, in which unit and where. No formula, no standard.
#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "rules/rule_set.h"
#include "text/diagnostic.h"
#include "units/unit.h"

namespace jambcheck::opening {

/// Where a fact comes from: written for this opening, copied by `like`, or assumed later by a rule.
enum class Origin { given, copied, assumed };

/// One thing the file says.
struct Fact {
  enum class Kind { number, word, text, list };
  Kind kind = Kind::text;
  double value = 0;          ///< of a number: canonical (in, lbf, s, degF, rad); weights of masses are forces
  units::Unit shown;         ///< the unit it was written in
  std::string word;          ///< the canonical word, or the text as written
  std::vector<double> list;  ///< canonical numbers; hole coordinates as x1, z1, x2, z2 ...
  bool unknown = false;      ///< the user wrote `unknown`: there is no value
  Origin origin = Origin::given;
  std::string from;  ///< the mark it was copied from, or why it is assumed
  text::Place place;
};

/// Same value, wherever it was written.
bool same_value(const Fact& a, const Fact& b);

/// Path -> fact: "door.weight"; of one side only: "left.jamb.species".
using Facts = std::map<std::string, Fact, std::less<>>;

/// One of several values a field may have, with all facts that it brings.
struct Option {
  std::string text;  ///< as written, with unit
  Facts facts;
};

/// A field of which the file says that any of several values may be the true one: a list, or the two ends of a range. The
/// facts that its options would bring stand as unknown among the others.
struct Choice {
  std::string path;  ///< "left.jamb.species"
  bool range = false;
  std::vector<Option> options;  ///< two or more; of a range its ends and places between
  text::Place place;
};

struct Opening {
  std::string mark;
  std::string like;  ///< the mark it copies from, or empty
  Facts facts;
  std::vector<Choice> choices;
  text::Place place;
  text::Place mark_place, like_place;
  bool broken = false;  ///< has errors, is not to be checked
};

struct AnchorData;  // anchor_data.h

struct Project {
  Facts facts;  ///< "project.name", "site.wind.inward", "allowances.spares" ...
  std::vector<Choice> choices;  ///< of the shared facts
  std::vector<Opening> openings;
  std::vector<std::shared_ptr<const AnchorData>> anchors;  ///< of the files under anchor_data:, see anchor_files.h
  text::Place place;
  std::string file;
  bool broken = false;  ///< the part that all openings share has errors: none is to be checked
};

enum class Side { left, right };
std::string_view word(Side side);

/// The fact that holds on one side of the opening: the side's own when it has one, else the one for both sides, unless
/// the side says something that makes it moot (another kind of jamb: the species of the other side says nothing). Or
/// null.
const Fact* fact(const Opening& opening, std::string_view path, Side side);
/// Whether anything is said of that side alone; where not, each fact of the opening holds for both.
bool says_of(const Opening& opening, Side side);
const Fact* fact(const Facts& facts, std::string_view path);

/// Reads a project file (format 1). All problems of the file are reported in one run; an opening with an error is
/// marked broken and leaves the others good. Words are those of the keys of `rules`.
Project read_project(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
