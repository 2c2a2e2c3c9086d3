#include "papers/card.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/pictograms.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

using document::Block;
using document::Cell;
using document::Document;
using document::Paragraph;
using document::Style;
using opening::Side;
using rules::State;

/// In one language; of two, each gets a side of the sheet, for both on one side would be too small to read at the jamb.
class Card {
 public:
  Card(const opening::Project& project, const opening::Opening& opening, const verdict::OpeningResult& result, const Fastenings& all, const CardWords& words, const CardOptions& options)
      : project_(project), o_(opening), result_(result), all_(all), w_(words), options_(options) {}

  Document run() {
    frame();
    if (result_.state == State::holds) instructions();
    else stop();
    d_.add(Paragraph{w_("not_approval"), Style::small});
    if (w_.language() != Language::english && !w_.own()) d_.add(Paragraph{w_.in(Language::spanish, "unreviewed"), Style::small});
    return std::move(d_);
  }

 private:
  /// So many heights that smaller letters keep the card on one side.
  [[nodiscard]] bool crowded() const {
    constexpr std::size_t kMany = 24;
    return std::any_of(all_.parts.begin(), all_.parts.end(), [](const Fastening& f) { return f.row.holes.size() > kMany; });
  }
  [[nodiscard]] bool metric() const { return all_.holes.metric; }
  [[nodiscard]] std::string tape(double x) const { return on_tape(x, metric()); }

  // ---- the frame: the same whatever the answer
  void frame() {
    d_.title = o_.mark;
    d_.language = w_.language() == Language::spanish ? "es" : "en";
    d_.paper = options_.paper;
    d_.one_page = true;
    d_.text_size = crowded() ? 9 : 10.5;
    d_.page_words = w_.in(w_.languages().front(), "page");
    d_.date = said(project_.facts, "project.date");
    d_.running = said(project_.facts, "project.name");
    if (said(project_.facts, "project.demo") == "yes") d_.running += "  (demo)";
    // The address holds the mark already.
    d_.footer = fmt::format("{} · {} · jambcheck {}", w_.in(w_.languages().front(), "working_at", {result_.governs.empty() ? o_.mark : result_.governs}), fingerprint(project_, o_), JAMBCHECK_VERSION);
    if (!d_.date.empty()) d_.footer += " · " + d_.date;
    std::string line = o_.mark;
    if (const auto where = said(o_.facts, "location"); !where.empty()) line += "   " + where;
    line += "   " + on_tape_short(all_.holes.across.opening, metric()) + " x " + on_tape_short(all_.holes.across.height, metric());
    d_.add(document::Heading{line.size() > 50 ? 2 : 1, line, ""});
    std::string under = w_(all_.holes.face_mounted ? "face" : "between");
    if (const auto type = said(o_.facts, "type"); !type.empty()) under += " · " + w_("type", {type});
    if (const auto rev = said(project_.facts, "project.revision"); !rev.empty()) under += " · " + w_("revision", {rev});
    d_.add(Paragraph{under, Style::plain});
    const bool number = result_.state == State::holds;
    d_.add(document::StateLine{sign_of(result_.state), state_word(), number ? w_("decided_by") + ": " + decided_by() + " (" + w_("said_of") + ")" : "", number ? result_.ratio : document::kNoRatio});
  }
  std::string state_word() const {
    switch (result_.state) {
      case State::holds: return w_("holds");
      case State::short_: return w_("short_");
      case State::not_shown: return w_("not_shown");
      default: return w_("engineer");
    }
  }
  /// The part whose check decides, by its address.
  std::string decided_by() const {
    for (const auto& c : result_.connections)
      if (!c.governs.empty() && c.governs == result_.governs) return part_name(c.id, c.links.size() > 1 && result_.governs.find("/L2/") != std::string::npos);
    return o_.mark;
  }
  std::string part_name(const std::string& id, bool board) const {
    const char* part = board || id.back() == 'K' ? "buck" : id.back() == 'B' ? "bracket" : "guide";
    return w_(part) + " " + w_(id.front() == 'L' ? "left" : "right");
  }

