#pragma once
// Inside of the PDF writer: words, drawings and formulas on a cairo surface. Units are points, y downward.
#include <cairo.h>
#include <pango/pangocairo.h>

#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "document/drawing.h"
#include "document/math.h"

namespace jambcheck::document {

struct Face {
  double size = 9.5;
  bool strong = false;
  bool slanted = false;
  bool one_width = false;
};

/// A formula laid out: pieces relative to the left end of its base line.
struct Laid {
  struct Piece {
    double x, y;
    std::string text;  ///< empty: a line from x,y to x2,y2
    Face face;
    double x2 = 0, y2 = 0;
  };
  double width = 0, up = 0, down = 0;
  std::vector<Piece> pieces;
  void put(const Laid& other, double x, double y);
};

/// Sizes of texts that were laid out before: a paper is measured, then drawn, and says many things more than once.
class TextSizes {
 public:
  struct Size {
    double width, up, down;
  };
  /// Null when the text was not laid out yet in this face and width.
  const Size* find(const std::string& key) const;
  const Size& keep(const std::string& key, const Size& size) { return sizes_[key] = size; }

 private:
  std::unordered_map<std::string, Size> sizes_;
};

/// Texts that were laid out last, with their glyphs: shaping them is most of the work of a page.
class Layouts {
 public:
  explicit Layouts(PangoContext* context) : context_(context) {}
  ~Layouts() { clear(); }
  Layouts(const Layouts&) = delete;
  Layouts& operator=(const Layouts&) = delete;
  /// `key` tells texts, faces, widths and sides apart.
  PangoLayout* get(const std::string& key, const std::string& text, const Face& face, double width, Align align);

 private:
  static constexpr std::size_t kMost = 8000;  // some twenty megabytes
  void clear();
  PangoContext* context_;
  std::unordered_map<std::string, PangoLayout*> kept_;
};

class Pen {
 public:
  /// `scale` makes all that is drawn smaller or larger; with `paints` false things are measured only.
  Pen(cairo_surface_t* surface, double scale, bool paints, TextSizes& sizes);
  ~Pen();
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;
  [[nodiscard]] cairo_t* cairo() const { return cairo_; }

  /// Height of the text broken to `width`; drawn with its top at y when `paint`.
  double text(const std::string& text, double x, double y, double width, const Face& face, bool paint, Align align = Align::left);
  [[nodiscard]] double width_of(const std::string& text, const Face& face);
  void drawing(const Drawing& drawing, double x, double y, double scale);
  void line(double x1, double y1, double x2, double y2, double width);
  /// A line that is drawn with all others of its width by rule_all(): a page of tables has thousands, and each stroke costs.
  void rule(double x1, double y1, double x2, double y2, double width);
  void rule_all();
  void frame(double x, double y, double w, double h, double width);

  Laid lay_out(const Math& math, double size);
  void formula(const Laid& laid, double x, double y, double scale);

 private:
  PangoLayout* laid_text(const std::string& text, const Face& face, double width, Align align = Align::left);
  /// The key under which a text is remembered; good until the next call.
  const std::string& key_of(const std::string& text, const Face& face, double width, Align align);
  TextSizes::Size size_of(const std::string& text, const Face& face, double width);
  void base_line_text(const std::string& text, double x, double y, const Face& face);
  Laid lay_out_text(const std::string& text, double size, bool slanted, double pad);

  cairo_t* cairo_;
  PangoContext* context_;
  std::unique_ptr<Layouts> layouts_;
  bool paints_;
  TextSizes& sizes_;
  std::string key_;
  struct Rule {
    double x1, y1, x2, y2;
  };
  std::map<double, std::vector<Rule>> rules_;  ///< by width
};

}  // namespace jambcheck::document
