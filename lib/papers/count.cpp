// Counting one opening: its fasteners, and what goes with each hole.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/takeoff.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

constexpr double kPi = 3.14159265358979323846;

std::string number_text(const Fastening& f) {
  const auto hash = f.row.fastener.find('#');
  if (hash == std::string::npos) return "";
  const auto end = f.row.fastener.find_first_of(" x", hash);
  return f.row.fastener.substr(hash, end == std::string::npos ? end : end - hash);
}

/// One name for one thing, however it was written: "lag screw 3/8" x 4"".
std::string item_of(const Fastening& f) {
  if (f.kind.empty()) return f.row.fastener.empty() ? "fastener not known" : f.row.fastener;
  std::string out = spaced(f.kind);
  if (const auto number = number_text(f); !number.empty()) out += " " + number;
  else if (const double d = f.value("fastener.diameter"); !std::isnan(d)) out += " " + units::tape_inches(d);
  const double length = f.value("fastener.length");
  return out + (std::isnan(length) ? ", length not known" : " x " + units::tape_inches(length));
}

std::string key_of(const Fastening& f) {
  const auto number = number_text(f);
  const auto n = number.empty() ? std::nullopt : text::parse_number(number.substr(1));
  return choose::fastener_key(f.kind, n ? -*n : f.value("fastener.diameter"), f.value("fastener.length"));
}

std::string size_text(double inches) { return std::isnan(inches) ? "size not known" : units::tape_inches(inches); }

/// Bits are sold in 64ths.
std::string bit_size(double diameter) {
  for (int whole = 2; whole <= 64; whole *= 2) {
    const double n = diameter * whole;
    if (std::fabs(n - std::round(n)) < 1e-6 && n < whole) return fmt::format("{}/{}\"", std::lround(n), whole);
  }
  return units::tape_inches(diameter);
}

/// The edition of the standard of what holds it, as the project names it.
std::string strength_of(const opening::Project& project, const Fastening& f) {
  const std::string edition = said(project.facts, "project.editions." + f.base);
  return edition.empty() ? f.base.empty() ? "" : f.base + " rules, edition not named" : edition;
}

/// Counts the goods of one row of holes.
class Counter {
 public:
  Counter(const opening::Opening& opening, const Fastening& f, Use common, Takeoff& out) : o_(opening), f_(f), common_(std::move(common)), out_(out) {}

  void run() {
    add(Good::fastener, item_of(f_), key_of(f_), count());
    washers();
    bits();
    shims();
    if (f_.kind == "adhesive_anchor") adhesive();
    if (f_.base == "masonry" || f_.base == "concrete") {
      if (!f_.row.drill.bits.empty()) add(Good::vacuum_bag, "vacuum bag", "vacuum bag", count());
      pulls();
    }
  }

 private:
  [[nodiscard]] double count() const { return common_.net; }
  void add(Good good, const std::string& item, const std::string& key, double net) {
    Use use = common_;
    use.good = good;
    use.item = item;
    use.key = key;
    use.net = net;
    if (good != Good::fastener) {
      if (good != Good::adhesive) use.data.clear();
      use.strength.clear();
      use.coating.clear();
      use.diameter = use.length = std::nan("");
    }
    out_.uses.push_back(std::move(use));
  }
  void open(const std::string& what) {
    auto& marks = out_.open_goods[what];
    if (marks.empty() || marks.back() != o_.mark) marks.push_back(o_.mark);
  }
  [[nodiscard]] std::string said_here(const char* name) const { return said(o_, f_.part + ".fastener." + name, f_.row.side); }

