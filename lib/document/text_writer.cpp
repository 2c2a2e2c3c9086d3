#include <algorithm>

#include <fmt/format.h>

#include "document/writers.h"
#include "document/words.h"

namespace jambcheck::document {
namespace {

class TextWriter {
 public:
  explicit TextWriter(std::size_t width) : width_(width) {}

  std::string run(const Document& d) {
    if (!d.running.empty()) paragraph(d.running);
    blocks(d.blocks);
    if (!d.footer.empty()) out_ += "\n" + wrapped(d.footer, width_, "") + "\n";
    return std::move(out_);
  }

 private:
  void blocks(const std::vector<Block>& all) {
    for (const auto& b : all) std::visit(*this, b.is);
  }
  void paragraph(const std::string& text) { out_ += wrapped(text, width_ - in_.size(), in_) + "\n"; }

 public:
  void operator()(const Heading& h) {
    out_ += "\n" + wrapped(h.text, width_ - in_.size(), in_) + "\n";
    if (h.level == 1) out_ += in_ + std::string(std::min(columns(h.text), width_ - in_.size()), '=') + "\n";
    if (h.level == 2) out_ += in_ + std::string(std::min(columns(h.text), width_ - in_.size()), '-') + "\n";
  }
  void operator()(const Paragraph& p) {
    if (p.style != Style::code) return paragraph(p.text);
    std::string line = in_ + "  ";
    for (const char c : p.text) {
      line += c;
      if (c == '\n') line += in_ + "  ";
    }
    out_ += line + "\n";
  }
  void operator()(const StateLine& s) {
    std::string line = std::string(sign_text(s.sign)) + " " + s.word;
    if (!std::isnan(s.ratio)) line += " " + ratio_text(s.ratio);
    paragraph(line + (s.text.empty() ? "" : "  " + s.text));
  }
  void operator()(const List& l) {
    for (const auto& item : l.items) {
      const std::string mark = l.ticks ? "[ ] " : "- ";
      std::string text = wrapped(item, width_ - in_.size() - mark.size(), std::string(mark.size(), ' '));
      text.replace(0, mark.size(), mark);
      std::string line = in_;
      for (const char c : text) {
        line += c;
        if (c == '\n') line += in_;
      }
      out_ += line + "\n";
    }
  }
  void operator()(const Table& t) {
    const auto widths = widths_of(t);
    if (!t.head.empty()) {
      std::vector<std::string> head(t.head.begin(), t.head.end());
      row(head, widths);
      std::string rule = in_;
      for (std::size_t c = 0; c < widths.size(); ++c) rule += (c == 0 ? "" : "  ") + std::string(widths[c], '-');
      out_ += rule + "\n";
    }
    for (std::size_t r = 0; r < t.rows.size(); ++r) {
      std::vector<std::string> cells;
      for (std::size_t c = 0; c < t.rows[r].size(); ++c) cells.push_back(text_of(t, r, c));
      row(cells, widths);
    }
    out_ += "\n";
  }
  void operator()(const Figure& f) {
    if (!f.drawing.say.empty()) paragraph("(drawing) " + f.drawing.say);
  }
  void operator()(const Formula& f) {
    const std::string lead = in_ + "  " + f.symbol.text + " ";
    const std::string under(columns(lead), ' ');
    for (std::size_t i = 0; i < f.forms.size(); ++i) out_ += (i == 0 ? lead : under) + "= " + f.forms[i].text + "\n";
    std::string tail = f.say.empty() ? "" : "(" + f.say + ")";
    if (!f.clause.empty()) tail += (tail.empty() ? "" : "  ") + std::string("[") + f.clause + "]";
    if (!tail.empty()) out_ += wrapped(tail, width_ - std::min<std::size_t>(width_ / 2, under.size() + 2), under + "  ") + "\n";
  }
  void operator()(const PageBreak&) { out_ += "\n"; }
  void operator()(const Contents&) {}
  void operator()(const Columns& c) {
    for (const auto& part : c.parts) blocks(part);
  }
  void operator()(const Box& b) {
    out_ += in_ + "+-- " + b.title + "\n";
    const std::string before = in_;
    in_ += "| ";
    blocks(b.blocks);
    in_ = before;
    out_ += in_ + "+--\n";
  }

 private:
  static std::string text_of(const Cell& c) { return c.sign == Sign::none ? c.text : std::string(sign_text(c.sign)) + (c.text.empty() ? "" : " " + c.text); }

  /// What a revision changed is marked before its first cell.
  static std::string text_of(const Table& t, std::size_t r, std::size_t c) {
    const bool marked = c == 0 && r < t.revised.size() && !t.revised[r].empty();
    return (marked ? t.revised[r] + "| " : "") + text_of(t.rows[r][c]);
  }

  /// Columns as wide as their longest cell; when that is too much, the widest give way.
  std::vector<std::size_t> widths_of(const Table& t) const {
    std::size_t n = t.head.size();
    for (const auto& r : t.rows) n = std::max(n, r.size());
    std::vector<std::size_t> w(n, 1);
    const auto see = [&](std::size_t c, const std::string& text) { w[c] = std::max(w[c], columns(text)); };
    for (std::size_t c = 0; c < t.head.size(); ++c) see(c, t.head[c]);
    for (std::size_t r = 0; r < t.rows.size(); ++r)
      for (std::size_t c = 0; c < t.rows[r].size(); ++c) see(c, text_of(t, r, c));
    const auto total = [&] {
      std::size_t sum = in_.size() + 2 * (n == 0 ? 0 : n - 1);
      for (const auto x : w) sum += x;
      return sum;
    };
    while (total() > width_) {
      auto widest = std::max_element(w.begin(), w.end());
      if (*widest <= 8) break;
      --*widest;
    }
    return w;
  }
  void row(const std::vector<std::string>& cells, const std::vector<std::size_t>& widths) {
    std::vector<std::vector<std::string>> lines;
    std::size_t most = 1;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      lines.push_back(lines_of(cells[c], widths[c]));
      most = std::max(most, lines.back().size());
    }
    for (std::size_t i = 0; i < most; ++i) {
      std::string line = in_;
      for (std::size_t c = 0; c < lines.size(); ++c) {
        const std::string text = i < lines[c].size() ? lines[c][i] : "";
        line += (c == 0 ? "" : "  ") + text + std::string(widths[c] - std::min(widths[c], columns(text)), ' ');
      }
      line.erase(line.find_last_not_of(' ') + 1);
      out_ += line + "\n";
    }
  }

  std::size_t width_;
  std::string in_;
  std::string out_;
};

}  // namespace

std::string_view sign_text(Sign sign) {
  switch (sign) {
    case Sign::none: return "";
    case Sign::holds: return "[ok]";
    case Sign::short_: return "[NO]";
    case Sign::engineer: return "[!]";
    case Sign::not_shown: return "[?]";
  }
  return "";
}

std::string to_text(const Document& document, std::size_t width) { return TextWriter(width).run(document); }

}  // namespace jambcheck::document
