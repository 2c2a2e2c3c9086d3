#include "papers/takeoff.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "papers/schedule.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

using document::Document;
using document::Heading;
using document::Paragraph;
using document::Style;

/// One name for one thing, however it was written: "lag screw 3/8" x 4"".
std::string item_of(const Fastening& f) {
  if (f.kind.empty()) return f.row.fastener.empty() ? "fastener not known" : f.row.fastener;
  const auto hash = f.row.fastener.find('#');
  std::string out = spaced(f.kind);
  if (hash != std::string::npos) {
    const auto end = f.row.fastener.find_first_of(" x", hash);
    out += " " + f.row.fastener.substr(hash, end == std::string::npos ? end : end - hash);
  } else if (const double d = f.value("fastener.diameter"); !std::isnan(d)) {
    out += " " + units::tape_inches(d);
  }
  const double length = f.value("fastener.length");
  return out + (std::isnan(length) ? ", length not known" : " x " + units::tape_inches(length));
}

std::string bit_of(double diameter) {
  for (int whole = 2; whole <= 64; whole *= 2) {
    const double n = diameter * whole;
    if (std::fabs(n - std::round(n)) < 1e-6 && n < whole) return fmt::format("bit {}/{}\"", std::lround(n), whole);
  }
  return "bit " + units::tape_inches(diameter);
}

const char* phase_name(const std::string& phase) { return phase.empty() ? "no phase named" : phase.c_str(); }

std::string join_some(const std::vector<std::string>& marks) {
  constexpr std::size_t kMost = 40;
  if (marks.size() <= kMost) return text::join(marks);
  return text::join({marks.begin(), marks.begin() + kMost}) + fmt::format(" and {} more", marks.size() - kMost);
}

std::string share(double x, bool given) { return given ? text::rounded(x * 100) + " %" : "0 % (not given)"; }

}  // namespace

void count(const Fastenings& all, const opening::Opening& opening, const std::string& type, rules::State state, Takeoff& out) {
  const std::size_t quantity = quantity_of(opening);
  const std::string phase = said(opening.facts, "phase");
  const bool holds = state == rules::State::holds;
  for (const auto& f : all.parts) {
    if (f.row.count == 0) {
      out.uncounted.push_back(fmt::format("{} {}: how many fasteners it has is not known", opening.mark, f.row.name));
      continue;
    }
    const std::size_t net = f.row.count * quantity;
    const std::string data = said(opening, f.part + ".fastener.data", f.row.side);
    const auto add = [&](const std::string& item, const char* kind, std::size_t n, const std::string& from) {
      out.uses.push_back({item, kind, opening.mark, phase, type, f.row.name, from == "none" ? "" : from, n, holds});
    };
    add(item_of(f), "fastener", net, data);
    const double diameter = f.value("fastener.diameter");
    const std::string washer = "washer for " + (std::isnan(diameter) ? spaced(f.kind) : units::tape_inches(diameter));
    if (f.washers == "head") add(washer, "washer", net, "");
    if (f.washers == "both") add(washer, "washer", 2 * net, "");
    for (const auto& bit : f.row.drill.bits)
      if (!std::isnan(bit.diameter)) add(bit_of(bit.diameter), "bit", net, "");
  }
}

void sum_up(const opening::Project& project, Takeoff& t) {
  const auto of = [&](const char* path, bool& given) {
    const auto* f = opening::fact(project.facts, path);
    given = f && !f->unknown;
    return given ? f->value : 0.0;
  };
  t.loss = of("allowances.drilling_loss", t.loss_given);
  t.spares = of("allowances.spares", t.spares_given);
  for (const auto& u : t.uses) {
    const std::string phase = t.by_phase ? u.phase : "";
    auto it = std::find_if(t.lines.begin(), t.lines.end(), [&](const Line& l) { return l.item == u.item && l.kind == u.kind && l.phase == phase && l.data == u.data; });
    if (it == t.lines.end()) it = t.lines.insert(t.lines.end(), {u.item, u.kind, phase, u.data, 0, 0, 0, 0, 0, {}});
    it->net += u.net;
    if (!u.holds) it->open += u.net;
    if (std::find(it->marks.begin(), it->marks.end(), u.mark) == it->marks.end()) it->marks.push_back(u.mark);
  }
  for (auto& l : t.lines) {
    const double net = static_cast<double>(l.net);
    if (l.kind == "bit") continue;  // holes to be drilled with it; how many holes a bit lasts is not known here
    l.loss = net * t.loss;
    l.spares = net * t.spares;
    l.buy = static_cast<std::size_t>(std::ceil(net + l.loss + l.spares - 1e-9));
  }
  const auto rank = [](const Line& l) { return l.kind == "fastener" ? 0 : l.kind == "washer" ? 1 : 2; };
  std::stable_sort(t.lines.begin(), t.lines.end(), [&](const Line& a, const Line& b) { return std::tuple(rank(a), a.phase, a.item) < std::tuple(rank(b), b.phase, b.item); });
}

