// Summing up: allowances, packs, prices. What is counted stands in count.cpp.
#include "papers/takeoff.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include <fmt/format.h>

#include "text/suggest.h"

namespace jambcheck::papers {
namespace {

constexpr double kTie = 1e-9;  // 48.0000000001 pieces are 48

bool is_used_up_by_holes(Good good) { return good == Good::bit || good == Good::vacuum_bag; }

/// Share of a project's allowances; 0 while it is not given.
double share_of(const opening::Project& project, const char* path, bool& given) {
  const auto* f = opening::fact(project.facts, path);
  given = f && !f->unknown;
  return given ? f->value : 0;
}

double number_of(const opening::Project& project, const char* path) {
  const auto* f = opening::fact(project.facts, path);
  return f && !f->unknown ? f->value : std::nan("");
}

bool same_line(const Line& line, const Use& use, const std::string& phase) {
  return line.what.good == use.good && line.what.item == use.item && line.what.data == use.data && line.what.coating == use.coating && line.phase == phase;
}

void add_up(Takeoff& t) {
  for (const auto& use : t.uses) {
    const std::string phase = t.by_phase ? use.phase : "";
    auto it = std::find_if(t.lines.begin(), t.lines.end(), [&](const Line& l) { return same_line(l, use, phase); });
    if (it == t.lines.end()) {
      it = t.lines.insert(t.lines.end(), Line{});
      it->what = use;
      it->phase = phase;
    }
    it->net += use.net;
    if (!use.holds) it->open += use.net;
    if (it->marks.empty() || it->marks.back() != use.mark) it->marks.push_back(use.mark);
  }
}

choose::Supply supply_of(const choose::Prices& prices, const Use& use) {
  auto it = prices.supplies.find(use.key);
  if (it == prices.supplies.end() && use.good == Good::adhesive) it = prices.supplies.find("adhesive");
  return it == prices.supplies.end() ? choose::Supply{} : it->second;
}

/// Pieces without rounding; what is missing for them is told.
double pieces_of(const Takeoff& t, const Line& l, double pulls_a_day, std::string& why_not) {
  std::vector<std::string> missing;
  const auto need = [&](bool given, const char* what) {
    if (!given) missing.emplace_back(what);
  };
  double out = l.net;
  if (l.what.good == Good::puller_day) {
    need(!std::isnan(pulls_a_day), "allowances.pulls_per_day is not given");
    out = l.net / pulls_a_day;
  } else if (is_used_up_by_holes(l.what.good)) {
    need(t.loss_given, "allowances.drilling_loss is not given");
    need(!std::isnan(l.supply.lasts), "the price list does not say how many holes one lasts");
    out = (l.net + l.loss) / l.supply.lasts;
  } else if (l.what.good == Good::adhesive) {
    need(t.loss_given, "allowances.drilling_loss is not given");
    need(t.waste_given, "allowances.adhesive_waste is not given");
    need(!std::isnan(l.supply.content), "the price list does not say the content of a cartridge");
    out = (l.net + l.loss + l.waste) / l.supply.content;
  } else {
    need(t.loss_given, "allowances.drilling_loss is not given");
    need(t.spares_given, "allowances.spares is not given");
    out = l.net + l.loss + l.spares;
  }
  why_not = text::join(missing);
  return missing.empty() ? out : std::nan("");
}

/// Rounded up once: to whole packs, or to pieces where the pack is not known.
void round_up(Line& l) {
  if (std::isnan(l.pieces)) return;
  const double pack = l.supply.pack;
  if (!std::isnan(pack)) l.packs = std::ceil(l.pieces / pack - kTie);
  l.buy = std::isnan(pack) ? std::ceil(l.pieces - kTie) : l.packs * pack;
  l.left_over = std::floor(l.buy - l.pieces + kTie);
  l.cost = l.buy * l.supply.price;
}

void fill(Takeoff& t, Line& l, const choose::Prices& prices, double pulls_a_day) {
  const Good good = l.what.good;
  l.supply = supply_of(prices, l.what);
  if (good != Good::puller_day) l.loss = l.net * t.loss;
  if (in_pieces(good)) l.spares = l.net * t.spares;
  if (good == Good::adhesive) l.waste = (l.net + l.loss) * t.waste;
  l.pieces = pieces_of(t, l, pulls_a_day, l.why_not);
  round_up(l);
  t.priced = t.priced || !std::isnan(l.supply.price);
  t.packed = t.packed || !std::isnan(l.supply.pack);
}

}  // namespace

std::string join_some(const std::vector<std::string>& marks) {
  constexpr std::size_t kMost = 12;
  if (marks.size() <= kMost + 1) return text::join(marks);
  return text::join({marks.begin(), marks.begin() + kMost}) + fmt::format(" and {} more", marks.size() - kMost);
}

bool in_pieces(Good good) { return good == Good::fastener || good == Good::washer || good == Good::screen_tube || good == Good::shim; }

std::string_view word(Good good) {
  switch (good) {
    case Good::fastener: return "fastener";
    case Good::washer: return "washer";
    case Good::screen_tube: return "screen tube";
    case Good::shim: return "shim";
    case Good::bit: return "bit";
    case Good::adhesive: return "adhesive";
    case Good::vacuum_bag: return "vacuum bag";
    case Good::puller_day: return "puller day";
  }
  return "";
}

void sum_up(const opening::Project& project, const choose::Prices& prices, Takeoff& t) {
  t.loss = share_of(project, "allowances.drilling_loss", t.loss_given);
  t.spares = share_of(project, "allowances.spares", t.spares_given);
  t.waste = share_of(project, "allowances.adhesive_waste", t.waste_given);
  const double pulls_a_day = number_of(project, "allowances.pulls_per_day");
  add_up(t);
  for (auto& l : t.lines) fill(t, l, prices, pulls_a_day);
  std::stable_sort(t.lines.begin(), t.lines.end(), [](const Line& a, const Line& b) { return std::tie(a.what.good, a.phase, a.what.item) < std::tie(b.what.good, b.phase, b.what.item); });
  for (const auto& [reason, marks] : t.open_goods) t.uncounted.push_back(reason + ": " + join_some(marks));
}

}  // namespace jambcheck::papers
