#pragma once
// Line drawings: strokes, discs and words on a sheet whose unit is the point (1/72 in), y downward.
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace jambcheck::document {

struct Point {
  double x = 0, y = 0;
};

enum class Fill { none, white, grey, black };

struct Stroke {
  std::vector<Point> points;
  double width = 0.8;
  bool closed = false;
  Fill fill = Fill::none;
  bool dashed = false;
};

struct Disc {
  Point at;
  double radius = 2;
  Fill fill = Fill::none;
  double width = 0.8;
};

enum class Align { left, middle, right };

struct Label {
  Point at;  ///< the base line's end that `align` names
  std::string text;
  Align align = Align::left;
  double size = 9;
  bool strong = false;
};

using Shape = std::variant<Stroke, Disc, Label>;

struct Drawing {
  double width = 0, height = 0;
  std::vector<Shape> shapes;
  std::string say;  ///< what it shows, in words

  void line(Point a, Point b, double width_ = 0.8, bool dashed = false) { shapes.emplace_back(Stroke{{a, b}, width_, false, Fill::none, dashed}); }
  void label(Point at, std::string text, Align align = Align::left, double size = 9, bool strong = false) { shapes.emplace_back(Label{at, std::move(text), align, size, strong}); }
  void box(double x, double y, double w, double h, Fill fill = Fill::none, double width_ = 0.8) {
    shapes.emplace_back(Stroke{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, width_, true, fill, false});
  }
};

/// How a material is hatched: wood by grain, block by cells, concrete by dots and triangles, steel by lines at 45
/// degrees, brick by courses, and the strip where no hole may be by crossed lines.
enum class Hatch { wood, block, concrete, steel, brick, no_drill };

/// Hatches the rectangle; the strokes stay inside of it.
void hatch(Drawing& drawing, Hatch kind, double x, double y, double w, double h);

/// An arrow between two points with a word at its middle.
void dimension(Drawing& drawing, Point a, Point b, const std::string& text, double size = 9);

/// Ten ticks, filled as far as the ratio goes; an arrow beyond 1.
Drawing ratio_bar(double ratio, double width, double height);

/// The four states as shapes that differ in black and white: disc, cross in a box, triangle, open ring.
enum class Sign { none, holds, short_, engineer, not_shown };
std::string_view sign_text(Sign sign);  ///< [ok] [NO] [!] [?]
Drawing sign_drawing(Sign sign, double size);

}  // namespace jambcheck::document