Document takeoff_paper(const opening::Project& project, const Takeoff& t, document::Paper paper) {
  Document d = blank(project, "take-off of fasteners", paper);
  d.add(Heading{1, "Take-off of fasteners", "takeoff"});
  d.add(Paragraph{fmt::format("Counted from the holes of each opening. Added for drilling loss: {}; for spares: {}. Rounded up once, {}.", share(t.loss, t.loss_given), share(t.spares, t.spares_given),
                              t.by_phase ? "for each item of a phase" : "for each item of the project"),
                  Style::plain});
  d.add(Paragraph{"\"Not settled\" counts those of openings that do not hold as they are: buy them when the answer is there.", Style::small});
  d.add(Heading{2, "By item: what to buy", "items"});
  document::Table items;
  items.head = {"item", "net", "+ loss", "+ spares", "to buy", "not settled", "supplied as", "for openings"};
  items.shares = {2.3, 0.65, 0.75, 1, 0.75, 0.95, 1.1, 2.2};
  items.say = "what to buy";
  if (t.by_phase) {
    items.head.insert(items.head.begin() + 1, "phase");
    items.shares.insert(items.shares.begin() + 1, 0.9);
  }
  std::vector<std::string> data;
  for (const auto& l : t.lines) {
    if (l.kind == "bit") continue;
    std::vector<document::Cell> row{{l.item + (l.data.empty() ? "" : " *"), document::Sign::none, document::kNoRatio, "", true}};
    if (t.by_phase) row.push_back({phase_name(l.phase)});
    for (const auto& text : {fmt::format("{}", l.net), text::rounded(l.loss, 6), text::rounded(l.spares, 6), fmt::format("{}", l.buy), l.open == 0 ? std::string("0") : fmt::format("{}", l.open), std::string(), join_some(l.marks)})
      row.push_back({text});
    items.rows.push_back(row);
    if (!l.data.empty() && std::find(data.begin(), data.end(), l.data) == data.end()) data.push_back(l.data);
  }
  d.add(items);
  if (!data.empty()) d.add(Paragraph{"* Its strength comes from the data of " + text::join(data) + ". Another make is another calculation.", Style::small});
  document::Table bits;
  bits.head = {"bit", "holes to drill", "for openings"};
  bits.shares = {1, 1, 4};
  for (const auto& l : t.lines)
    if (l.kind == "bit") bits.rows.push_back({{l.item}, {fmt::format("{}", l.net)}, {join_some(l.marks)}});
  if (!bits.rows.empty()) {
    d.add(Heading{2, "Bits", "bits"});
    d.add(Paragraph{"How many holes a bit lasts is not known here: buy by the holes.", Style::small});
    d.add(bits);
  }
  d.add(Heading{2, "By opening: what to bag", "bags"});
  document::Table bags;
  bags.head = {"opening", "type", "phase", "for", "item", "count"};
  bags.shares = {1.2, 0.65, 1, 1.4, 2.6, 0.8};
  for (const auto& u : t.uses)
    if (u.kind != "bit") bags.rows.push_back({{u.mark}, {u.type}, {u.phase}, {u.part}, {u.item}, {fmt::format("{}", u.net)}});
  d.add(bags);
  d.add(Heading{2, "By phase: what to send", "phases"});
  std::map<std::pair<std::string, std::string>, std::size_t> sums;
  for (const auto& u : t.uses)
    if (u.kind != "bit") sums[{u.phase, u.item}] += u.net;
  document::Table phases;
  phases.head = {"phase", "item", "net"};
  phases.shares = {1.4, 3, 0.8};
  for (const auto& [key, n] : sums) phases.rows.push_back({{phase_name(key.first)}, {key.second}, {fmt::format("{}", n)}});
  d.add(phases);
  if (!t.uncounted.empty()) {
    d.add(Heading{2, "Not counted", "uncounted"});
    d.add(document::List{t.uncounted, false});
  }
  return d;
}

std::vector<std::vector<std::string>> takeoff_rows(const Takeoff& t) {
  std::vector<std::vector<std::string>> out{{"kind", "item", "phase", "net", "drilling_loss", "spares", "to_buy", "not_settled", "data", "openings"}};
  for (const auto& l : t.lines)
    out.push_back({l.kind, l.item, l.phase, fmt::format("{}", l.net), text::rounded(l.loss, 6), text::rounded(l.spares, 6), l.kind == "bit" ? "" : fmt::format("{}", l.buy), fmt::format("{}", l.open), l.data, text::join(l.marks)});
  for (const auto& u : t.uncounted) out.push_back({"not counted", u, "", "", "", "", "", "", "", ""});
  return out;
}

std::vector<std::vector<std::string>> bag_rows(const Takeoff& t) {
  std::vector<std::vector<std::string>> out{{"opening", "type", "phase", "part", "kind", "item", "count"}};
  for (const auto& u : t.uses) out.push_back({u.mark, u.type, u.phase, u.part, u.kind, u.item, fmt::format("{}", u.net)});
  return out;
}

}  // namespace jambcheck::papers
