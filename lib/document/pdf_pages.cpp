#include "document/pdf_pages.h"

#include <cairo-pdf.h>

#include <algorithm>
#include <stdexcept>
#include <unordered_set>

#include <fmt/format.h>

#include "document/words.h"

namespace jambcheck::document {
namespace {

constexpr double kLeft = 46, kRight = 34, kTop = 48, kBottom = 44;
constexpr double kClause = 112;  // room at the right of formulas, kept for clauses
constexpr double kGap = 4;
constexpr double kFormulaGap = 2.5;
constexpr double kCellPad = 2.5;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  if (closure) static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

class Pages {
 public:
  /// With `out` null nothing is kept but what the run found out.
  Pages(const Flow& flow, const Part& part, TextSizes& sizes, std::string* out)
      : flow_(flow), d_(flow.document), part_(part), size_{sheet_size(d_.paper).width / flow.scale, sheet_size(d_.paper).height / flow.scale}, base_(d_.text_size) {
    surface_ = cairo_pdf_surface_create_for_stream(append, out, sheet_size(d_.paper).width, sheet_size(d_.paper).height);
    cairo_pdf_surface_restrict_to_version(surface_, CAIRO_PDF_VERSION_1_5);
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_TITLE, d_.title.c_str());
    // No clock: the day of the project, or none.
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATE_DATE, d_.date.empty() ? nullptr : d_.date.c_str());
    pen_ = std::make_unique<Pen>(surface_, flow.scale, out != nullptr, sizes);
  }
  ~Pages() {
    pen_.reset();
    cairo_surface_destroy(surface_);
  }
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;

  Flowed run() {
    const auto& blocks = part_.blocks;
    begin_page();
    for (std::size_t i = 0; i < blocks.size(); ++i) flow(blocks[i], i + 1 < blocks.size() ? &blocks[i + 1] : nullptr);
    end_page();
    pen_.reset();
    cairo_surface_finish(surface_);
    if (const auto status = cairo_surface_status(surface_); status != CAIRO_STATUS_SUCCESS) throw std::runtime_error(fmt::format("the pages can't be made: {}", cairo_status_to_string(status)));
    return std::move(found_);
  }

 private:
  // ---- pages
  [[nodiscard]] double width() const { return size_.width - kLeft - kRight; }
  [[nodiscard]] double bottom() const { return size_.height - kBottom; }
  [[nodiscard]] double room() const { return bottom() - y_; }
  [[nodiscard]] double whole_page() const { return bottom() - kTop; }
  void begin_page() {
    ++found_.pages;
    // White under everything: cairo adds up the places of all that is drawn on a page, which is slow unless one covers it.
    cairo_set_source_rgb(pen_->cairo(), 1, 1, 1);
    cairo_paint(pen_->cairo());
    cairo_set_source_rgb(pen_->cairo(), 0, 0, 0);
    const Face small{8.5};
    if (!d_.running.empty()) {
      pen_->text(d_.running, kLeft, 24, width(), small, true);
      pen_->rule(kLeft, 38, kLeft + width(), 38, 0.6);
    }
    pen_->rule(kLeft, bottom() + 8, kLeft + width(), bottom() + 8, 0.6);
    const std::string number = fmt::format(fmt::runtime(d_.page_words), part_.pages_before + found_.pages, flow_.numbers ? flow_.numbers->pages : 0);
    pen_->text(d_.footer, kLeft, bottom() + 11, width() - 90, small, true);
    pen_->text(number, kLeft, bottom() + 11, width(), small, true, Align::right);
    y_ = kTop;
    fresh_ = true;
  }
  void end_page() {
    pen_->rule_all();
    cairo_show_page(pen_->cairo());
  }
  void new_page() {
    if (fresh_) return;
    end_page();
    begin_page();
  }
  void need(double height) {
    if (height > room()) new_page();
  }