  // ---- no instructions
  void stop() {
    const char* what = result_.state == State::short_ ? "do_not_install" : result_.state == State::not_shown ? "answer_first" : "engineer_first";
    d_.add(Paragraph{w_(what), Style::strong});
    if (w_.language() != Language::english) d_.add(Paragraph{w_.in(Language::spanish, "reasons_english"), Style::small});
    std::vector<std::string> why{result_.why};
    for (const auto& f : result_.flags)
      if (std::find(why.begin(), why.end(), f.text) == why.end()) why.push_back(f.text);
    if (result_.state != State::not_shown || result_.questions.empty()) d_.add(document::Box{w_("why"), {{document::List{why, false}}}});
    if (result_.questions.empty()) return;
    std::vector<Block> asked;
    for (const auto& q : result_.questions) {
      asked.push_back({document::List{{q.ask + "  ______________________"}, true}});
      if (!q.find.empty()) asked.push_back({Paragraph{q.find, Style::small}});
      if (!q.fields.empty()) asked.push_back({Paragraph{w_("write_in_field", {text::join(q.fields)}), Style::small}});
    }
    d_.add(document::Box{w_("to_find_out"), asked});
  }

  // ---- instructions
  void instructions() {
    d_.add(Paragraph{w_("order"), Style::strong});
    pictures();
    table();
    tapes();
    const Block if_box = box("if_title", if_ids()), safety = box("safety_title", safety_ids(), safety_pictures());
    d_.add(document::Columns{{0.85, 1.15}, {{if_box, prove_box()}, {safety}}});
    d_.add(Paragraph{w_("done"), Style::plain});
  }
  /// How many are pulled, to which load, for how long, as the project says it; blanks to be filled in where it does not.
  Block prove_box() const {
    std::vector<Block> lines;
    const auto* share = opening::fact(o_.facts, "proof.share");
    const std::string hold = said(o_.facts, "proof.hold"), from = said(o_.facts, "proof.from");
    for (const char* part : {"guide", "bracket"}) {
      std::size_t all = 0, pulled = 0;
      std::string load;
      for (const auto& f : all_.parts) {
        if (f.part != part || !shown(f)) continue;
        all += f.row.count;
        if (share && !share->unknown) pulled += static_cast<std::size_t>(std::ceil(share->value * static_cast<double>(f.row.count) - 1e-9));
        if (load.empty()) load = said(o_, f.part + ".proof_load", f.row.side);
      }
      if (load.empty() || load == "unknown") continue;
      lines.push_back({Paragraph{w_("prove", {pulled == 0 ? "____" : fmt::format("{}", pulled), fmt::format("{}", all), w_(part), load, hold.empty() ? "____ s" : hold}), Style::plain}});
    }
    if (lines.empty()) lines.push_back({Paragraph{w_("prove_open"), Style::plain}});
    lines.push_back({Paragraph{from.empty() ? w_("prove_by") : w_("prove_from", {from}), Style::small}});
    return {document::Box{w_("prove_title"), lines}};
  }
  Block safety_pictures() const {
    std::vector<std::pair<Picture, std::vector<std::string>>> out;
    const auto add = [&](Picture picture, const char* id) {
      out.emplace_back(picture, std::vector<std::string>{w_(id)});
    };
    add(Picture::spring, "pic_spring");
    add(Picture::people, "pic_people");
    add(Picture::eyes, "pic_eyes");
    add(Picture::wires, "pic_wires");
    if (drills_masonry()) add(Picture::vacuum, "pic_vacuum");
    return {document::Figure{picture_row(out, 32, 34, 9)}};
  }
  const Fastening* first_guide() const {
    for (const auto& f : all_.parts)
      if (f.part == "guide" && (options_.sides != Sides::right || f.row.side == Side::right)) return &f;
    return nullptr;
  }
  [[nodiscard]] bool shown(const Fastening& f) const {
    return options_.sides == Sides::both || (options_.sides == Sides::left) == (f.row.side == Side::left);
  }
  /// Both jambs are drawn only when they differ.
  [[nodiscard]] Sides drawn_sides() const {
    if (options_.sides != Sides::both) return options_.sides;
    for (const auto& f : all_.parts)
      for (const auto& g : all_.parts)
        if (f.part == g.part && f.row.side != g.row.side && !f.alike(g)) return Sides::both;
    return Sides::left;
  }
  void pictures() {
    const std::string kind = said(o_, "jamb.kind", options_.sides == Sides::right ? Side::right : Side::left);
    document::Columns c;
    c.shares = {0.95, 1.05};
    const Sides sides = drawn_sides();
    std::vector<Block> left{{Paragraph{w_("elevation"), Style::strong}}};
    left.push_back({document::Figure{elevation(all_, kind, sides, options_.no_drill, w_, {235, crowded() ? 215.0 : 250.0, 9.6})}});
    if (options_.sides == Sides::both && sides == Sides::left) left.push_back({Paragraph{w_("both_jambs"), Style::plain}});
    if (!bracket_height_known()) left.push_back({Paragraph{w_("bracket_above"), Style::plain}});
    std::vector<Block> right;
    right.push_back({document::Box{w_("before"), ticks()}});
    section_of(kind, right);
    c.parts = {left, right};
    d_.add(c);
  }
  void section_of(const std::string& kind, std::vector<Block>& right) const {
    const Fastening* guide = first_guide();
    if (!guide) return;
    std::string scale;
    auto drawing = section(*guide, kind, options_.no_drill, metric(), w_, {275, 128, 9.6}, scale);
    right.push_back({Paragraph{scale == "1:1" ? w_("section_full") : w_("section", {scale}), Style::strong}});
    right.push_back({document::Figure{std::move(drawing)}});
    if (!all_.holes.face_mounted) return;
    const double strip = std::isnan(options_.no_drill) ? (guide->row.holes.empty() ? guide->value("edge.loaded") : guide->row.holes.front().edge) : options_.no_drill;
    right.push_back({Paragraph{w_("no_drill", {tape(strip)}), Style::small}});
  }
  bool bracket_height_known() const {
    for (const auto& f : all_.parts)
      if (f.part == "bracket" && !f.row.holes.empty() && !std::isnan(f.row.holes.front().height)) return true;
    return false;
  }
  std::string jamb_words(Side side) const {
    std::string out;
    const auto add = [&](const std::string& text) {
      if (!text.empty()) out += (out.empty() ? "" : ", ") + text;
    };
    const auto kind = said(o_, "jamb.kind", side);
    add(CardWords::knows(kind) ? w_(kind) : spaced(kind));
    for (const char* path : {"jamb.size", "jamb.species", "jamb.mil", "jamb.grade", "jamb.form", "jamb.masonry"}) add(spaced(said(o_, path, side)));
    if (const auto t = opening::fact(o_, "jamb.thickness", side); t && !t->unknown) add(tape(t->value));
    if (const auto filled = said(o_, "jamb.filled", side); !filled.empty()) add(w_(filled == "yes" ? "filled" : filled == "no" ? "hollow" : "open"));
    add(said(o_, "jamb.strength", side));
    return out;
  }
  std::vector<std::pair<std::string, std::vector<std::string>>> tick_ids() const {
    const Side side = options_.sides == Sides::right ? Side::right : Side::left;
    std::vector<std::pair<std::string, std::vector<std::string>>> out;
    out.push_back({"jamb_is", {jamb_words(side)}});
    if (options_.sides == Sides::both && jamb_words(Side::left) != jamb_words(Side::right)) out.back() = {"jamb_is", {w_("left") + ": " + jamb_words(Side::left) + "; " + w_("right") + ": " + jamb_words(Side::right)}};
    const auto buck = opening::fact(o_, "buck.kind", side);
    if (buck && !buck->unknown && buck->word != "none") {
      const auto size = said(o_, "buck.size", side);
      out.push_back({"buck_is", {size.empty() ? said(o_, "buck.thickness", side) : size}});
    }
    const Fastening* guide = first_guide();
    const double gap = guide ? guide->value("side.gap") : std::nan("");
    const auto layers = said(o_, "jamb.layers", side);
    if (gap > 0) out.push_back({"gap_is", {layers.empty() ? tape(gap) : layers + " = " + tape(gap)}});
    else out.push_back({"gap_none", {}});
    if (guide && guide->base == "wood") out.push_back({"dry", {}});
    out.push_back({"sound", {}});
    std::vector<std::string> fasteners;
    for (const auto& f : all_.parts)
      if (shown(f) && std::find(fasteners.begin(), fasteners.end(), fastener_words(f)) == fasteners.end()) fasteners.push_back(fastener_words(f));
    out.push_back({"fasteners_are", {text::join(fasteners)}});
    if (const auto locks = said(o_.facts, "door.windlocks"); locks == "yes" || locks == "no") out.push_back({"windlocks_are", {w_(locks)}});
    return out;
  }
  std::vector<Block> ticks() const {
    std::vector<std::string> items;
    for (const auto& [id, fill] : tick_ids()) items.push_back(w_(id, fill));
    return {{document::List{items, true}}, {Paragraph{w_("any_unticked"), Style::strong}}};
  }
  /// Kind in the user's language, sizes as they are.
  std::string fastener_words(const Fastening& f) const {
    const auto digit = f.row.fastener.find_first_of("0123456789#");
    const std::string sizes = digit == std::string::npos ? "" : f.row.fastener.substr(digit);
    const std::string kind = CardWords::knows(f.kind) ? w_(f.kind) : spaced(f.kind);
    return kind.empty() ? f.row.fastener : kind + " " + sizes;
  }

