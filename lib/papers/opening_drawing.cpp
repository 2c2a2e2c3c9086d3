#include "papers/opening_drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "text/number.h"

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Disc;
using document::Drawing;
using document::Fill;
using document::Stroke;
using opening::Side;

constexpr double kPointsPerInch = 72, kText = 9;
constexpr double kMmPerInch = 25.4;

/// Black and white halves; the length is one that a ruler has.
void scale_bar(Drawing& d, double x, double y, double points_per_inch, bool metric) {
  constexpr double kLeastPoints = 36;
  const double unit = metric ? 1 / kMmPerInch : 1;
  constexpr double kMetric[] = {20, 50, 100, 200, 500, 1000, 2000, 5000}, kInches[] = {1, 2, 4, 6, 12, 24, 48, 96};
  double length = unit;
  for (const double step : metric ? kMetric : kInches) {
    length = step * unit;
    if (length * points_per_inch >= kLeastPoints) break;
  }
  const double w = length * points_per_inch;
  d.box(x, y - 4, w / 2, 4, Fill::black, 0.4);
  d.box(x + w / 2, y - 4, w / 2, 4, Fill::white, 0.4);
  d.label({x + w + 4, y}, on_tape_short(length, metric), Align::left, kText);
}

/// An upright measure: arrows at its ends, the words beside its middle.
void upright(Drawing& d, double x, double top, double bottom, const std::string& text, Align align) {
  d.line({x, top}, {x, bottom}, 0.5);
  for (const auto& [y, way] : {std::pair(top, 1.0), std::pair(bottom, -1.0)})
    d.shapes.emplace_back(Stroke{{{x, y}, {x - 1.6, y + way * 5}, {x + 1.6, y + way * 5}}, 0.3, true, Fill::black, false});
  d.label({align == Align::left ? x + 3 : x - 3, (top + bottom) / 2 + 3}, text, align, kText);
}

const Fastening* part(const Fastenings& all, const char* name, Side side) {
  for (const auto& f : all.parts)
    if (f.part == name && f.row.side == side && !f.row.holes.empty()) return &f;
  return nullptr;
}

void holes(Drawing& d, const Fastening* f, double edge_x, double out, double floor_y, double s, double radius) {
  if (!f) return;
  for (const auto& h : f->row.holes)
    if (!std::isnan(h.height)) d.shapes.emplace_back(Disc{{edge_x + out * (std::isnan(h.edge) ? 2.0 : h.edge) * s, floor_y - h.height * s}, radius, Fill::black, 0.4});
}

std::string count_text(const Fastening* f, const char* name) { return f ? fmt::format("{}: {} x {}", name, f->row.count, f->row.fastener) : ""; }

}  // namespace

double ruler_scale(double fits) {
  for (const double s : {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 32.0, 40.0, 48.0, 64.0, 80.0, 96.0, 128.0, 160.0, 192.0})
    if (s >= fits) return s;
  return std::ceil(fits / 100) * 100;
}

Drawing opening_drawing(const Fastenings& all, const std::string& pressures) {
  Drawing d;
  const double width = all.holes.across.opening, height = all.holes.across.height;
  if (std::isnan(width) || std::isnan(height)) return d;
  const bool metric = all.holes.metric;
  d.width = 270, d.height = 215;
  constexpr double kHead = 30, kFoot = 46, kSide = 62, kJambInches = 8;
  double top = height;
  for (const auto& f : all.parts)
    for (const auto& h : f.row.holes)
      if (!std::isnan(h.height)) top = std::max(top, h.height);
  const double scale = ruler_scale(std::max((width + 2 * kJambInches) * kPointsPerInch / (d.width - 2 * kSide), (top + 6) * kPointsPerInch / (d.height - kHead - kFoot)));
  const double s = kPointsPerInch / scale, floor_y = d.height - kFoot, middle = d.width / 2;
  const double left = middle - width / 2 * s, right = middle + width / 2 * s, head_y = floor_y - height * s;
  d.say = fmt::format("elevation 1:{}; opening {} wide, {} high; wind inward and outward {}", text::rounded(scale), on_tape_short(width, metric), on_tape_short(height, metric), pressures);
  d.line({left - 24, floor_y}, {right + 24, floor_y}, 1.6);
  d.box(left, head_y, right - left, floor_y - head_y, Fill::none, 0.8);
  d.line({left, head_y}, {right, floor_y}, 0.25, true);
  d.line({left, floor_y}, {right, head_y}, 0.25, true);
  const double up = (top + 4) * s;
  for (const auto& [side, edge, out] : {std::tuple(Side::left, left, -1.0), std::tuple(Side::right, right, 1.0)}) {
    const double jamb = kJambInches * s;
    d.box(out < 0 ? edge - jamb : edge, floor_y - up, jamb, up, Fill::none, 0.6);
    holes(d, part(all, "guide", side), edge, out, floor_y, s, 1.3);
    holes(d, part(all, "bracket", side), edge, out, floor_y, s, 1.3);
  }
  document::dimension(d, {left, floor_y + 12}, {right, floor_y + 12}, "", kText);
  d.label({middle, floor_y + 10 + kText * 1.4}, on_tape_short(width, metric), Align::middle, kText);
  upright(d, right + kJambInches * s + 10, head_y, floor_y, on_tape_short(height, metric), Align::left);
  d.label({4, kText}, fmt::format("elevation 1:{}", text::rounded(scale)), Align::left, kText, true);
  d.label({4, kText * 2.3}, "wind inward / outward: " + pressures, Align::left, kText);
  const Fastening* guide = part(all, "guide", Side::left);
  const Fastening* bracket = part(all, "bracket", Side::left);
  d.label({4, d.height - 14}, count_text(guide, "guide") + (guide && bracket ? "; " : "") + count_text(bracket, "bracket"), Align::left, kText);
  scale_bar(d, 4, d.height - 1, s, metric);
  return d;
}