  // ---- anchors and links: noted here, put in when the pages are joined
  [[nodiscard]] Place place(double x, double y) const { return {found_.pages - 1, x * flow_.scale, y * flow_.scale}; }
  void anchor(const std::string& anchor) {
    if (!anchor.empty() && names_.insert(anchor).second) found_.anchors.push_back({anchor, place(kLeft, y_)});
  }
  double linked_text(const std::string& link, const std::string& text, double x, double y, double w, const Face& face, bool paint) {
    const double h = pen_->text(text, x, y, w, face, paint);
    if (paint && !link.empty()) found_.links.push_back({link, place(x, y), std::min(w, pen_->width_of(text, face)) * flow_.scale, h * flow_.scale});
    return h;
  }
  void bookmark(const Heading& h) { found_.bookmarks.push_back({h.level, h.text, place(kLeft, y_)}); }

  /// A bar in the margin and the letter of the revision beside what it changed.
  void revision_mark(const std::string& letter, double y, double h) {
    if (letter.empty()) return;
    pen_->rule(kLeft - 7, y, kLeft - 7, y + h, 2);
    pen_->text(letter, kLeft - 34, y + 1, 24, {8, true}, true, Align::right);
  }
  /// The page of an anchor; in the first run as wide as any.
  [[nodiscard]] std::string page_text(const std::string& anchor) const {
    return flow_.numbers ? page_number(anchor, "--") : "000";
  }
  [[nodiscard]] std::string page_number(const std::string& anchor, const char* none) const {
    if (!flow_.numbers) return none;
    const auto it = flow_.numbers->page_of.find(anchor);
    return it == flow_.numbers->page_of.end() ? none : std::to_string(it->second);
  }

