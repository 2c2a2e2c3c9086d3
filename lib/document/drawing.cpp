#include "document/drawing.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::document {
namespace {

constexpr double kThin = 0.35;

struct Rectangle {
  double x, y, w, h;
};

/// The part of the line from a to b inside the rectangle; false when none is.
bool clip(const Rectangle& r, Point& a, Point& b) {
  double t0 = 0, t1 = 1;
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double p[4] = {-dx, dx, -dy, dy}, q[4] = {a.x - r.x, r.x + r.w - a.x, a.y - r.y, r.y + r.h - a.y};
  for (int i = 0; i < 4; ++i) {
    if (p[i] == 0) {
      if (q[i] < 0) return false;
      continue;
    }
    const double t = q[i] / p[i];
    if (p[i] < 0) t0 = std::max(t0, t);
    else t1 = std::min(t1, t);
  }
  if (t0 >= t1) return false;
  const Point from = a;
  a = {from.x + t0 * dx, from.y + t0 * dy};
  b = {from.x + t1 * dx, from.y + t1 * dy};
  return true;
}

void stroke(Drawing& d, const Rectangle& r, Point a, Point b, double width = kThin) {
  if (clip(r, a, b)) d.line(a, b, width);
}

/// Lines at 45 degrees; `up` leans them the other way.
void slanted(Drawing& d, const Rectangle& r, double pitch, bool up) {
  for (double s = -r.h; s < r.w; s += pitch) {
    if (up) stroke(d, r, {r.x + s, r.y + r.h}, {r.x + s + r.h, r.y});
    else stroke(d, r, {r.x + s, r.y}, {r.x + s + r.h, r.y + r.h});
  }
}

void wood(Drawing& d, const Rectangle& r) {
  // Grain runs up the jamb; every third line is broken so that it does not pass for steel.
  int i = 0;
  for (double x = r.x + 3; x < r.x + r.w; x += 4, ++i) {
    if (i % 3 != 1) {
      stroke(d, r, {x, r.y}, {x, r.y + r.h});
      continue;
    }
    for (double y = r.y; y < r.y + r.h; y += 16) stroke(d, r, {x, y}, {x, y + 10});
  }
}

void courses(Drawing& d, const Rectangle& r, double length, double height) {
  int row = 0;
  for (double y = r.y; y < r.y + r.h; y += height, ++row) {
    stroke(d, r, {r.x, y}, {r.x + r.w, y});
    for (double x = r.x + (row % 2 != 0 ? length / 2 : 0); x < r.x + r.w; x += length) stroke(d, r, {x, y}, {x, y + height});
  }
}

/// Outline of two cells in each unit.
void block(Drawing& d, const Rectangle& r) {
  constexpr double kUnit = 16, kHigh = 14;
  courses(d, r, kUnit * 2, kHigh);
  for (double y = r.y; y + kHigh <= r.y + r.h + 0.1; y += kHigh)
    for (double x = r.x + 3; x + kUnit - 6 < r.x + r.w; x += kUnit) d.box(x, y + 3, kUnit - 6, kHigh - 6, Fill::none, kThin);
}

void concrete(Drawing& d, const Rectangle& r) {
  // A fixed scatter: the same drawing each time.
  unsigned seed = 7;
  const auto next = [&] { return static_cast<double>((seed = seed * 1103515245u + 12345u) >> 16 & 0x7fffu) / 32768.0; };
  const int many = static_cast<int>(r.w * r.h / 70) + 3;
  for (int i = 0; i < many; ++i) {
    const double x = r.x + 2 + next() * std::max(0.0, r.w - 7), y = r.y + 2 + next() * std::max(0.0, r.h - 7);
    if (i % 3 == 0) d.shapes.emplace_back(Stroke{{{x, y + 3.5}, {x + 4, y + 3.5}, {x + 2, y}}, kThin, true, Fill::none, false});
    else d.shapes.emplace_back(Disc{{x, y}, 0.5, Fill::black, 0});
  }
}

}  // namespace

void hatch(Drawing& d, Hatch kind, double x, double y, double w, double h) {
  const Rectangle r{x, y, w, h};
  switch (kind) {
    case Hatch::wood: return wood(d, r);
    case Hatch::block: return block(d, r);
    case Hatch::concrete: return concrete(d, r);
    case Hatch::steel: return slanted(d, r, 4, true);
    case Hatch::brick: return courses(d, r, 14, 6);
    case Hatch::no_drill:
      slanted(d, r, 3.2, true);
      slanted(d, r, 3.2, false);
  }
}

void dimension(Drawing& d, Point a, Point b, const std::string& text, double size) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < 1e-9) return;
  const double ux = (b.x - a.x) / length, uy = (b.y - a.y) / length;
  d.line(a, b, 0.5);
  for (const auto& [tip, way] : {std::pair(a, 1.0), std::pair(b, -1.0)}) {
    const Point back{tip.x + way * ux * 5, tip.y + way * uy * 5};
    d.shapes.emplace_back(Stroke{{tip, {back.x - uy * 1.6, back.y + ux * 1.6}, {back.x + uy * 1.6, back.y - ux * 1.6}}, 0.3, true, Fill::black, false});
  }
  d.label({(a.x + b.x) / 2, (a.y + b.y) / 2 - 2.5}, text, Align::middle, size);
}

Drawing ratio_bar(double ratio, double width, double height) {
  Drawing d;
  d.width = width;
  d.height = height;
  if (std::isnan(ratio)) return d;
  constexpr int kTicks = 10;
  const double room = ratio > 1 ? width * 0.88 : width;  // the rest is the arrow
  const double full = std::clamp(ratio, 0.0, 1.0) * room;
  if (full > 0) d.shapes.emplace_back(Stroke{{{0, 0}, {full, 0}, {full, height}, {0, height}}, 0, true, ratio > 1 ? Fill::black : Fill::grey, false});
  d.box(0.25, 0.25, room - 0.5, height - 0.5, Fill::none, 0.5);
  for (int i = 1; i < kTicks; ++i) d.line({room * i / kTicks, 0}, {room * i / kTicks, height}, 0.4);
  if (ratio > 1) d.shapes.emplace_back(Stroke{{{room, 0}, {width, height / 2}, {room, height}}, 0.3, true, Fill::black, false});
  return d;
}

Drawing sign_drawing(Sign sign, double s) {
  Drawing d;
  d.width = d.height = s;
  const double edge = s * 0.08;
  switch (sign) {
    case Sign::none: break;
    case Sign::holds: d.shapes.emplace_back(Disc{{s / 2, s / 2}, s / 2 - edge, Fill::black, 0}); break;
    case Sign::short_:
      d.box(edge, edge, s - 2 * edge, s - 2 * edge, Fill::none, s * 0.12);
      d.line({edge, edge}, {s - edge, s - edge}, s * 0.12);
      d.line({edge, s - edge}, {s - edge, edge}, s * 0.12);
      break;
    case Sign::engineer: d.shapes.emplace_back(Stroke{{{s / 2, edge}, {s - edge, s - edge}, {edge, s - edge}}, s * 0.05, true, Fill::black, false}); break;
    case Sign::not_shown: d.shapes.emplace_back(Disc{{s / 2, s / 2}, s / 2 - 1.5 * edge, Fill::none, s * 0.13}); break;
  }
  return d;
}

}  // namespace jambcheck::document
