#include "document/pdf_pen.h"

#include <algorithm>
#include <cmath>

namespace jambcheck::document {
namespace {

constexpr const char* kFont = "DejaVu Sans";  // named, so that pages break alike on every machine

double points(int pango) { return static_cast<double>(pango) / PANGO_SCALE; }

struct Painter {
  Pen& pen;
  cairo_t* c;

  void fill_and_stroke(Fill fill, double width) const {
    if (fill != Fill::none) {
      const double g = fill == Fill::white ? 1 : fill == Fill::grey ? 0.73 : 0;
      cairo_set_source_rgb(c, g, g, g);
      width > 0 ? cairo_fill_preserve(c) : cairo_fill(c);
      cairo_set_source_rgb(c, 0, 0, 0);
    }
    if (width <= 0) return cairo_new_path(c);
    cairo_set_line_width(c, width);
    cairo_stroke(c);
  }
  void operator()(const Stroke& s) const {
    for (std::size_t i = 0; i < s.points.size(); ++i) i == 0 ? cairo_move_to(c, s.points[i].x, s.points[i].y) : cairo_line_to(c, s.points[i].x, s.points[i].y);
    if (s.closed) cairo_close_path(c);
    const double dash[2] = {4, 2};
    if (s.dashed) cairo_set_dash(c, dash, 2, 0);
    fill_and_stroke(s.fill, s.width);
    cairo_set_dash(c, nullptr, 0, 0);
  }
  void operator()(const Disc& d) const {
    cairo_new_sub_path(c);
    cairo_arc(c, d.at.x, d.at.y, d.radius, 0, 2 * std::acos(-1.0));
    fill_and_stroke(d.fill, d.width);
  }
  void operator()(const Label& l) const {
    const Face face{l.size, l.strong, false};
    const double w = l.align == Align::left ? 0 : pen.width_of(l.text, face);
    const double x = l.align == Align::left ? l.at.x : l.align == Align::middle ? l.at.x - w / 2 : l.at.x - w;
    pen.text(l.text, x, l.at.y - l.size * 0.93, -1, face, true);
  }
};

}  // namespace

void Laid::put(const Laid& other, double x, double y) {
  for (Piece p : other.pieces) {
    p.x += x, p.x2 += x, p.y += y, p.y2 += y;
    pieces.push_back(std::move(p));
  }
  width = std::max(width, x + other.width);
  up = std::max(up, other.up - y);
  down = std::max(down, other.down + y);
}

const TextSizes::Size* TextSizes::find(const std::string& key) const {
  const auto it = sizes_.find(key);
  return it == sizes_.end() ? nullptr : &it->second;
}

void Layouts::clear() {
  for (const auto& [key, layout] : kept_) g_object_unref(layout);
  kept_.clear();
}

PangoLayout* Layouts::get(const std::string& key, const std::string& text, const Face& face, double width, Align align) {
  if (const auto it = kept_.find(key); it != kept_.end()) return it->second;
  if (kept_.size() >= kMost) clear();
  PangoFontDescription* font = pango_font_description_new();
  pango_font_description_set_family_static(font, face.one_width ? "DejaVu Sans Mono" : kFont);
  pango_font_description_set_absolute_size(font, face.size * PANGO_SCALE);
  if (face.strong) pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
  if (face.slanted) pango_font_description_set_style(font, PANGO_STYLE_OBLIQUE);
  PangoLayout* layout = pango_layout_new(context_);
  pango_layout_set_font_description(layout, font);
  pango_font_description_free(font);
  pango_layout_set_width(layout, width < 0 ? -1 : static_cast<int>(width * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment(layout, align == Align::left ? PANGO_ALIGN_LEFT : align == Align::right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_CENTER);
  pango_layout_set_text(layout, text.c_str(), static_cast<int>(text.size()));
  return kept_[key] = layout;
}

Pen::Pen(cairo_surface_t* surface, double scale, bool paints, TextSizes& sizes) : cairo_(cairo_create(surface)), paints_(paints), sizes_(sizes) {
  cairo_scale(cairo_, scale, scale);
  context_ = pango_cairo_create_context(cairo_);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context_, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context_, FALSE);
  layouts_ = std::make_unique<Layouts>(context_);
}

Pen::~Pen() {
  layouts_.reset();
  g_object_unref(context_);
  cairo_destroy(cairo_);
}

const std::string& Pen::key_of(const std::string& text, const Face& face, double width, Align align) {
  key_.assign(text);
  const double numbers[2] = {face.size, width};
  key_.append(reinterpret_cast<const char*>(numbers), sizeof numbers);
  key_ += static_cast<char>((face.strong ? 1 : 0) + (face.slanted ? 2 : 0) + (face.one_width ? 4 : 0) + 8 * static_cast<int>(align));
  return key_;
}

PangoLayout* Pen::laid_text(const std::string& text, const Face& face, double width, Align align) { return layouts_->get(key_of(text, face, width, align), text, face, width, align); }

double Pen::text(const std::string& text, double x, double y, double width, const Face& face, bool paint, Align align) {
  if (text.empty()) return 0;
  if (!paint || !paints_) {
    const auto size = size_of(text, face, width);
    return size.up + size.down;
  }
  PangoLayout* layout = laid_text(text, face, width, align);
  int w = 0, h = 0;
  pango_layout_get_size(layout, &w, &h);
  cairo_move_to(cairo_, x, y);
  pango_cairo_show_layout(cairo_, layout);
  cairo_new_path(cairo_);
  return points(h);
}

TextSizes::Size Pen::size_of(const std::string& text, const Face& face, double width) {
  const std::string& key = key_of(text, face, width, Align::left);
  if (const auto* known = sizes_.find(key)) return *known;
  PangoLayout* layout = layouts_->get(key, text, face, width, Align::left);
  int w = 0, h = 0;
  pango_layout_get_size(layout, &w, &h);
  const double base = points(pango_layout_get_baseline(layout));
  return sizes_.keep(key, {points(w), base, points(h) - base});
}

double Pen::width_of(const std::string& text, const Face& face) { return size_of(text, face, -1).width; }

void Pen::base_line_text(const std::string& text, double x, double y, const Face& face) {
  if (!paints_) return;
  PangoLayout* layout = laid_text(text, face, -1);
  cairo_move_to(cairo_, x, y - points(pango_layout_get_baseline(layout)));
  pango_cairo_show_layout(cairo_, layout);
  cairo_new_path(cairo_);
}

void Pen::drawing(const Drawing& d, double x, double y, double scale) {
  if (!paints_) return;
  cairo_save(cairo_);
  cairo_translate(cairo_, x, y);
  cairo_scale(cairo_, scale, scale);
  for (const auto& shape : d.shapes) std::visit(Painter{*this, cairo_}, shape);
  cairo_restore(cairo_);
}

void Pen::line(double x1, double y1, double x2, double y2, double width) {
  if (!paints_) return;
  cairo_set_line_width(cairo_, width);
  cairo_move_to(cairo_, x1, y1);
  cairo_line_to(cairo_, x2, y2);
  cairo_stroke(cairo_);
}

void Pen::rule(double x1, double y1, double x2, double y2, double width) {
  if (!paints_) return;
  auto& lines = rules_[width];
  // An upright goes on where the row above left it: rows draw their uprights in turn.
  constexpr std::size_t kBack = 16;
  if (x1 == x2)
    for (std::size_t k = lines.size(); k-- > 0 && lines.size() - k <= kBack;)
      if (lines[k].x1 == x1 && lines[k].x2 == x2 && std::abs(lines[k].y2 - y1) < 1e-6) {
        lines[k].y2 = y2;
        return;
      }
  lines.push_back({x1, y1, x2, y2});
}

void Pen::rule_all() {
  for (auto& [width, lines] : rules_) {
    if (lines.empty()) continue;
    cairo_set_line_width(cairo_, width);
    for (const Rule& r : lines) {
      cairo_move_to(cairo_, r.x1, r.y1);
      cairo_line_to(cairo_, r.x2, r.y2);
    }
    cairo_stroke(cairo_);
    lines.clear();
  }
}

void Pen::frame(double x, double y, double w, double h, double width) {
  if (!paints_) return;
  cairo_set_line_width(cairo_, width);
  cairo_rectangle(cairo_, x, y, w, h);
  cairo_stroke(cairo_);
}

Laid Pen::lay_out_text(const std::string& text, double size, bool slanted, double pad) {
  const Face face{size, false, slanted};
  const auto s = size_of(text, face, -1);
  Laid out;
  out.width = s.width + 2 * pad;
  out.up = size * 0.78;
  out.down = size * 0.24;
  out.pieces.push_back({pad, 0, text, face});
  return out;
}

Laid Pen::lay_out(const Math& m, double size) {
  constexpr double kSmall = 0.74, kLeastSize = 6.5;
  const double smaller = std::max(kLeastSize, size * kSmall);
  const double axis = size * 0.27;  // where fraction lines stand above the base line
  Laid out;
  const auto add = [&](const Laid& part) { out.put(part, out.width, 0); };
  switch (m.kind) {
    case Math::Kind::name: return lay_out_text(m.text, size, true, 0);
    case Math::Kind::number:
    case Math::Kind::words: return lay_out_text(m.text, size, false, 0);
    case Math::Kind::sign: return lay_out_text(m.text, size, false, size * 0.2);
    case Math::Kind::row:
      for (const auto& p : m.parts) add(lay_out(p, size));
      return out;
    case Math::Kind::fraction: {
      const double inner = std::max(kLeastSize + 0.5, size * 0.92);
      const Laid above = lay_out(m.parts[0], inner), below = lay_out(m.parts[1], inner);
      const double w = std::max(above.width, below.width) + size * 0.3, gap = size * 0.14, side = size * 0.12;
      out.put(above, side + (w - above.width) / 2, -axis - gap - above.down);
      out.put(below, side + (w - below.width) / 2, -axis + gap + below.up);
      out.pieces.push_back({side, -axis, "", {}, side + w, -axis});
      out.width = w + 2 * side;
      return out;
    }
    case Math::Kind::root: {
      const Laid inner = lay_out(m.parts[0], size);
      const double hook = size * 0.55, top = -inner.up - size * 0.12;
      out.put(inner, hook + size * 0.1, 0);
      out.pieces.push_back({0, -size * 0.25, "", {}, hook * 0.45, inner.down});
      out.pieces.push_back({hook * 0.45, inner.down, "", {}, hook, top});
      out.pieces.push_back({hook, top, "", {}, hook + inner.width + size * 0.2, top});
      out.width = hook + inner.width + size * 0.3;
      out.up = -top + 1;
      return out;
    }
    case Math::Kind::power: {
      add(lay_out(m.parts[0], size));
      const Laid up = lay_out(m.parts[1], smaller);
      const double base_up = out.up;
      out.put(up, out.width, -std::max(size * 0.38, base_up - up.up * 0.55));
      return out;
    }
    case Math::Kind::subscript: {
      add(lay_out(m.parts[0], size));
      out.put(lay_out(m.parts[1], smaller), out.width, size * 0.2);
      return out;
    }
    case Math::Kind::brackets: {
      Laid inner;
      for (const auto& p : m.parts) inner.put(lay_out(p, size), inner.width, 0);
      const double bracket = std::max(size, (inner.up + inner.down) * 0.9), drop = (inner.down - inner.up) / 2 + bracket * 0.27;
      for (const char* side : {"(", ")"}) {
        Laid one = lay_out_text(side, bracket, false, 0);
        one.up = inner.up, one.down = inner.down;
        if (side[0] == ')') add(inner);
        for (auto& p : one.pieces) p.y += bracket > size * 1.2 ? drop : 0;
        add(one);
      }
      return out;
    }
  }
  return out;
}

void Pen::formula(const Laid& laid, double x, double y, double scale) {
  if (!paints_) return;
  cairo_save(cairo_);
  cairo_translate(cairo_, x, y);
  cairo_scale(cairo_, scale, scale);
  for (const auto& p : laid.pieces) {
    if (p.text.empty()) line(p.x, p.y, p.x2, p.y2, 0.6);
    else base_line_text(p.text, p.x, p.y, p.face);
  }
  cairo_restore(cairo_);
}

}  // namespace jambcheck::document