  // ---- blocks that run over pages
  void flow(const Block& block, const Block* next) {
    if (std::holds_alternative<PageBreak>(block.is)) return new_page();
    if (const auto* h = std::get_if<Heading>(&block.is)) return flow_heading(*h, next);
    if (const auto* t = std::get_if<Table>(&block.is)) return flow_table(*t, kLeft, width());
    if (const auto* l = std::get_if<List>(&block.is)) return flow_list(*l);
    if (std::holds_alternative<Contents>(block.is)) return flow_contents(std::get<Contents>(block.is));
    if (const auto* p = std::get_if<Paragraph>(&block.is); p && p->style == Style::code) return flow_code(*p);
    if (const auto* f = std::get_if<Formula>(&block.is)) return flow_formula(*f, next ? std::get_if<Formula>(&next->is) : nullptr);
    const double height = put(block, kLeft, y_, width(), false);
    if (height > whole_page()) return flow_parts(block);
    need(height);
    put(block, kLeft, y_, width(), true);
    y_ += height;
    fresh_ = false;
  }
  /// Too tall for a page: what is inside comes one after the other.
  void flow_parts(const Block& block) {
    const auto all = [&](const std::vector<Block>& blocks) {
      for (std::size_t i = 0; i < blocks.size(); ++i) flow(blocks[i], i + 1 < blocks.size() ? &blocks[i + 1] : nullptr);
    };
    if (const auto* c = std::get_if<Columns>(&block.is)) {
      for (const auto& part : c->parts) all(part);
    } else if (const auto* b = std::get_if<Box>(&block.is)) {
      flow({Paragraph{b->title, Style::strong}}, nullptr);
      all(b->blocks);
    } else if (const auto* p = std::get_if<Paragraph>(&block.is)) {
      for (const auto& line : lines_of(p->text, 90)) flow({Paragraph{line, p->style}}, nullptr);
    } else {
      new_page();  // a drawing or a formula larger than a page is drawn to the page
      put(block, kLeft, y_, width(), true);
      y_ = bottom();
    }
  }
  void flow_heading(const Heading& h, const Block* next) {
    const double own = put({h}, kLeft, y_, width(), false);
    double after = 24;
    if (next && !std::holds_alternative<Table>(next->is) && !std::holds_alternative<List>(next->is) && !std::holds_alternative<PageBreak>(next->is))
      after = std::min(put(*next, kLeft, y_, width(), false), whole_page() / 3);
    else if (next) after = 44;
    need(own + after);
    if (h.level <= 2) bookmark(h);
    anchor(h.anchor);
    put({h}, kLeft, y_, width(), true);
    revision_mark(h.revised, y_ + 4, own - 4);
    y_ += own;
    fresh_ = false;
  }
  void flow_list(const List& l) {
    for (const auto& item : l.items) {
      const double h = list_item(l, item, kLeft, y_, width(), false);
      need(h);
      list_item(l, item, kLeft, y_, width(), true);
      y_ += h;
      fresh_ = false;
    }
    y_ += kGap;
  }
  void flow_code(const Paragraph& p) {
    const Face face{base_ * 0.85, false, false, true};
    for (std::size_t at = 0; at <= p.text.size();) {
      const std::size_t end = std::min(p.text.find('\n', at), p.text.size());
      const std::string line = end == at ? " " : p.text.substr(at, end - at);
      const double h = pen_->text(line, kLeft, y_, width(), face, false);
      need(h);
      pen_->text(line, kLeft, y_, width(), face, true);
      y_ += h;
      fresh_ = false;
      at = end + 1;
    }
    y_ += kGap;
  }
  /// Formulas of one clause in a row stand beside one line; the clause is set once, and again on the next page.
  void flow_formula(const Formula& f, const Formula* next) {
    const double own = formula(f, kLeft, y_, width(), false);
    const bool goes_on = next && next->clause == f.clause;
    const auto height = [&] { return (goes_on ? own : std::max(own, beside_.left)) + kFormulaGap; };
    if (beside_.clause != &f || height() > room()) {
      beside_.left = clause(f, kLeft, y_, width(), false);
      if (std::max(own, beside_.left) > whole_page()) return flow_tall(f);
      need(std::max(own, beside_.left) + kFormulaGap);
      clause(f, kLeft, y_, width(), true);
    }
    formula(f, kLeft, y_, width(), true);
    const double used = height();
    clause_line(f, kLeft, y_, width(), goes_on ? used : used - kFormulaGap);
    y_ += used;
    beside_ = {goes_on ? next : nullptr, std::max(0.0, beside_.left - used)};
    fresh_ = false;
  }
  /// Taller than a page: drawn to it.
  void flow_tall(const Formula& f) {
    new_page();
    put({f}, kLeft, y_, width(), true);
    y_ = bottom();
    beside_ = {};
  }
  void flow_table(const Table& t, double x, double w) {
    const Grid grid = grid_of(t, w);
    const double head = t.head.empty() ? 0 : head_row(t, grid, x, y_, false);
    if (!t.rows.empty()) need(head + std::min(table_row(t.rows[0], grid, x, y_, false), whole_page() - head));
    const auto paint_head = [&] {
      if (t.head.empty()) return pen_->rule(x, y_, x + w, y_, 0.6);
      head_row(t, grid, x, y_, true);
      y_ += head;
    };
    paint_head();
    for (std::size_t r = 0; r < t.rows.size(); ++r) {
      const double h = table_row(t.rows[r], grid, x, y_, false);
      if (head + h > whole_page()) {
        // One row taller than a page: its cells below each other, so that nothing is lost.
        for (std::size_t c = 0; c < t.rows[r].size(); ++c) flow({Paragraph{(c < t.head.size() ? t.head[c] + ": " : "") + t.rows[r][c].text, Style::plain}}, nullptr);
        continue;
      }
      if (h > room()) {
        new_page();
        paint_head();
      }
      if (r < t.anchors.size())
        for (const auto& name : t.anchors[r]) anchor(name);
      table_row(t.rows[r], grid, x, y_, true);
      if (r < t.revised.size()) revision_mark(t.revised[r], y_, h);
      y_ += h;
      fresh_ = false;
    }
    y_ += kGap + 2;
  }
  void flow_contents(const Contents& c) {
    flow({Paragraph{c.title, Style::strong}}, nullptr);
    for (const auto* h : flow_.contents) {
      const Face face{base_, h->level == 1};
      const double indent = h->level == 1 ? 0 : 14;
      // One line each, cut if need be: the first run does not know the numbers yet and must need as much room.
      const double line = base_ * 1.45;
      need(line);
      const std::string number = page_number(h->anchor, "");
      linked_text(h->anchor, lines_of(h->text, 88).front(), kLeft + indent, y_, width() - indent - 30, face, true);
      pen_->text(number, kLeft, y_, width(), face, true, Align::right);
      y_ += line;
      fresh_ = false;
    }
    y_ += kGap;
  }

