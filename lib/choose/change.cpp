#include "choose/change.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include <fmt/format.h>

#include "choose/catalogue.h"
#include "opening/anchor_data.h"
#include "units/quantity.h"
#include "opening/bracket_pattern.h"

namespace jambcheck::choose {
namespace {

using opening::Fact;
using opening::Opening;
using opening::Project;
using opening::Side;
using rules::State;

/// A length that may be moved on the tape.
struct Tape {
  std::string_view name;
  double step;  ///< in
  int up, down;  ///< steps that are tried each way
};
// Sixteenths for places of holes, quarters for spacings: the steps of a tape.
constexpr std::array kGuide = {Tape{"edge", 1.0 / 16, 160, 0}, Tape{"other_edge", 1.0 / 16, 160, 0}, Tape{"end", 1.0 / 16, 320, 0}, Tape{"first", 1.0 / 16, 160, 0}, Tape{"spacing", 1.0 / 4, 120, 160}};
constexpr std::array kBracket = {Tape{"edge", 1.0 / 16, 160, 0}, Tape{"other_edge", 1.0 / 16, 160, 0}, Tape{"end", 1.0 / 16, 320, 0}, Tape{"across", 1.0 / 16, 160, 0}, Tape{"along", 1.0 / 16, 320, 0}};
constexpr std::array<std::string_view, 4> kItem = {"fastener.length", "fastener.embedment", "fastener.diameter", "fastener.washers"};

std::string shown(const Fact& f) {
  if (f.kind == Fact::Kind::word || f.kind == Fact::Kind::text) return f.word;
  if (f.shown.name == "in" || f.shown.name == "ft") return units::tape_inches(f.value);
  return units::show(f.value, f.shown);
}

class Steps {
 public:
  Steps(const Project& project, const rules::RuleSet& set, const Opening& o, bool bracket, Sides sides) : project_(project), set_(set), opening_(o), bracket_(bracket), sides_(sides), part_(bracket ? "bracket." : "guide.") {
    side_ = sides == Sides::right ? Side::right : Side::left;
  }

  std::vector<Change> of(const std::string& name) const {
    if (name == "pattern") return patterns();
    if (name.rfind("fastener.", 0) == 0) return items(name.substr(9));
    for (const Tape& tape : kGuide)
      if (!bracket_ && tape.name == name) return taped(tape);
    for (const Tape& tape : kBracket)
      if (bracket_ && tape.name == name) return taped(tape);
    return {};
  }

 private:
  const Fact* fact(const std::string& name) const {
    const Fact* f = opening::fact(opening_, part_ + name, side_);
    return f && !f->unknown ? f : nullptr;
  }
  Change start(const std::string& name, const std::string& now) const {
    Change c;
    c.field = part_ + name;
    c.now = now;
    return c;
  }
  /// Writes a fact where it counts: for both sides, or for one.
  void write(Change& c, const std::string& name, const Fact& f) const {
    if (sides_ == Sides::both) {
      c.facts[part_ + name] = f;
      for (const char* side : {"left.", "right."}) c.gone.push_back(side + part_ + name);
    } else {
      c.facts[std::string(opening::word(side_)) + "." + part_ + name] = f;
    }
  }

  std::vector<Change> taped(const Tape& tape) const {
    std::vector<Change> out;
    const std::string name(tape.name);
    const Fact* f = fact(name);
    if (!f || f->kind != Fact::Kind::number) return out;
    for (int k = 1; k <= std::max(tape.up, tape.down); ++k)
      for (const int sign : {-1, 1}) {
        if (k > (sign < 0 ? tape.down : tape.up)) continue;
        // From the next mark of the tape on: a value between two marks first goes to the nearest one.
        const double mark = sign < 0 ? std::ceil(f->value / tape.step - 1e-9) : std::floor(f->value / tape.step + 1e-9);
        const double value = (mark + sign * k) * tape.step;
        if (value <= 0 || !possible(name, value)) continue;
        Change c = start(name, shown(*f));
        Fact to = number(value);
        write(c, name, to);
        c.to = shown(to);
        out.push_back(std::move(c));
      }
    return out;
  }
  /// Holes stay on the wood and on the plate.
  bool possible(const std::string& name, double value) const {
    const Fact* width = opening::fact(opening_, "jamb.width", side_);
    const Fact* other = fact(name == "edge" ? "other_edge" : "edge");
    if ((name == "edge" || name == "other_edge") && width && !width->unknown && value + (other ? other->value : 0) > width->value + 1e-9) return false;
    if (name != "across" && name != "along") return true;
    const Fact* plate = fact(name == "across" ? "plate.width" : "plate.height");
    const opening::Pattern pattern = opening::bracket_pattern(opening_, side_);
    const std::size_t lines = name == "across" ? pattern.across : pattern.along;
    return !plate || lines < 2 || value * static_cast<double>(lines - 1) < plate->value;
  }

