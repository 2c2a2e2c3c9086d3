#include <fmt/format.h>

#include "document/words.h"
#include "document/writers.h"

namespace jambcheck::document {
namespace {

// Black on white; states by word and shape. Tables become stacked cards on a narrow screen.
constexpr const char* kStyle = R"(
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0 auto;padding:12px;max-width:60rem;font:1rem/1.4 "DejaVu Sans",Verdana,sans-serif;color:#000;background:#fff;overflow-wrap:anywhere}
h1{font-size:1.5rem;border-bottom:2px solid #000;margin:1.6rem 0 .6rem;line-height:1.2}
h2{font-size:1.2rem;border-bottom:1px solid #000;margin:1.4rem 0 .5rem;line-height:1.2}
h3{font-size:1rem;margin:1rem 0 .3rem}
p{margin:.4rem 0}
a{color:#000}
.strong{font-weight:bold;break-after:avoid}
.small{font-size:.86rem}
pre{white-space:pre-wrap;font:.8rem/1.35 "DejaVu Sans Mono",monospace;border-left:2px solid #777;padding-left:.5rem}
.running{font-size:.86rem;border-bottom:1px solid #000;margin-bottom:.6rem}
.state{border:2px solid #000;padding:.4rem .6rem;font-size:1.1rem}
.state b{margin:0 .4rem}
.sign{display:inline-block;margin-right:.3em}
.sign svg{display:inline-block!important;width:1em;height:1em;vertical-align:-.12em}
ul{margin:.4rem 0;padding-left:1.2rem}
ul.ticks{list-style:none;padding-left:0}
ul.ticks li{padding-left:1.6rem;text-indent:-1.6rem;margin:.3rem 0}
ul.ticks li::before{content:"";display:inline-block;width:.9rem;height:.9rem;border:1.5px solid #000;margin-right:.7rem;vertical-align:-.1rem}
table{border-collapse:collapse;width:100%;margin:.5rem 0;font-size:.9rem}
.table{overflow-x:auto}
.compact table{font-size:.78rem}
.compact td,.compact th{overflow-wrap:anywhere}
th,td{overflow-wrap:break-word;border:1px solid #777;padding:.2rem .35rem;text-align:left;vertical-align:top}
th{border-bottom:2px solid #000}
td svg{display:block;margin-top:2px;max-width:100%}
.revised{border-left:4px solid #000;padding-left:.3rem}
.letter{border:1px solid #000;padding:0 .2em;font-size:.8em}
figure{margin:.5rem 0;text-align:center}
figure svg{max-width:100%;height:auto}
svg text{font-family:"DejaVu Sans",Verdana,sans-serif}
.columns{display:flex;flex-wrap:wrap;gap:0 1rem;align-items:flex-start}
.columns>div{min-width:min(100%,17rem)}
.box{border:1.5px solid #000;padding:.2rem .6rem .4rem;margin:.6rem 0}
.box>.title{font-weight:bold;margin:.2rem 0}
.formula{display:grid;grid-template-columns:minmax(0,1fr) 12rem;gap:.5rem;margin:.5rem 0 .5rem 1rem}
.formula .lines{display:flex;flex-wrap:wrap;gap:.1rem .2rem;align-items:baseline;min-width:0}
.formula .lines>div{overflow-x:auto;overflow-y:hidden;padding:.2rem 0;max-width:100%}
.on-paper{display:none}
.formula .lines>.small{flex:1 0 100%}
.formula .clause{font-size:.8rem;border-left:1px solid #777;padding-left:.4rem}
math{font-size:1.05rem}
footer{margin-top:1.5rem;border-top:1px solid #000;font-size:.86rem}
@media (max-width:600px){
 table,tbody,tr,td{display:block;width:100%}
 thead{position:absolute;left:-999em}
 tr{border:1.5px solid #000;margin:.5rem 0}
 td{overflow-wrap:anywhere;border:0;border-bottom:1px solid #ccc;display:grid;grid-template-columns:7.5rem minmax(0,1fr);gap:.4rem}
 td::before{content:attr(data-head);font-weight:bold}
 td.bare{display:block}
 .formula{display:block;margin-left:0}
 .columns>div{flex:1 1 100%!important}
}
@media print{
 :root{font-size:9pt}
 body{max-width:none;padding:0;line-height:1.3}
 h1,h2,h3{break-after:avoid}
 tr,.formula,.box,figure,.state,.columns{break-inside:avoid}
 .formula .lines>div{overflow:visible}
 .wide math{display:none}
 .on-paper{display:inline}
 thead{display:table-header-group}
 .break{break-before:page}
}
)";

std::string page_rule(Paper paper) { return fmt::format("@page{{size:{};margin:14mm}}\n", paper == Paper::a4 ? "A4" : "letter"); }

/// A formula that would not fit beside its clause on a sheet: paper can't be scrolled, so the text on one line, which
/// breaks, stands there instead.
constexpr std::size_t kWide = 72;

/// The shape of a state, for the eye; the word stands beside.
std::string sign_svg(Sign sign) { return sign == Sign::none ? "" : "<span class=\"sign\">" + to_svg(sign_drawing(sign, 12)) + "</span>"; }

class HtmlWriter {
 public:
  std::string run(const Document& d) {
    out_ = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>{}{}</style>\n</head>\n<body>\n",
        escaped(d.language), escaped(d.title), kStyle, page_rule(d.paper));
    if (!d.running.empty()) out_ += fmt::format("<header class=\"running\">{}</header>\n", escaped(d.running));
    headings(d.blocks);
    out_ += "<main>\n";
    blocks(d.blocks);
    out_ += "</main>\n";
    if (!d.footer.empty()) out_ += fmt::format("<footer>{}</footer>\n", escaped(d.footer));
    for (const auto& f : d.inside) out_ += fmt::format("<template class=\"inside\" data-name=\"{}\">{}</template>\n", escaped(f.name), escaped(f.content));
    return std::move(out_) + "</body>\n</html>\n";
  }

  void operator()(const Heading& h) {
    const std::string id = h.anchor.empty() ? "" : fmt::format(" id=\"{}\"", escaped(h.anchor));
    out_ += fmt::format("<h{0}{1}{2}>{3}</h{0}>\n", h.level, id, broken_ ? " class=\"break\"" : h.revised.empty() ? "" : " class=\"revised\"", revision(h.revised) + escaped(h.text));
    broken_ = false;
  }
  void operator()(const Paragraph& p) {
    if (p.style == Style::code) {
      out_ += "<pre>" + escaped(p.text) + "</pre>\n";
      return;
    }
    const char* style = p.style == Style::strong ? " class=\"strong\"" : p.style == Style::small ? " class=\"small\"" : "";
    out_ += fmt::format("<p{}>{}</p>\n", style, linked(p.link, escaped(p.text)));
  }
  void operator()(const StateLine& s) {
    out_ += fmt::format("<p class=\"state\">{}<b>{}{}</b>{}</p>\n", sign_svg(s.sign), escaped(s.word), std::isnan(s.ratio) ? "" : " " + ratio_text(s.ratio), escaped(s.text));
  }
  void operator()(const List& l) {
    out_ += l.ticks ? "<ul class=\"ticks\">" : "<ul>";
    for (const auto& item : l.items) out_ += fmt::format("<li>{}</li>", escaped(item));
    out_ += "</ul>\n";
  }
  void operator()(const Table& t) {
    out_ += std::string(t.compact ? "<div class=\"table compact\">" : "<div class=\"table\">") + (t.say.empty() ? std::string("<table>") : fmt::format("<table aria-label=\"{}\">", escaped(t.say)));
    double sum = 0;
    for (const double s : t.shares) sum += s;
    if (sum > 0) {
      out_ += "<colgroup>";
      for (const double s : t.shares) out_ += fmt::format("<col style=\"width:{:.1f}%\">", 100 * s / sum);
      out_ += "</colgroup>";
    }
    if (!t.head.empty()) {
      out_ += "<thead><tr>";
      for (const auto& h : t.head) out_ += h.empty() ? "<td></td>" : fmt::format("<th scope=\"col\">{}</th>", escaped(h));
      out_ += "</tr></thead>";
    }
    out_ += "<tbody>\n";
    for (std::size_t r = 0; r < t.rows.size(); ++r) {
      static const std::vector<std::string> kNone;
      static const std::string kNoLetter;
      const auto& anchors = r < t.anchors.size() ? t.anchors[r] : kNone;
      const std::string& letter = r < t.revised.size() ? t.revised[r] : kNoLetter;
      out_ += anchors.empty() ? "<tr" : fmt::format("<tr id=\"{}\"", escaped(anchors[0]));
      out_ += letter.empty() ? ">" : " class=\"revised\">";
      for (std::size_t c = 0; c < t.rows[r].size(); ++c) {
        std::string also = c == 0 && anchors.size() > 1 ? fmt::format("<span id=\"{}\"></span>", escaped(anchors[1])) : "";
        if (c == 0) also += revision(letter);
        cell(t.rows[r][c], c < t.head.size() ? t.head[c] : "", also);
      }
      out_ += "</tr>\n";
    }
    out_ += "</tbody></table></div>\n";
  }
  void operator()(const Figure& f) { out_ += "<figure>" + to_svg(f.drawing) + "</figure>\n"; }
  void operator()(const Formula& f) {
    out_ += "<div class=\"formula\"><div class=\"lines\">";
    for (std::size_t i = 0; i < f.forms.size(); ++i) {
      const std::string left = i == 0 ? to_mathml(f.symbol.math) : "", text = (i == 0 ? f.symbol.text : "") + " = " + f.forms[i].text;
      const bool wide = text.size() > kWide;
      out_ += fmt::format("<div tabindex=\"0\"{}><math>{}<mo>=</mo>{}</math>{}</div>", wide ? (i == 0 ? " class=\"wide\"" : " class=\"more wide\"") : i == 0 ? "" : " class=\"more\"", left,
                          to_mathml(f.forms[i].math), wide ? fmt::format("<span class=\"on-paper\" aria-hidden=\"true\">{}</span>", escaped(text)) : "");
    }
    if (!f.say.empty()) out_ += fmt::format("<div class=\"small\">{}</div>", escaped(f.say));
    out_ += fmt::format("</div><div class=\"clause\">{}</div></div>\n", escaped(f.clause));
  }
  void operator()(const PageBreak&) { broken_ = true; }
  void operator()(const Contents& c) {
    out_ += fmt::format("<nav aria-label=\"{0}\"><p class=\"strong\">{0}</p><ul>", escaped(c.title));
    for (const auto& h : contents_) out_ += fmt::format("<li>{}</li>", linked(h->anchor, escaped(h->text)));
    out_ += "</ul></nav>\n";
  }
  void operator()(const Columns& c) {
    out_ += "<div class=\"columns\">\n";
    for (std::size_t i = 0; i < c.parts.size(); ++i) {
      out_ += fmt::format("<div style=\"flex:{} 1 0\">\n", i < c.shares.size() ? c.shares[i] : 1.0);
      blocks(c.parts[i]);
      out_ += "</div>\n";
    }
    out_ += "</div>\n";
  }
  void operator()(const Box& b) {
    out_ += "<section class=\"box\">";
    if (!b.title.empty()) out_ += fmt::format("<p class=\"title\">{}</p>\n", escaped(b.title));
    blocks(b.blocks);
    out_ += "</section>\n";
  }

 private:
  void blocks(const std::vector<Block>& all) {
    for (const auto& b : all) std::visit(*this, b.is);
  }
  void headings(const std::vector<Block>& all) {
    for (const auto& b : all)
      if (const auto* h = std::get_if<Heading>(&b.is); h && h->level <= 2 && !h->anchor.empty()) contents_.push_back(h);
  }
  static std::string revision(const std::string& letter) {
    return letter.empty() ? "" : fmt::format("<b class=\"letter\" title=\"changed in revision {0}\">{0}</b> ", escaped(letter));
  }
  static std::string linked(const std::string& anchor, const std::string& text) {
    return anchor.empty() ? text : fmt::format("<a href=\"#{}\">{}</a>", escaped(anchor), text);
  }
  void cell(const Cell& c, const std::string& head, const std::string& before) {
    std::string inner = before + sign_svg(c.sign) + linked(c.link, escaped(c.text));
    if (!c.page.empty()) inner += linked(c.page, "there");
    if (c.strong) inner = "<b>" + inner + "</b>";
    if (!std::isnan(c.bar)) inner += to_svg(ratio_bar(c.bar, 60, 6));
    out_ += head.empty() ? "<td class=\"bare\">" : fmt::format("<td data-head=\"{}\">", escaped(head));
    out_ += "<span>" + inner + "</span></td>";
  }

  std::string out_;
  std::vector<const Heading*> contents_;
  bool broken_ = false;
};

std::string unescaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    bool found = false;
    for (const auto& [name, c] : {std::pair("&amp;", '&'), std::pair("&lt;", '<'), std::pair("&gt;", '>'), std::pair("&quot;", '"'), std::pair("&#13;", '\r')}) {
      const std::string_view entity = name;
      if (text.substr(i, entity.size()) != entity) continue;
      out += c;
      i += entity.size();
      found = true;
      break;
    }
    if (!found) out += text[i++];
  }
  return out;
}

}  // namespace

std::string to_html(const Document& document) { return HtmlWriter().run(document); }

std::vector<Inside> inside_of_html(const std::string& html) {
  constexpr std::string_view kOpen = "<template class=\"inside\" data-name=\"", kClose = "</template>";
  std::vector<Inside> out;
  for (std::size_t at = html.find(kOpen); at != std::string::npos; at = html.find(kOpen, at)) {
    at += kOpen.size();
    const std::size_t name_end = html.find("\">", at), end = html.find(kClose, at);
    if (name_end == std::string::npos || end == std::string::npos || name_end > end) break;
    out.push_back({unescaped(std::string_view(html).substr(at, name_end - at)), unescaped(std::string_view(html).substr(name_end + 2, end - name_end - 2))});
    at = end;
  }
  return out;
}

}  // namespace jambcheck::document
