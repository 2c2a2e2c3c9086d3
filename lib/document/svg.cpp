#include <fmt/format.h>

#include "document/writers.h"

namespace jambcheck::document {
namespace {

std::string number(double x) {
  std::string s = fmt::format("{:.2f}", x);
  while (s.back() == '0') s.pop_back();
  if (s.back() == '.') s.pop_back();
  return s == "-0" ? "0" : s;
}

const char* paint(Fill fill) {
  switch (fill) {
    case Fill::none: return "none";
    case Fill::white: return "#fff";
    case Fill::grey: return "#bbb";
    case Fill::black: return "#000";
  }
  return "none";
}

struct Writer {
  std::string& out;
  void operator()(const Stroke& s) const {
    std::string points;
    for (const auto& p : s.points) points += (points.empty() ? "" : " ") + number(p.x) + "," + number(p.y);
    out += fmt::format("<{} points=\"{}\" fill=\"{}\"", s.closed ? "polygon" : "polyline", points, paint(s.fill));
    if (s.width > 0) out += fmt::format(" stroke=\"#000\" stroke-width=\"{}\"", number(s.width));
    out += s.dashed ? " stroke-dasharray=\"4 2\"/>" : "/>";
  }
  void operator()(const Disc& d) const {
    out += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"", number(d.at.x), number(d.at.y), number(d.radius), paint(d.fill));
    if (d.width > 0) out += fmt::format(" stroke=\"#000\" stroke-width=\"{}\"", number(d.width));
    out += "/>";
  }
  void operator()(const Label& l) const {
    const char* anchor = l.align == Align::left ? "start" : l.align == Align::middle ? "middle" : "end";
    out += fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"{}>{}</text>", number(l.at.x), number(l.at.y), number(l.size), anchor,
                       l.strong ? " font-weight=\"bold\"" : "", escaped(l.text));
  }
};

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\r': out += "&#13;"; break;
      // What HTML forbids is left out; line ends and tabs stay.
      default:
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
    }
  }
  return out;
}

std::string to_svg(const Drawing& d) {
  std::string out = fmt::format("<svg viewBox=\"0 0 {} {}\" width=\"{}\" height=\"{}\" ", number(d.width), number(d.height), number(d.width * 4 / 3), number(d.height * 4 / 3));
  out += d.say.empty() ? "aria-hidden=\"true\">" : fmt::format("role=\"img\" aria-label=\"{}\">", escaped(d.say));
  for (const auto& shape : d.shapes) std::visit(Writer{out}, shape);
  return out + "</svg>";
}

std::string to_mathml(const Math& m) {
  const auto parts = [&] {
    std::string all;
    for (const auto& p : m.parts) all += to_mathml(p);
    return all;
  };
  const auto wrap = [](const char* tag, const std::string& inner) { return fmt::format("<{0}>{1}</{0}>", tag, inner); };
  switch (m.kind) {
    case Math::Kind::name: return wrap("mi", escaped(m.text));
    case Math::Kind::number: return wrap("mn", escaped(m.text));
    case Math::Kind::words: return wrap("mtext", escaped(m.text));
    case Math::Kind::sign: return wrap("mo", escaped(m.text));
    case Math::Kind::row: return wrap("mrow", parts());
    case Math::Kind::fraction: return wrap("mfrac", parts());
    case Math::Kind::root: return wrap("msqrt", parts());
    case Math::Kind::power: return wrap("msup", parts());
    case Math::Kind::subscript: return wrap("msub", parts());
    case Math::Kind::brackets: return wrap("mrow", "<mo>(</mo>" + parts() + "<mo>)</mo>");
  }
  return "";
}

}  // namespace jambcheck::document