  void table() {
    document::Table t;
    t.head = {w_("what"), w_("count"), w_("size"), w_("depth"), w_("bit"), w_("spacing"), w_("edge"), w_("end"), w_("tighten")};
    t.shares = {1.15, 0.8, 1.35, 1.05, 1.2, 0.95, 0.95, 0.95, 1.2};
    t.say = "what to drill and set";
    std::vector<bool> done(all_.parts.size(), false);
    for (std::size_t i = 0; i < all_.parts.size(); ++i) {
      const Fastening& f = all_.parts[i];
      if (done[i] || !shown(f)) continue;
      std::string name = w_(f.part), count = count_text(f);
      bool both = false;
      for (std::size_t k = i + 1; k < all_.parts.size(); ++k)
        if (shown(all_.parts[k]) && f.alike(all_.parts[k])) {
          done[k] = true;
          both = true;
          count += " + " + count_text(all_.parts[k]);
        }
      name += ", " + w_(both ? "both_sides" : f.row.side == Side::left ? "left" : "right");
      t.rows.push_back({{name}, {count}, {fastener_words(f)}, {depth_text(f)}, {bit_text(f)}, {spacing_text(f)}, {tape(edge_of(f))}, {tape(end_of(f))}, {tighten_text(f)}});
    }
    d_.add(t);
  }
  static std::string count_text(const Fastening& f) { return f.row.count == 0 ? "--" : fmt::format("{}", f.row.count); }
  static double edge_of(const Fastening& f) {
    double least = std::nan("");
    for (const auto& h : f.row.holes)
      if (!(h.edge >= least)) least = h.edge;
    return std::isnan(least) ? f.value("edge.loaded") : least;
  }
  static double end_of(const Fastening& f) {
    double least = std::nan("");
    for (const auto& h : f.row.holes)
      for (const double e : {h.end_below, h.end_above})
        if (!std::isnan(e) && !(e >= least)) least = e;
    return std::isnan(least) ? f.value("end.distance") : least;
  }
  std::string spacing_text(const Fastening& f) const {
    double least = std::nan("");
    for (const auto& h : f.row.holes)
      if (!std::isnan(h.neighbour) && h.neighbour_name.rfind(f.row.id, 0) == 0 && !(h.neighbour >= least)) least = h.neighbour;
    return std::isnan(least) ? "--" : tape(least);
  }
  std::string depth_text(const Fastening& f) const {
    double deepest = std::nan("");
    for (const auto& b : f.row.drill.bits)
      if (!std::isnan(b.depth) && !(b.depth <= deepest)) deepest = b.depth;
    return std::isnan(deepest) ? w_("open") : tape(deepest);
  }
  std::string bit_text(const Fastening& f) const {
    std::vector<std::string> out;
    for (const auto& b : f.row.drill.bits) {
      if (std::isnan(b.diameter)) continue;
      const std::string size = bit_size(b.diameter);
      out.push_back(b.what == "shank" ? w_("shank_bit", {size}) : b.what == "thread" ? w_("thread_bit", {size}) : size);
    }
    if (!out.empty()) return text::join(out);
    return f.row.drill.say.empty() ? w_("open") : f.row.drill.say;
  }
  /// Bits are sold in 64ths.
  static std::string bit_size(double inches) {
    for (int whole = 2; whole <= 64; whole *= 2) {
      const double n = inches * whole;
      if (std::fabs(n - std::round(n)) < 1e-6) return n > whole ? units::tape_inches(inches) : fmt::format("{}/{}\"", std::lround(n), whole);
    }
    return fmt::format("{} mm", text::rounded(inches * 25.4, 3));
  }
  std::string tighten_text(const Fastening& f) const {
    if (!std::isnan(f.row.drill.torque)) return fmt::format("{} ft-lb", text::rounded(f.row.drill.torque / 12, 3));
    if (f.base == "wood") return w_("snug");
    return f.base == "steel" ? w_("snug_steel") : w_("by_sheet");
  }
  /// The running tape once more as figures, for a phone and for those who do not read drawings.
  void tapes() {
    std::vector<bool> done(all_.parts.size(), false);
    for (std::size_t i = 0; i < all_.parts.size(); ++i) {
      const Fastening& f = all_.parts[i];
      if (done[i] || !shown(f) || f.row.holes.empty()) continue;
      bool both = false;
      for (std::size_t k = i + 1; k < all_.parts.size(); ++k)
        if (shown(all_.parts[k]) && f.alike(all_.parts[k])) done[k] = both = true;
      const std::string name = w_(f.part) + " " + w_(both ? "both_sides" : f.row.side == Side::left ? "left" : "right");
      const bool floor = !std::isnan(f.row.holes.front().height);
      if (f.part != "bracket" && !floor) continue;
      std::vector<std::string> marks;
      for (const auto& h : f.row.holes) {
        const std::string at = on_tape_short(floor ? h.height : h.above_lowest, metric());
        if (f.part == "bracket") marks.push_back(at + " (" + w_("edge") + " " + on_tape_short(h.edge, metric()) + ")");
        else marks.push_back(at);
      }
      d_.add(Paragraph{w_(floor ? "tape" : "pattern", {name, joined(marks)}), Style::plain});
    }
  }
  static std::string joined(const std::vector<std::string>& marks) {
    std::string out;
    for (const auto& m : marks) out += (out.empty() ? "" : " · ") + m;
    return out;
  }
  std::vector<std::string> if_ids() const {
    std::vector<std::string> out{"if_spins"};
    const Fastening* guide = first_guide();
    const std::string base = guide ? guide->base : "";
    if (base == "wood") out.emplace_back("if_wet");
    else if (base == "steel") out.emplace_back("if_thin");
    else out.insert(out.end(), {"if_cracks", "if_steel"});
    if (base == "masonry") out.emplace_back("if_hollow");
    return out;
  }
  std::vector<std::string> safety_ids() const {
    std::vector<std::string> out{"safe_spring", "safe_trained", "safe_lift", "safe_tie", "safe_eyes", "safe_wires"};
    if (drills_masonry()) out.insert(out.end(), {"safe_dust", "safe_clean"});
    return out;
  }
  bool drills_masonry() const {
    return std::any_of(all_.parts.begin(), all_.parts.end(), [](const Fastening& f) { return f.base == "concrete" || f.base == "masonry"; });
  }
  Block box(const char* title, const std::vector<std::string>& ids, const Block& above) const {
    Block out = box(title, ids);
    auto& blocks = std::get<document::Box>(out.is).blocks;
    blocks.insert(blocks.begin(), above);
    return out;
  }
  Block box(const char* title, const std::vector<std::string>& ids) const {
    std::vector<std::string> items;
    for (const auto& id : ids) items.push_back(w_(id));
    return {document::Box{w_(title), {{document::List{items, false}}}}};
  }