  void washers() {
    const double d = f_.value("fastener.diameter"), each = f_.washers == "both" ? 2 : f_.washers == "head" ? 1 : 0;
    if (each > 0) add(Good::washer, "washer for " + size_text(d), choose::goods_key("washer", d), each * count());
    else if (f_.washers.empty()) open("washers, because the file does not say whether there are any (" + f_.part + ".fastener.washers)");
  }
  void bits() {
    for (const auto& bit : f_.row.drill.bits)
      if (!std::isnan(bit.diameter)) add(Good::bit, "bit " + bit_size(bit.diameter), choose::goods_key("bit", bit.diameter), count());
      else open("bits, because no stock bit fits between the least and the greatest hole");
  }
  /// A shim at each fastener that goes through one: common practice, no source.
  void shims() {
    const auto* layers = opening::fact(o_, "jamb.layers", f_.row.side);
    const double gap = f_.value("side.gap");
    if (!layers || layers->unknown) {
      if (gap > 0) open("shims, because what fills the gap is not said (jamb.layers)");
      return;
    }
    for (std::size_t at = layers->word.find("shim"), i = 0; at != std::string::npos && i < layers->list.size(); at = layers->word.find("shim", at + 4), ++i) {
      const double thick = layers->list[static_cast<std::size_t>(std::count(layers->word.begin(), layers->word.begin() + static_cast<std::ptrdiff_t>(at), ','))];
      add(Good::shim, "shim " + size_text(thick), choose::goods_key("shim", thick), count());
    }
  }
  void adhesive() {
    const std::string tube = said_here("screen_tube");
    const double d = f_.value("fastener.diameter");
    if (tube == "yes") {
      add(Good::screen_tube, "screen tube for " + size_text(d), choose::goods_key("screen tube", d), count());
      open("adhesive, because in a screen tube the tube sets the volume: see its sheet");
      return;
    }
    if (f_.base == "masonry" && tube != "no") open("screen tubes, because the file does not say whether there are any (" + f_.part + ".fastener.screen_tube)");
    const auto& bits = f_.row.drill.bits;
    const double hole = bits.empty() ? std::nan("") : bits.front().diameter, deep = bits.empty() ? std::nan("") : bits.front().depth;
    const double volume = kPi / 4 * (hole * hole - d * d) * deep;
    if (!(volume > 0)) return open("adhesive, because the anchor's data give no hole, or its depth is not known");
    const std::string name = common_.data.empty() ? "" : " " + common_.data;
    add(Good::adhesive, "adhesive" + name, "adhesive" + name, volume * count());
  }
  /// Anchors of the proof sample, rounded up at each row of holes.
  void pulls() {
    const auto* share = opening::fact(o_.facts, "proof.share");
    if (!share || share->unknown) return open("days of the puller, because the proof sample is not given (proof.share)");
    const double each = std::ceil(share->value * static_cast<double>(f_.row.count) - 1e-9);
    add(Good::puller_day, "puller day", "puller day", each * count() / static_cast<double>(f_.row.count));
  }

  const opening::Opening& o_;
  const Fastening& f_;
  Use common_;
  Takeoff& out_;
};

}  // namespace

void count(const Fastenings& all, const opening::Project& project, const opening::Opening& opening, const std::string& type, const verdict::OpeningResult& result, Takeoff& out) {
  const std::size_t quantity = quantity_of(opening);
  for (const auto& f : all.parts) {
    if (f.row.count == 0) {
      out.uncounted.push_back(fmt::format("{} {}: how many fasteners it has is not known", opening.mark, f.row.name));
      continue;
    }
    Use common;
    common.mark = opening.mark;
    common.phase = said(opening.facts, "phase");
    common.floor = said(opening.facts, "floor");
    common.type = type;
    common.part = f.row.name;
    const std::string data = said(opening, f.part + ".fastener.data", f.row.side);
    common.data = data == "none" ? "" : data;
    common.strength = common.data.empty() ? strength_of(project, f) : "";
    common.coating = spaced(said(opening, f.part + ".fastener.coating", f.row.side));
    common.diameter = f.value("fastener.diameter");
    common.length = f.value("fastener.length");
    common.net = static_cast<double>(f.row.count * quantity);
    common.holds = result.state == rules::State::holds;
    Counter(opening, f, common, out).run();
  }
}

}  // namespace jambcheck::papers
