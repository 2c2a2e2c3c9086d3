#pragma once
// Every fastening that could be tried at one opening: the catalogue (tables/fasteners), the project's anchor data, and
// the spacings and patterns of tables/choose. What suits and what does not is data; whether it holds is the checks'.
#include <string>
#include <string_view>
#include <vector>

#include "opening/model.h"
#include "verdict/brief.h"

namespace jambcheck::choose {

/// What one buys: "lag 3/8 x 4, washer". Its facts stand below "guide.fastener." or "bracket.fastener.".
struct Item {
  std::string text;  ///< as a project file writes it
  std::string kind;
  double diameter = 0, length = 0;  ///< in; the length of an anchor that comes by its data alone is its embedment
  opening::Facts facts;             ///< by name: "kind", "diameter", "length", "washers"
};

/// Where the fasteners stand: "spacing 18 in", "2 x 3".
struct Layout {
  std::string text;
  std::size_t holes = 0;  ///< in one guide or bracket
  double spacing = 0;     ///< of a guide; 0: none
  opening::Facts facts;   ///< by name: "spacing", or "count", "columns", "rows", "across", "along", or "holes"
};

struct Candidate {
  std::size_t item = 0, layout = 0;
};

enum class Sides { both, left, right };

struct Space {
  bool bracket = false;
  Sides sides = Sides::both;
  std::string base;  ///< material that holds the fastener; empty when it is not known
  std::vector<Item> items;
  std::vector<Layout> layouts;
  std::vector<Candidate> candidates;  ///< all items in all layouts, in the order of the ranking
  std::vector<std::string> notes;     ///< what is not in the space, and why
  void list_candidates();             ///< after items or layouts have changed
};

/// The space of one part. Openings with lists of values are taken by their facts; what is not known narrows nothing.
Space space_of(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, bool bracket, Sides sides);

/// The opening without its fastening in that part, and the same with a candidate in its place. Facts of the old fastener
/// stay where they are about the place (joint_distance) or where kind or size are the same.
class Place {
 public:
  Place(const opening::Opening& opening, bool bracket, Sides sides);
  /// The opening with this fastening; good until the next call.
  const opening::Opening& with(const Item& item, const Layout& layout);
  /// Only the item is changed, the layout stays as the file has it.
  const opening::Opening& with(const Item& item);

 private:
  void put_item(const Item& item);
  void take_back();
  void put(const std::string& path, const opening::Fact& fact);
  opening::Opening opening_;
  std::string part_;
  std::vector<std::string> prefixes_;
  opening::Facts given_;                  ///< what was there below the part, by full path
  std::vector<std::string> put_;
};

/// A fastening written by the user, such as "lag 3/8 x 4"; `problem` says what is wrong. Of an anchor the rows of the
/// project's anchor data give the embedment.
std::vector<Item> items_of(const opening::Project& project, const rules::RuleSet& set, std::string_view text, text::Problem& problem);
/// All items of the catalogue and the anchor data that suit this base.
std::vector<Item> items_for(const opening::Project& project, const rules::RuleSet& set, const std::string& base);
/// The layouts of one part of this opening.
std::vector<Layout> layouts_of(const opening::Opening& opening, const rules::RuleSet& set, bool bracket, opening::Side side, std::vector<std::string>& notes);

opening::Fact number(double value, std::string_view unit = "in");
opening::Fact word(std::string text, opening::Fact::Kind kind = opening::Fact::Kind::word);
/// "3/8" for 0.375: whole and fractions down to 1/64, else decimal places.
std::string inches(double value);

}  // namespace jambcheck::choose