  const opening::Project& project_;
  const opening::Opening& o_;
  const verdict::OpeningResult& result_;
  const Fastenings& all_;
  const CardWords& w_;
  const CardOptions& options_;
  Document d_;
};

void add_facts(const opening::Facts& facts, std::uint64_t& h) {
  const auto add = [&](const std::string& text) {
    for (const char c : text) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    h = (h ^ 0x1fULL) * 1099511628211ULL;
  };
  for (const auto& [path, f] : facts) {
    add(path);
    if (f.unknown) add("unknown");
    else if (f.kind == opening::Fact::Kind::number) add(text::shortest(f.value));
    else add(f.word);
    for (const double x : f.list) add(text::shortest(x));
  }
}

void add_choices(const std::vector<opening::Choice>& choices, std::uint64_t& h) {
  for (const auto& c : choices)
    for (const auto& option : c.options) add_facts(option.facts, h);
}

constexpr std::uint64_t kStart = 1469598103934665603ULL;

std::string shortened(std::uint64_t h) { return fmt::format("{:08x}", static_cast<std::uint32_t>(h ^ (h >> 32))); }

}  // namespace

document::Sign sign_of(State state) {
  switch (state) {
    case State::holds: return document::Sign::holds;
    case State::short_: return document::Sign::short_;
    case State::engineer: return document::Sign::engineer;
    case State::not_shown: return document::Sign::not_shown;
    case State::not_applicable: return document::Sign::none;
  }
  return document::Sign::none;
}

