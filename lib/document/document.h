#pragma once
// A paper as a list of blocks. Writers (writers.h) turn it into text, HTML or PDF; nothing in here knows about doors.
#include <cmath>
#include <limits>
#include <string>
#include <variant>
#include <vector>

#include "document/drawing.h"
#include "document/math.h"

namespace jambcheck::document {

constexpr double kNoRatio = std::numeric_limits<double>::quiet_NaN();

struct Heading {
  int level = 1;        ///< 1 to 3
  std::string text;
  std::string anchor;   ///< name for links; empty: none
  std::string revised = {};  ///< letter of the revision that changed what stands below; empty: not changed
};

enum class Style { plain, strong, small, code };  // code: line ends and blanks as they are, letters of one width

struct Paragraph {
  std::string text;
  Style style = Style::plain;
  std::string link = {};  ///< anchor that the whole paragraph leads to
};

/// A state, the number that decides, and why, in one line.
struct StateLine {
  Sign sign = Sign::none;
  std::string word;   ///< HOLDS
  std::string text;
  double ratio = kNoRatio;
};

struct List {
  std::vector<std::string> items;
  bool ticks = false;  ///< boxes to tick instead of bullets
};

struct Cell {
  std::string text;
  Sign sign = Sign::none;
  double bar = kNoRatio;  ///< a ratio bar under the text
  std::string link = {};
  bool strong = false;
  std::string page = {};  ///< anchor whose page number follows the text: on paper the number, on a screen a link
};

struct Table {
  std::vector<std::string> head;
  std::vector<double> shares;  ///< widths of the columns, relative
  std::vector<std::vector<Cell>> rows;
  std::vector<std::vector<std::string>> anchors = {};  ///< of each row, or none at all
  std::string say = {};        ///< what the table holds, for readers that do not see it
  bool compact = false;        ///< smaller letters, for long lists
  std::vector<std::string> revised = {};  ///< of each row the letter of the revision that changed it, or ""; or none at all
};

struct Figure {
  Drawing drawing;
};

/// symbol = formula = formula with numbers = result (words) [clause]
struct Formula {
  struct Form {
    Math math;
    std::string text;  ///< the same on one line
  };
  Form symbol;
  std::vector<Form> forms;
  std::string say;
  std::string clause;
};

struct PageBreak {};

/// The headings of level 1 and 2 with their pages.
struct Contents {
  std::string title;
};

struct Block;

/// Side by side where there is room, else below each other.
struct Columns {
  std::vector<double> shares;
  std::vector<std::vector<Block>> parts;
};

struct Box {
  std::string title;
  std::vector<Block> blocks;
};

struct Block {
  std::variant<Heading, Paragraph, StateLine, List, Table, Figure, Formula, PageBreak, Contents, Columns, Box> is;
};

enum class Paper { letter, a4 };

/// A file that travels inside the paper.
struct Inside {
  std::string name;     ///< project.yaml
  std::string content;
};

struct Document {
  std::string title;
  std::string language = "en";
  std::string running;  ///< at the head of every page
  std::string footer;   ///< beside "page x of y"
  std::string date;     ///< only if given: 2027-06-30
  std::string page_words = "page {} of {}";
  Paper paper = Paper::letter;
  double text_size = 9.5;  ///< in print, points
  bool one_page = false;   ///< made a little smaller rather than broken over two pages
  std::vector<Block> blocks;
  std::vector<Inside> inside;

  template <class T>
  void add(T block) {
    blocks.push_back({std::move(block)});
  }
};

}  // namespace jambcheck::document
