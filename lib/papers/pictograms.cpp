#include "papers/pictograms.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Disc;
using document::Drawing;
using document::Fill;
using document::Point;
using document::Stroke;

/// A picture on a square of 40 x 40, put to its place and size.
class Pencil {
 public:
  Pencil(Drawing& d, double x, double y, double size) : d_(d), x_(x), y_(y), s_(size / 40) {}
  void line(Point a, Point b, double width = 1.6) { d_.line(at(a), at(b), width * s_); }
  void path(const std::vector<Point>& points, double width = 1.6, bool closed = false, Fill fill = Fill::none) {
    Stroke stroke{{}, width * s_, closed, fill, false};
    for (const auto& p : points) stroke.points.push_back(at(p));
    d_.shapes.emplace_back(std::move(stroke));
  }
  void disc(Point c, double r, Fill fill = Fill::none, double width = 1.6) { d_.shapes.emplace_back(Disc{at(c), r * s_, fill, width * s_}); }
  void box(double x, double y, double w, double h, Fill fill = Fill::none, double width = 1.6) { path({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, width, true, fill); }
  void frame() { box(0, 0, 40, 40, Fill::white, 1.2); }

 private:
  [[nodiscard]] Point at(Point p) const { return {x_ + p.x * s_, y_ + p.y * s_}; }
  Drawing& d_;
  double x_, y_, s_;
};

/// A wound spring between its ends, and the triangle that warns of it.
void spring(Pencil& p) {
  p.line({5, 12}, {5, 34}, 2.4);
  p.line({35, 12}, {35, 34}, 2.4);
  std::vector<Point> coil{{5, 23}};
  for (int i = 0; i < 6; ++i) coil.push_back({8.0 + 4.6 * i, i % 2 == 0 ? 15.0 : 31.0});
  coil.push_back({35, 23});
  p.path(coil, 1.8);
  p.path({{20, 2}, {29, 17}, {11, 17}}, 1.6, true, Fill::white);
  p.line({20, 7}, {20, 12}, 2);
  p.disc({20, 14.6}, 1, Fill::black, 0);
}

/// Two people carry a coil between them.
void people(Pencil& p) {
  for (const double x : {9.0, 31.0}) {
    const double in = x < 20 ? 1 : -1;
    p.disc({x, 8}, 3.6, Fill::black, 0);
    p.line({x, 12}, {x, 25}, 2.4);
    p.line({x, 25}, {x - 4, 36}, 2);
    p.line({x, 25}, {x + 4, 36}, 2);
    p.line({x, 15}, {x + in * 5, 21}, 2);
  }
  p.disc({20, 21}, 6.4, Fill::white);
  p.disc({20, 21}, 3.4, Fill::none, 1);
  p.disc({20, 21}, 0.9, Fill::black, 0);
}

/// A head with goggles and muffs over the ears.
void eyes(Pencil& p) {
  p.disc({20, 20}, 14);
  p.box(4.5, 15, 5, 11, Fill::black, 0.5);
  p.box(30.5, 15, 5, 11, Fill::black, 0.5);
  p.path({{6, 15}, {8, 9}, {14, 4.5}, {20, 3.4}, {26, 4.5}, {32, 9}, {34, 15}}, 1.8);
  p.disc({14.4, 18.5}, 4.4, Fill::grey);
  p.disc({25.6, 18.5}, 4.4, Fill::grey);
  p.line({18.8, 18.5}, {21.2, 18.5}, 2);
  p.path({{15, 28}, {18, 29.6}, {22, 29.6}, {25, 28}}, 1.4);
}

/// A bolt of lightning at a cable in the wall.
void wires(Pencil& p) {
  p.path({{3, 31}, {9, 31}, {13, 34}, {19, 34}, {23, 30}, {29, 30}, {37, 34}}, 2.4);
  p.path({{22, 3}, {11, 20}, {19, 20}, {15, 30}, {29, 13}, {21, 13}, {27, 3}}, 1, true, Fill::black);
}

/// A bit that goes into the wall through a shroud, and the hose to the vacuum.
void vacuum(Pencil& p) {
  p.box(2, 3, 8, 34, Fill::grey, 1);
  p.path({{10, 8}, {17, 10}, {17, 18}, {10, 20}}, 1.6, true, Fill::white);
  p.line({6, 14}, {27, 14}, 2);
  p.path({{25, 9.5}, {36, 9.5}, {36, 24}, {31, 24}, {31, 18.5}, {25, 18.5}}, 1.6, true, Fill::white);
  p.path({{14, 19}, {14, 26}, {17, 30}, {21, 31}}, 1.8);
  p.box(21, 27, 13, 9, Fill::white);
  p.disc({24, 36.4}, 1.6, Fill::black, 0);
  p.disc({31, 36.4}, 1.6, Fill::black, 0);
}

void draw(Pencil& p, Picture picture) {
  p.frame();
  switch (picture) {
    case Picture::spring: return spring(p);
    case Picture::people: return people(p);
    case Picture::eyes: return eyes(p);
    case Picture::wires: return wires(p);
    case Picture::vacuum: return vacuum(p);
  }
}

}  // namespace

Drawing picture_row(const std::vector<std::pair<Picture, std::vector<std::string>>>& pictures, double size, double between, double text) {
  Drawing d;
  std::size_t lines = 0;
  for (const auto& [picture, words] : pictures) lines = std::max(lines, words.size());
  const double pitch = size + between;
  d.width = pitch * static_cast<double>(pictures.size());
  d.height = size + 3 + static_cast<double>(lines) * text * 1.15;
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    const auto& [picture, words] = pictures[i];
    const double x = pitch * static_cast<double>(i) + between / 2;
    Pencil pencil(d, x, 1, size);
    draw(pencil, picture);
    for (std::size_t k = 0; k < words.size(); ++k) {
      d.label({x + size / 2, size + 2 + text * (0.95 + 1.15 * static_cast<double>(k))}, words[k], Align::middle, text);
      d.say += (d.say.empty() ? "" : ", ") + words[k];
    }
  }
  return d;
}

}  // namespace jambcheck::papers