  std::vector<Change> items(const std::string& what) const {
    const std::string name = "fastener." + what;
    const Fact *kind = fact("fastener.kind"), *now = fact(name);
    std::vector<Change> out;
    if (!kind) return out;
    if (what == "washers") {
      for (const auto& w : words(set_, "choose.washers", "washers", {kind->word}))
        if (!now || now->word != w) {
          Change c = start(name, now ? now->word : "not given");
          write(c, name, word(w));
          c.to = w;
          out.push_back(std::move(c));
        }
      return out;
    }
    if (!now || now->kind != Fact::Kind::number) return out;
    std::vector<double> values;
    if (what == "length") values = column(set_, "fasteners.stock_lengths", "L", {kind->word});
    if (what == "embedment") values = embedments(*kind);
    if (what == "diameter") values = sizes(*kind);
    std::stable_sort(values.begin(), values.end(), [&](double a, double b) { return std::fabs(a - now->value) < std::fabs(b - now->value) - 1e-9; });
    for (const double value : values) {
      if (std::fabs(value - now->value) < 1e-9) continue;
      Change c = start(name, shown(*now));
      const Fact to = number(value);
      write(c, name, to);
      write(c, "fastener", renamed(*kind, what, value));
      if (what == "diameter")
        for (const char* old : {"head_diameter", "washer_diameter", "root_diameter", "thread_length", "tip", "number"}) drop(c, std::string("fastener.") + old);
      if (what == "length") drop(c, "fastener.thread_length");
      c.to = shown(to);
      out.push_back(std::move(c));
    }
    return out;
  }
  void drop(Change& c, const std::string& name) const {
    if (sides_ != Sides::both) return c.gone.push_back(std::string(opening::word(side_)) + "." + part_ + name);
    for (const char* side : {"", "left.", "right."}) c.gone.push_back(side + part_ + name);
  }
  Fact renamed(const Fact& kind, const std::string& what, double value) const {
    const Fact *d = fact("fastener.diameter"), *l = fact("fastener.length");
    std::string text = kind.word;
    std::replace(text.begin(), text.end(), '_', ' ');
    text += " " + inches(what == "diameter" ? value : d ? d->value : 0);
    if (l || what == "length") text += " x " + inches(what == "length" ? value : l->value);
    return word(text, Fact::Kind::text);
  }
  std::vector<double> embedments(const Fact& kind) const {
    std::vector<double> out;
    const Fact *data = fact("fastener.data"), *d = fact("fastener.diameter");
    for (const auto& a : project_.anchors)
      if (a->kind == kind.word && data && data->word == a->name)
        for (const auto& size : a->sizes)
          if (d && std::fabs(size.diameter.value - d->value) < 1e-6) out.push_back(size.embedment.value);
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
  }
  std::vector<double> sizes(const Fact& kind) const {
    const auto links = verdict::links_of(project_, opening_, set_, side_, bracket_, verdict::Cases::none);
    const std::string base = links.front().common.word("base.material");
    return base.empty() ? std::vector<double>() : diameters(set_, base, kind.word);
  }

  std::vector<Change> patterns() const {
    std::vector<Change> out;
    if (!bracket_) return out;
    std::vector<std::string> notes;
    const auto now = opening::bracket_pattern(opening_, side_).count;
    for (const auto& layout : layouts_of(opening_, set_, true, side_, notes)) {
      if (layout.holes <= now) continue;
      Change c = start("count", fmt::format("{}", now));
      for (const char* old : {"count", "columns", "rows", "across", "along", "holes"}) drop(c, old);
      for (const auto& [name, f] : layout.facts) write(c, name, f);
      c.to = layout.text;
      out.push_back(std::move(c));
    }
    return out;
  }