std::string fingerprint(const opening::Project& project, const opening::Opening& opening) {
  std::uint64_t h = kStart;
  add_facts(project.facts, h);
  add_choices(project.choices, h);
  add_facts(opening.facts, h);
  add_choices(opening.choices, h);
  return shortened(h);
}

std::string fingerprint(const opening::Project& project) {
  std::uint64_t h = kStart;
  add_facts(project.facts, h);
  add_choices(project.choices, h);
  for (const auto& o : project.openings) {
    add_facts({{"mark", {opening::Fact::Kind::text, 0, {}, o.mark, {}, false, opening::Origin::given, "", {}}}}, h);
    add_facts(o.facts, h);
    add_choices(o.choices, h);
  }
  return shortened(h);
}

document::Document card(const opening::Project& project, const opening::Opening& opening, const verdict::OpeningResult& result, const Fastenings& all, const CardWords& words, const CardOptions& options) {
  document::Document out;
  for (const Language language : words.languages()) {
    CardWords one = words;
    one.speak(language);
    document::Document side = Card(project, opening, result, all, one, options).run();
    if (out.blocks.empty()) {
      out = std::move(side);
      continue;
    }
    out.add(document::PageBreak{});
    out.blocks.insert(out.blocks.end(), side.blocks.begin(), side.blocks.end());
  }
  return out;
}

}  // namespace jambcheck::papers
