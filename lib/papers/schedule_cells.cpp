#include "papers/schedule_cells.h"

#include <cmath>
#include <map>

#include <fmt/format.h>

#include "text/suggest.h"

namespace jambcheck::papers {

using opening::Side;
using rules::State;

std::string ratio_of(const verdict::OpeningResult& r) {
  const bool counts = r.state == State::holds || r.state == State::short_;
  return !counts || std::isnan(r.ratio) ? "--" : std::isinf(r.ratio) ? "inf" : fmt::format("{:.2f}", r.ratio);
}

double number(const opening::Facts& facts, std::string_view path) {
  const auto* f = opening::fact(facts, path);
  return f && !f->unknown && f->kind == opening::Fact::Kind::number ? f->value : std::nan("");
}

double number(const opening::Opening& o, std::string_view path, Side side) {
  const auto* f = opening::fact(o, path, side);
  return f && !f->unknown && f->kind == opening::Fact::Kind::number ? f->value : std::nan("");
}

std::string base_of(const opening::Opening& o) {
  std::string out;
  for (const Side side : {Side::left, Side::right}) {
    std::string one = spaced(said(o, "jamb.kind", side));
    for (const char* path : {"jamb.size", "jamb.species", "jamb.mil", "jamb.masonry", "jamb.strength"})
      if (const auto more = spaced(said(o, path, side)); !more.empty()) one += " " + more;
    if (side == Side::left) out = one;
    else if (one != out) out += " / " + one;
  }
  return out;
}

std::string fastener_of(const verdict::OpeningResult& r, char part) {
  std::string out;
  for (const auto& c : r.connections)
    if (c.id[1] == part && out != c.fastener) out += (out.empty() ? "" : " / ") + c.fastener;
  return out;
}

std::string missing_in(const verdict::OpeningResult& r) {
  std::vector<std::string> out;
  for (const auto& q : r.questions) out.push_back(q.fields.empty() ? q.key : q.fields.front());
  return text::join(out);
}

std::string join_marks(const std::vector<std::string>& marks) {
  constexpr std::size_t kMost = 40;
  if (marks.size() <= kMost) return text::join(marks);
  return text::join({marks.begin(), marks.begin() + kMost}) + fmt::format(" and {} more", marks.size() - kMost);
}

std::vector<std::pair<const Type*, const Member*>> in_file_order(const opening::Project& project, const std::vector<Type>& types) {
  std::map<const opening::Opening*, std::pair<const Type*, const Member*>> by;
  for (const auto& t : types)
    for (const auto& m : t.members) by[m.opening] = {&t, &m};
  std::vector<std::pair<const Type*, const Member*>> out;
  for (const auto& o : project.openings)
    if (const auto it = by.find(&o); it != by.end()) out.push_back(it->second);
  return out;
}
}  // namespace jambcheck::papers