  // ---- blocks at a place: the height is returned, and they are drawn when `paint`
  double put(const Block& block, double x, double y, double w, bool paint) {
    return std::visit([&](const auto& b) { return at(b, x, y, w, paint); }, block.is);
  }
  double stack(const std::vector<Block>& blocks, double x, double y, double w, bool paint) {
    double used = 0;
    for (const auto& b : blocks) used += put(b, x, y + used, w, paint);
    return used;
  }
  double at(const Heading& h, double x, double y, double w, bool paint) {
    const Face face{h.level == 1 ? base_ * 1.5 : h.level == 2 ? base_ * 1.2 : base_ * 1.05, true};
    const double above = h.level == 1 ? 4 : h.level == 2 ? 9 : 6;
    const double height = pen_->text(h.text, x, y + above, w, face, paint);
    if (paint && h.level <= 2) pen_->rule(x, y + above + height + 1.5, x + w, y + above + height + 1.5, h.level == 1 ? 1.4 : 0.7);
    return above + height + (h.level <= 2 ? 6 : 2);
  }
  double at(const Paragraph& p, double x, double y, double w, bool paint) {
    const Face face{p.style == Style::small ? base_ * 0.9 : p.style == Style::code ? base_ * 0.85 : base_, p.style == Style::strong, false, p.style == Style::code};
    return linked_text(p.link, p.text, x, y, w, face, paint) + kGap;
  }
  double at(const StateLine& s, double x, double y, double w, bool paint) {
    const double size = base_ * 1.2, pad = 5, mark = size * 1.1;
    const std::string word = s.word + (std::isnan(s.ratio) ? "" : " " + ratio_text(s.ratio));
    const double word_width = pen_->width_of(word, {size, true}), left = x + pad + mark + 6;
    const double text_x = left + word_width + 10;
    const double h = std::max(pen_->text(word, left, y + pad, -1, {size, true}, paint), pen_->text(s.text, text_x, y + pad + 1, x + w - text_x - pad, {base_}, paint)) + 2 * pad;
    if (paint) {
      pen_->drawing(sign_drawing(s.sign, mark), x + pad, y + pad + 0.5, 1);
      pen_->frame(x, y, w, h, 1.4);
    }
    return h + kGap + 2;
  }
  double list_item(const List& l, const std::string& item, double x, double y, double w, bool paint) {
    const double indent = l.ticks ? base_ * 1.5 : base_;
    const double h = pen_->text(item, x + indent, y, w - indent, {base_}, paint);
    if (paint && l.ticks) pen_->frame(x + 0.5, y + base_ * 0.2, base_ * 0.85, base_ * 0.85, 0.9);
    if (paint && !l.ticks) pen_->text("•", x + 1, y, -1, {base_}, true);
    return h + (l.ticks ? 3.5 : 2);
  }
  double at(const List& l, double x, double y, double w, bool paint) {
    double used = 0;
    for (const auto& item : l.items) used += list_item(l, item, x, y + used, w, paint);
    return used + kGap;
  }
  double at(const Figure& f, double x, double y, double w, bool paint) {
    const double scale = std::min({1.0, w / std::max(1.0, f.drawing.width), whole_page() / std::max(1.0, f.drawing.height)});
    if (paint) pen_->drawing(f.drawing, x + (w - f.drawing.width * scale) / 2, y, scale);
    return f.drawing.height * scale + kGap;
  }
  /// Symbols, numbers and result on one line as far as they fit, then the words.
  double formula(const Formula& f, double x, double y, double w, bool paint) {
    const double left = x + 8, room_for = w - 8 - kClause - 6, size = base_ * 0.9;
    const Face words{base_ * 0.78, false, true};
    double used = 0, line_end = room_for, line_base = 0;  // of the last line: where it ends, and its base line
    const Laid symbol = pen_->lay_out({Math::Kind::row, "", {f.symbol.math, {Math::Kind::sign, "=", {}}}}, size);
    const double indent = std::min(symbol.width, room_for / 3);
    const Laid equals = pen_->lay_out({Math::Kind::sign, "=", {}}, size);
    for (std::size_t i = 0; i < f.forms.size(); ++i) {
      const bool first = i == 0;
      const Laid laid = pen_->lay_out(f.forms[i].math, size);
      Laid line;
      if (first) line.put(symbol, 0, 0);
      else line.put(equals, std::max(0.0, indent - equals.width), 0);
      const double start = std::max(line.width, first ? 0 : indent), scale = room_for / std::max(room_for, start + laid.width);
      if (scale < 0.72) {
        used += pen_->text((first ? f.symbol.text + " = " : "= ") + f.forms[i].text, left + (first ? 0 : 14), y + used, room_for - (first ? 0 : 14), {base_ * 0.85}, paint) + 1.5;
        line_end = room_for;
        continue;
      }
      line.put(laid, start, 0);
      for (; i + 1 < f.forms.size(); ++i) {
        const Laid next = pen_->lay_out(f.forms[i + 1].math, size);
        if (line.width + equals.width + next.width > room_for) break;
        line.put(equals, line.width, 0);
        line.put(next, line.width, 0);
      }
      if (paint) pen_->formula(line, left, y + used + line.up * scale, scale);
      line_end = line.width * scale;
      line_base = used + line.up * scale;
      used += (line.up + line.down) * scale + 1.5;
    }
    if (!f.say.empty()) {
      const bool beside = line_end + 12 + pen_->width_of(f.say, words) <= room_for;
      if (beside) pen_->text(f.say, left + line_end + 10, y + line_base - words.size * 0.93, -1, words, paint);
      else used += pen_->text(f.say, left + 14, y + used, room_for - 14, words, paint);
    }
    return used;
  }
  /// In its column at the right.
  double clause(const Formula& f, double x, double y, double w, bool paint) {
    return pen_->text(f.clause, x + w - kClause + 5, y, kClause - 5, {7}, paint);
  }
  void clause_line(const Formula& f, double x, double y, double w, double height) {
    if (!f.clause.empty()) pen_->rule(x + w - kClause, y, x + w - kClause, y + height, 0.4);
  }
  double at(const Formula& f, double x, double y, double w, bool paint) {
    const double used = std::max(formula(f, x, y, w, paint), clause(f, x, y, w, paint));
    if (paint) clause_line(f, x, y, w, used);
    return used + kFormulaGap;
  }
  double at(const PageBreak&, double, double, double, bool) { return 0; }
  double at(const Contents&, double, double, double, bool) { return 0; }
  double at(const Columns& c, double x, double y, double w, bool paint) {
    double sum = 0, most = 0, left = x;
    const double between = 12, usable = w - between * static_cast<double>(c.parts.size() - 1);
    for (std::size_t i = 0; i < c.parts.size(); ++i) sum += i < c.shares.size() ? c.shares[i] : 1;
    for (std::size_t i = 0; i < c.parts.size(); ++i) {
      const double own = usable * (i < c.shares.size() ? c.shares[i] : 1) / sum;
      most = std::max(most, stack(c.parts[i], left, y, own, paint));
      left += own + between;
    }
    return most;
  }
  double at(const Box& b, double x, double y, double w, bool paint) {
    const double pad = 5;
    double used = pad;
    if (!b.title.empty()) used += pen_->text(b.title, x + pad, y + used, w - 2 * pad, {base_, true}, paint) + 2;
    used += stack(b.blocks, x + pad, y + used, w - 2 * pad, paint);
    if (paint) pen_->frame(x, y, w, used, 1);
    return used + kGap + 2;
  }
  double at(const Table& t, double x, double y, double w, bool paint) {
    const Grid grid = grid_of(t, w);
    double used = t.head.empty() ? 0 : head_row(t, grid, x, y, paint);
    if (t.head.empty() && paint) pen_->rule(x, y, x + w, y, 0.6);
    for (const auto& row : t.rows) used += table_row(row, grid, x, y + used, paint);
    return used + kGap + 2;
  }