Drawing bracket_drawing(const Fastenings& all) {
  Drawing d;
  const Fastening* f = part(all, "bracket", Side::left);
  if (!f) f = part(all, "bracket", Side::right);
  if (!f) return d;
  double low = 1e9, high = -1e9, near = 1e9, far = -1e9;
  for (const auto& h : f->row.holes) {
    if (std::isnan(h.above_lowest) || std::isnan(h.edge)) return d;
    low = std::min(low, h.above_lowest), high = std::max(high, h.above_lowest);
    near = std::min(near, h.edge), far = std::max(far, h.edge);
  }
  const bool metric = all.holes.metric;
  const double plate_w = std::isnan(f->value("bracket.plate.width")) ? far - near + 2 : f->value("bracket.plate.width");
  const double plate_h = std::isnan(f->value("bracket.plate.height")) ? high - low + 2 : f->value("bracket.plate.height");
  d.width = 230, d.height = 215;
  constexpr double kHead = 20, kFoot = 44, kSide = 60;
  const double scale = ruler_scale(std::max(std::max(plate_w, far - near + 1) * kPointsPerInch / (d.width - 2 * kSide), std::max(plate_h, high - low + 1) * kPointsPerInch / (d.height - kHead - kFoot)));
  const double s = kPointsPerInch / scale, x = d.width / 2, y = kHead + (d.height - kHead - kFoot) / 2;
  d.say = fmt::format("plate of the {} 1:{}; {} holes, {} across, {} along", f->row.name, text::rounded(scale), f->row.holes.size(), on_tape_short(far - near, metric), on_tape_short(high - low, metric));
  d.label({4, kText}, fmt::format("{} 1:{}", f->row.name, text::rounded(scale)), Align::left, kText, true);
  d.box(x - plate_w / 2 * s, y - plate_h / 2 * s, plate_w * s, plate_h * s, Fill::none, 1.1);
  const double out = f->row.side == Side::left ? -1 : 1;
  const double r = std::max(1.2, (std::isnan(f->value("fastener.diameter")) ? 0.25 : f->value("fastener.diameter")) / 2 * s);
  for (const auto& h : f->row.holes)
    d.shapes.emplace_back(Disc{{x + out * (h.edge - (near + far) / 2) * s, y - (h.above_lowest - (low + high) / 2) * s}, r, Fill::none, 0.9});
  const double wide = (far - near) * s, tall = (high - low) * s, below = y + plate_h / 2 * s + 9;
  if (wide > 1) {
    document::dimension(d, {x - wide / 2, below}, {x + wide / 2, below}, "", kText);
    d.label({x, below + kText * 1.1}, on_tape_short(far - near, metric), Align::middle, kText);
  }
  if (tall > 1) upright(d, x + plate_w / 2 * s + 9, y - tall / 2, y + tall / 2, on_tape_short(high - low, metric), Align::left);
  d.label({4, d.height - 14}, fmt::format("plate {} x {}, {}", on_tape_short(plate_w, metric), on_tape_short(plate_h, metric), f->row.fastener), Align::left, kText);
  scale_bar(d, 4, d.height - 1, s, metric);
  return d;
}

}  // namespace jambcheck::papers