  const Project& project_;
  const rules::RuleSet& set_;
  const Opening& opening_;
  bool bracket_;
  Sides sides_;
  std::string part_;
  Side side_;
};

std::vector<verdict::Part> sides_of(bool bracket, Sides sides) {
  if (sides == Sides::left) return {{Side::left, bracket}};
  if (sides == Sides::right) return {{Side::right, bracket}};
  return {{Side::left, bracket}, {Side::right, bracket}};
}

/// Tries changes of one part on the block program, several at once: the nearest most often does.
class Tries {
 public:
  Tries(verdict::Briefs& briefs, const Project& project, const Opening& o, bool bracket, Sides sides) : briefs_(briefs), project_(project), opening_(o) {
    parts_ = sides == Sides::both ? verdict::sides_that_differ(o, bracket) : sides_of(bracket, sides);
    briefs_.hold_loads();
  }
  ~Tries() { briefs_.release(); }
  Tries(const Tries&) = delete;
  Tries& operator=(const Tries&) = delete;
  /// The first of the changes that holds; their number when none does.
  std::size_t first(const std::vector<Change>& changes) {
    std::size_t at = 0;
    for (std::size_t count = 8; at < changes.size(); at += count, count *= 2) {
      const auto holding = hold(std::span(changes).subspan(at, std::min(count, changes.size() - at)));
      if (const auto it = std::find(holding.begin(), holding.end(), true); it != holding.end()) return at + static_cast<std::size_t>(it - holding.begin());
    }
    return changes.size();
  }
  bool holds_unchanged() { return hold({{Change{}}}).front(); }

 private:
  std::vector<bool> hold(std::span<const Change> changes) {
    std::vector<bool> out(changes.size(), true);
    Opening tried;
    const auto candidate = [&](std::size_t, std::size_t c) -> const Opening& { return tried = changed(opening_, changes[c]); };
    for (const verdict::Part part : parts_) {
      const auto briefs = briefs_.candidates(project_, part, 1, changes.size(), candidate);
      for (std::size_t c = 0; c < changes.size(); ++c) out[c] = out[c] && briefs[c].state == State::holds;
    }
    return out;
  }
  verdict::Briefs& briefs_;
  const Project& project_;
  const Opening& opening_;
  std::vector<verdict::Part> parts_;
};

}  // namespace

Opening changed(Opening o, const Change& change) {
  for (const auto& path : change.gone) o.facts.erase(path);
  for (const auto& [path, f] : change.facts) o.facts[path] = f;
  return o;
}

std::vector<std::string> changeable(bool bracket) {
  std::vector<std::string> out;
  for (const Tape& tape : bracket ? std::vector<Tape>(kBracket.begin(), kBracket.end()) : std::vector<Tape>(kGuide.begin(), kGuide.end())) out.emplace_back(tape.name);
  if (bracket) out.emplace_back("pattern");
  out.insert(out.end(), kItem.begin(), kItem.end());
  return out;
}

std::vector<Change> steps_of(const Project& project, const rules::RuleSet& set, const Opening& o, bool bracket, Sides sides, const std::string& field) {
  return Steps(project, set, o, bracket, sides).of(field);
}

std::vector<Change> smallest_changes(verdict::Checker& checker, verdict::Briefs& briefs, const rules::RuleSet& set, const Project& project, const Opening& o, bool bracket, Sides sides) {
  std::vector<Change> out;
  Tries tries(briefs, project, o, bracket, sides);
  if (tries.holds_unchanged()) return out;
  const Steps steps(project, set, o, bracket, sides);
  for (const auto& field : changeable(bracket)) {
    auto changes = steps.of(field);
    const std::size_t first = tries.first(changes);
    if (first == changes.size()) continue;
    Change& change = changes[first];
    const Opening tried = changed(o, change);
    bool proven = true;
    for (const auto& p : sides_of(bracket, sides)) {
      const auto full = checker.check_part(project, tried, p.side, p.bracket);
      proven = proven && full.state == State::holds;
      change.ratio = std::max(change.ratio, std::isnan(full.ratio) ? 0 : full.ratio);
    }
    if (proven) out.push_back(std::move(change));
  }
  return out;
}

std::vector<Change> smallest_changes(verdict::Checker& checker, const rules::RuleSet& set, const Project& project, const Opening& o, bool bracket, Sides sides) {
  verdict::Briefs briefs(set, checker.plans());
  return smallest_changes(checker, briefs, set, project, o, bracket, sides);
}

}  // namespace jambcheck::choose