  // ---- tables
  /// Widths of columns, letters and room around them.
  struct Grid {
    std::vector<double> widths;
    double size, pad;
  };
  Grid grid_of(const Table& t, double w) const {
    std::size_t n = std::max(t.head.size(), t.shares.size());
    for (const auto& r : t.rows) n = std::max(n, r.size());
    std::vector<double> out(n, 1);
    for (std::size_t i = 0; i < t.shares.size(); ++i) out[i] = t.shares[i];
    double sum = 0;
    for (const double x : out) sum += x;
    for (double& x : out) x *= w / sum;
    return {std::move(out), base_ * (t.compact ? 0.72 : 0.9), t.compact ? 1.4 : kCellPad};
  }
  double head_row(const Table& t, const Grid& grid, double x, double y, bool paint) {
    double h = 0, left = x, w = 0;
    for (std::size_t c = 0; c < t.head.size(); ++c) {
      h = std::max(h, pen_->text(t.head[c], left + kCellPad, y + grid.pad, grid.widths[c] - 2 * kCellPad, {grid.size, true}, paint));
      left += grid.widths[c];
    }
    for (const double one : grid.widths) w += one;
    h += 2 * grid.pad;
    if (paint) {
      pen_->rule(x, y, x + w, y, 0.6);
      pen_->rule(x, y + h, x + w, y + h, 1.2);
      uprights(grid.widths, x, y, h);
    }
    return h;
  }
  void uprights(const std::vector<double>& widths, double x, double y, double h) {
    pen_->rule(x, y, x, y + h, 0.4);
    for (const double one : widths) {
      x += one;
      pen_->rule(x, y, x, y + h, 0.4);
    }
  }
  double table_row(const std::vector<Cell>& row, const Grid& grid, double x, double y, bool paint) {
    double h = grid.size * 1.3, left = x, w = 0;
    for (std::size_t c = 0; c < row.size(); ++c) {
      h = std::max(h, cell(row[c], left, y, grid.widths[c], grid, paint));
      left += grid.widths[c];
    }
    for (const double one : grid.widths) w += one;
    h += 2 * grid.pad;
    if (paint) {
      pen_->rule(x, y + h, x + w, y + h, 0.4);
      uprights(grid.widths, x, y, h);
    }
    return h;
  }
  double cell(const Cell& c, double x, double y, double w, const Grid& grid, bool paint) {
    const Face face{grid.size, c.strong};
    const double mark = c.sign == Sign::none ? 0 : face.size + 3;
    if (paint && mark > 0) pen_->drawing(sign_drawing(c.sign, face.size * 0.9), x + kCellPad, y + grid.pad + face.size * 0.12, 1);
    const std::string text = c.page.empty() ? c.text : c.text + page_text(c.page);
    double h = linked_text(c.page.empty() ? c.link : c.page, text, x + kCellPad + mark, y + grid.pad, w - 2 * kCellPad - mark, face, paint);
    if (mark > 0) h = std::max(h, face.size * 1.2);
    if (!std::isnan(c.bar)) {
      if (paint) pen_->drawing(ratio_bar(c.bar, std::min(54.0, w - 2 * kCellPad), 5), x + kCellPad, y + grid.pad + h + 1.5, 1);
      h += 8;
    }
    return h;
  }

  const Flow& flow_;
  const Document& d_;
  const Part& part_;
  SheetSize size_;
  double base_;
  cairo_surface_t* surface_ = nullptr;
  std::unique_ptr<Pen> pen_;
  std::unordered_set<std::string_view> names_;
  Flowed found_;
  double y_ = 0;
  bool fresh_ = true;
  /// A clause that goes on beside the next formula, and how much of its text is still to come.
  struct Beside {
    const Formula* clause = nullptr;  ///< the formula it goes on to
    double left = 0;
  } beside_;
};

}  // namespace

SheetSize sheet_size(Paper paper) { return paper == Paper::a4 ? SheetSize{595.28, 841.89} : SheetSize{612, 792}; }

Flowed measure(const Flow& flow, const Part& part, TextSizes& sizes) { return Pages(flow, part, sizes, nullptr).run(); }

Flowed paint(const Flow& flow, const Part& part, TextSizes& sizes, std::string& pdf) { return Pages(flow, part, sizes, &pdf).run(); }

}  // namespace jambcheck::document
