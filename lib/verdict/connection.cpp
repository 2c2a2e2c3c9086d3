#include "verdict/connection.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include <fmt/format.h>

#include "opening/field.h"
#include "text/number.h"
#include "units/quantity.h"
#include "verdict/anchor.h"
#include "verdict/board.h"
#include "rules/cell.h"
#include "opening/bracket_pattern.h"
#include "verdict/key_writer.h"
#include "verdict/load_cases.h"

namespace jambcheck::verdict {
namespace {

using opening::Fact;
using opening::Side;
using rules::Case;
using rules::Reason;
using rules::ReasonKind;
using rules::RuleSet;
using rules::State;

constexpr double kLeastLever = 0.25;  // in: the least lever that the guide rules take

/// A link of the load path: hardware to what it is screwed to, or a board to the jamb behind it.
enum class Link { hardware, board };

/// Path and key of the fields of an opening below a group that name their key, in the order of the list.
struct NamedFields {
  std::vector<std::pair<std::string, std::string>> list;
  std::unordered_map<std::string_view, std::size_t> place;  ///< in the list, by path
};
const NamedFields& named_fields(const std::string& group) {
  static const auto all = [] {
    std::map<std::string, NamedFields, std::less<>> out;
    for (const char* name : {"jamb.", "test.", "buck.fastener.", "guide.", "bracket."}) {
      NamedFields& named = out[name];
      for (const auto& field : opening::fields())
        if (field.level == opening::Level::each && field.path.substr(0, std::string_view(name).size()) == name && field.words.substr(0, 4) == "key:")
          named.list.emplace_back(field.path, field.words.substr(4));
      for (std::size_t i = 0; i < named.list.size(); ++i) named.place.emplace(named.list[i].first, i);
    }
    return out;
  }();
  return all.at(group);
}

/// Fills the case of one link of one connection from the facts of its side.
class Builder : private KeyWriter {
 public:
  Builder(const opening::Project& project, const opening::Opening& o, const RuleSet& set, Side side, bool bracket, Link link = Link::hardware)
      : KeyWriter(project, o, set, side), bracket_(bracket), link_(link), part_(bracket ? "bracket" : "guide"), fastener_(link == Link::board ? "buck.fastener" : part_ + ".fastener"), board_(read_board(o, set, side)) {}

  Connection build(Cases cases, LinkStart* start) {
    if (start && start->known) {
      out_ = start->connection;
      method_ = start->method;
      counted_ = start->counted;
    } else {
      begin();
      if (start) *start = {true, out_, method_, counted_};
    }
    out_.fastener = fastener_text();
    if (link_ == Link::board) add_board_as_side();
    else add_hardware();
    add_fastener();
    add_anchor();
    if (bracket_) add_bracket();
    else add_guide();
    out_.turns = std::max<std::size_t>(1, holes_);
    if (cases != Cases::none) add_load_cases(*this, {bracket_, method_, counted_, shares_, cases == Cases::first}, out_);
    return std::move(out_);
  }
  /// Whether the board behind this part has a fastening of its own to be checked.
  [[nodiscard]] bool has_board() const { return board_.carries(); }

 private:
  /// What reads nothing below the part: see LinkStarts.
  void begin() {
    out_.id = std::string(side_ == Side::left ? "L" : "R") + (bracket_ ? "B" : "G");
    out_.name = std::string(opening::word(side_)) + " " + part_;
    out_.link_id = link_ == Link::hardware ? "L1" : "L2";
    out_.link = link_ == Link::board ? "board to jamb" : part_ + (board_.carries() ? " to board" : " to jamb");
    if (link_ == Link::board) out_.asker = {"buck", false};
    else out_.asker = {bracket_ ? "bracket" : "guide", board_.carries()};
    choose_method();
    add_basis();
    add_door();
    if (link_ == Link::hardware && board_.carries()) add_board_as_base();
    else add_jamb();
  }

  void set(const std::string& key, const Fact* f) { set_in(out_.common, key, f); }
  void copy(const std::string& key, const std::string& path) { set(key, find(path)); }
  void engineer(const std::string& code, const std::string& text) {
    Reason r;
    r.kind = ReasonKind::uncovered;
    r.code = code;
    r.text = text;
    r.leads_to = State::engineer;
    out_.reasons.push_back(r);
  }

  /// As written, or put together from its parts: "tapping screw #12 x 1 in".
  std::string fastener_text() const {
    if (const Fact* f = find(fastener_)) return f->unknown ? "unknown" : f->word;
    std::string out;
    if (const Fact* kind = find(fastener_ + ".kind"); known(kind)) out = kind->word;
    std::replace(out.begin(), out.end(), '_', ' ');
    if (const Fact* number = find(fastener_ + ".number"); known(number)) out += fmt::format(" #{}", text::rounded(number->value));
    if (const Fact* diameter = find(fastener_ + ".diameter"); known(diameter)) out += " " + units::show(diameter->value, diameter->shown);
    if (const Fact* length = find(fastener_ + ".length"); known(length)) out += " x " + units::show(length->value, length->shown);
    return out;
  }

  // ---- parts of the case
  /// Anchors in concrete are a matter of strength design alone; everything else follows the project.
  void choose_method() {
    const Fact *material = find("jamb.material"), *method = opening::fact(project_.facts, "project.method");
    if (known(method)) method_ = method->word;
    const bool in_board = link_ == Link::hardware && board_.carries();
    if (in_board || !known(material) || material->word != "concrete" || method_ == "LRFD") return;
    method_ = "LRFD";
    out_.assumed.emplace_back("project.method", "concrete: anchors are checked at strength level (LRFD), whatever the method of the project, as their standard has no other");
  }
  void add_basis() {
    if (method_.empty()) set("basis.method", opening::fact(project_.facts, "project.method"));
    else set_word(out_.common, "basis.method", method_);
    set("project.demo", opening::fact(project_.facts, "project.demo"));
    set("basis.capacity", opening::fact(project_.facts, "project.capacity"));
    for (const auto& [path, f] : project_.facts)
      if (path.rfind("project.editions.", 0) == 0) set("basis." + path.substr(17), &f);
    set_word(out_.common, "connection.part", part_);
    set_word(out_.common, "connection.link", link_ == Link::board ? "board" : "hardware");
    copy("connection.mount", "mount");
  }
  void add_door() {
    copy("door.width", "width");
    copy("door.height", "height");
    for (const auto& [path, f] : opening_.facts)
      if ((path.rfind("door.", 0) == 0 && path != "door.windlock_pull") || path.rfind("jamb.give_", 0) == 0) set(key_for(path), &f);
    for (const auto& [path, f] : project_.facts)
      if (path.rfind("site.", 0) == 0 || path.rfind("building.", 0) == 0) set(key_for(path), &f);
    set("wind.level", opening::fact(project_.facts, "site.wind.level"));
    choose_sources();
  }
  /// The key that a field fills: the one its list names, or the one of its own name.
  std::string key_for(const std::string& path) const {
    const auto key = opening::key_of(path);
    return !key.empty() ? std::string(key) : set_.key(path) ? path : std::string();
  }
  bool says(std::initializer_list<const char*> paths) const {
    return std::any_of(paths.begin(), paths.end(), [&](const char* path) { return find(path) != nullptr; });
  }
  /// What is given goes before what could be worked out; what is worked out needs something to start from.
  void choose_sources() {
    set_word(out_.common, "wind.source", speed() ? "speed" : "given");
    if (!speed() && opening::fact(project_.facts, "site.wind.speed"))
      out_.assumed.emplace_back("site.wind", "pressures and a speed are both given: the pressures count, the speed was not used");
    // The weight of the curtain for each area and the bottom bar serve the balance too: alone they are no list of parts.
    const bool parts = says({"door.sheet_gauge", "door.curtain_weight", "door.barrel_diameter"});
    set_word(out_.common, "door.weight_source", !find("door.weight") && parts ? "parts" : "given");
    const bool wire = says({"door.spring_wire", "door.spring_rate"});
    const bool balance = says({"door.bottom_bar", "door.sheet_gauge"}) && says({"door.drum_radius", "door.pack_pitch"});
    set_word(out_.common, "door.spring_source", find("door.spring_torque") ? "given" : wire ? "wire" : balance ? "balance" : "given");
    // A pull from the maker's sheet has a level like the other reactions.
    copy("reactions.windlock_given", "door.windlock_pull");
    set_word(out_.common, "door.windlock_source", find("door.windlock_pull") ? "given" : "worked_out");
    set_word(out_.common, "door.rating_given", says({"door.rated_inward", "door.rated_outward"}) ? "yes" : "no");
    const bool reactions = says({"reactions.guide_inward", "reactions.guide_outward", "door.windlock_pull"});
    copy("reactions.level", "reactions.level");
    if (!reactions) set_word(out_.common, "reactions.level", "strength");  // nothing to have a level
    copy("reactions.bracket_down", "reactions.bracket_down");
    copy("reactions.bracket_moment", "reactions.bracket_moment");
    const Fact* sds = opening::fact(project_.facts, "site.seismic.sds");
    counted_ = sds || category_counts();
    set_word(out_.common, "seismic.counted", counted_ ? "yes" : "no");
    if (!counted_) out_.assumed.emplace_back("site.seismic", "earthquake: S_DS is not given, so earthquake loads were not checked");
  }
  /// A category in which the earthquake counts asks for S_DS; an unknown one counts.
  bool category_counts() const {
    const Fact* category = opening::fact(project_.facts, "site.seismic.category");
    if (!category || category->unknown) return category != nullptr;
    const double symbol = symbol_of("seismic.category", category->word);
    return rules::cell(set_, "loads.seismic.category", "counted", std::span(&symbol, 1)) != 0;
  }
  void add_jamb() {
    // An unknown kind of jamb is an unknown material.
    const Fact *material = find("jamb.material"), *kind = find("jamb.kind");
    set("base.material", material || !kind || !kind->unknown ? material : kind);
    add_named_fields("jamb.");
    add_named_fields("test.");
    add_form();
    copy("member.species", "jamb.species");
    copy("member.face", "jamb.face");
    copy("fastener.into_grain", "jamb.grain");
    add_base_strength();
    add_nominal_size();
    // Boards that make up the jamb must be told: one is the default only where nothing says otherwise.
    if (const Fact* piece = find("jamb.piece"); known(piece) && piece->word == "built_up" && !find("jamb.plies")) set_unknown(out_.common, "member.plies");
    set("service.moisture", either("jamb.moisture", "site.moisture"));
    set("service.temperature", either("jamb.temperature", "site.temperature"));
    if (link_ == Link::hardware) add_gap();
    if (const Fact* treated = find("jamb.treated"); treated && !find("jamb.treatment")) {
      if (treated->unknown) set("member.treatment", treated);
      else if (treated->word == "yes") set_word(out_.common, "member.treatment", "preservative");
    }
  }
  /// One field for the strength, another key for each material; "block" and "brick" say the kind of masonry already.
  void add_base_strength() {
    const Fact *material = find("jamb.material"), *kind = find("jamb.kind");
    if (!known(material)) return;
    if (material->word == "concrete") copy("concrete.strength", "jamb.strength");
    if (known(kind) && kind->word == "precast") set_word(out_.common, "concrete.kind", "precast");
    if (material->word != "masonry") return;
    copy("masonry.strength", "jamb.strength");
    copy("masonry.filled", "jamb.filled");
    if (known(kind) && kind->word == "block" && !find("jamb.masonry")) set_word(out_.common, "masonry.kind", "cmu");
    // A board that carries is a link of its own; only a shim counts as wood under the hardware.
    if (board_.kind == Board::Kind::none || link_ == Link::board) set_number(out_.common, "masonry.buck_thickness", 0);
    else set_known("masonry.buck_thickness", board_.thickness);
  }
  /// A tube says its form already.
  void add_form() {
    const Fact* kind = find("jamb.kind");
    if (!known(kind) || find("jamb.form")) return;
    for (const auto& [name, form] : {std::pair("tube", "tube"), std::pair("channel", "channel"), std::pair("steel_stud", "stud")})
      if (kind->word == name) set_word(out_.common, "member.form", form);
  }
  /// Something that is not the jamb is named beside it: whether it stands between hardware and wood must be said.
  void ask_for_gap() {
    const Fact* behind = find("jamb.behind");
    if (!behind || find("gap")) return;
    for (const char* solid : {"none", "nothing", "stud", "studs", "post"})
      if (!behind->unknown && behind->word == solid) return;
    set_unknown(out_.common, "side.gap");
  }
  // ---- what stands between hardware and jamb
  /// A gap as measured, or as the sum of the layers; a thin board is one more layer.
  void add_gap() {
    copy("side.gap", "gap");
    ask_for_gap();
    if (board_.kind == Board::Kind::other) engineer("buck", "a board that is not wood stands between the hardware and the wall; an engineer must look at it and at its own fastening");
    if (board_.kind != Board::Kind::shim) return;
    const Fact* gap = find("gap");
    if (gap && gap->unknown) return;
    set_number(out_.common, "side.gap", (gap ? gap->value : 0) + board_.thickness);
    out_.assumed.emplace_back("buck", fmt::format("the board is {} in thick: it counts as a shim, the fastener must reach what is behind it", text::rounded(board_.thickness, 4)));
  }
  void set_known(const std::string& key, double value) {
    if (!std::isnan(value)) set_number(out_.common, key, value);
  }
  /// The board holds the fastener of the hardware.
  void add_board_as_base() {
    set_word(out_.common, "base.material", "wood");
    copy("board.behind", "jamb.material");
    copy("member.species", "buck.species");
    set_known("member.depth", board_.thickness);
    set_known("member.width", board_.width);
    copy("member.treatment", "buck.treatment");
    set("service.moisture", either("jamb.moisture", "site.moisture"));
    set("service.temperature", either("jamb.temperature", "site.temperature"));
    copy("side.gap", "gap");
    out_.assumed.emplace_back("buck", "the board lies flat on the jamb; it holds the hardware, and its own fastening is link L2");
  }
  /// The board is under the head of its own fastener; the jamb behind holds.
  void add_board_as_side() {
    set_word(out_.common, "side.material", "wood");
    copy("side.species", "buck.species");
    copy("side.modulus", "buck.modulus");
    set_known("side.thickness", board_.thickness);
    set_known("side.width", board_.width);
    copy("side.gap", "buck.gap");
    copy("edge.loaded", "buck.wall_edge");
    copy("edge.other", "buck.wall_other_edge");
    copy("end.distance", "buck.end");
    copy("board.edge", "buck.edge");
  }
  /// Levers of the guide's force about the board's own fasteners: the lip stands where the guide's fastener puts it.
  void add_board_levers() {
    const Fact *lip = find("guide.lip"), *hole = find("guide.edge"), *edge = find("buck.edge"), *height = find("guide.lip_height");
    if (height && !height->unknown && !std::isnan(board_.thickness)) set_number(out_.common, "guide.lip_height", height->value + board_.thickness);
    else set("guide.lip_height", height);
    if (!known(edge) || std::isnan(board_.width)) return;
    const double far = board_.width - edge->value;
    if (is_between()) return set_number(out_.common, "guide.lever_toe", std::min(edge->value, far));
    if (!known(lip) || !known(hole)) return;
    const double lever = edge->value - hole->value + lip->value;
    set_number(out_.common, "guide.lever_lip", std::max(std::fabs(lever), kLeastLever));
    set_number(out_.common, "guide.lever_toe", lever >= 0 ? far : edge->value);
  }
  void add_board_line() {
    copy("guide.fastener_spacing", "buck.spacing");
    copy("guide.first", "buck.first");
    copy("spacing.along_grain", "buck.spacing");
    set_number(out_.common, "fastener.count_across_grain", 1);
    const Fact *height = find("height"), *spacing = find("buck.spacing");
    if (known(height) && known(spacing) && spacing->value > 0) set_number(out_.common, "fastener.count_along_grain", std::max(1.0, std::floor(height->value / spacing->value + 1e-9)));
  }
  /// The fasteners of the board that a bracket hangs on: those behind its plate and one more.
  void add_board_under_bracket() {
    const Fact *spacing = find("buck.spacing"), *height = find("bracket.plate.height");
    copy("bracket.plate.height", "bracket.plate.height");
    add_board_line();
    if (!known(spacing) || !known(height) || !(spacing->value > 0)) return;
    holes_ = static_cast<std::size_t>(std::clamp(std::floor(height->value / spacing->value) + 2, 2.0, 8.0));
    set_number(out_.common, "hole.count", static_cast<double>(holes_));
    set_number(out_.common, "fastener.count_along_grain", static_cast<double>(holes_));
    for (std::size_t i = 0; i < holes_; ++i) {
      set_number(out_.common, fmt::format("bracket.hole.{}.x", i + 1), 0);
      set_number(out_.common, fmt::format("bracket.hole.{}.z", i + 1), static_cast<double>(i) * spacing->value);
    }
    holes_ = 1;  // all are taken like the most loaded one
  }

  const Fact* either(const std::string& path, const std::string& site_path) const {
    const Fact* own = find(path);
    return own ? own : opening::fact(project_.facts, site_path);
  }
  /// "2x8" as two nominal lengths; a single length is the depth.
  void add_nominal_size() {
    const Fact* size = find("jamb.size");
    if (!size) return;
    if (size->kind == Fact::Kind::number) {
      if (!find("jamb.thickness")) set("member.depth", size);
      return;
    }
    const auto times = size->word.find('x');
    if (size->unknown || times == std::string::npos) return;
    const auto a = text::parse_number_or_quotient(size->word.substr(0, times));
    const auto b = text::parse_number_or_quotient(size->word.substr(times + 1));
    if (!a || !b) return;
    set_number(out_.common, "member.nominal_thickness", *a);
    set_number(out_.common, "member.nominal_width", *b);
  }
  void add_hardware() {
    set_word(out_.common, "side.material", "steel");
    const Fact* plate = find(bracket_ ? "bracket.plate_thickness" : "guide.plate");
    if (!plate && !bracket_) plate = find("door.guide_plate");
    set("side.thickness", plate);
    copy("side.grade", part_ + ".steel");
  }
  /// Every field of this part that names its key.
  void add_named_fields(const std::string& group) {
    const NamedFields& named = named_fields(group);
    if (sided_) {
      for (const auto& [path, key] : named.list)
        if (const Fact* f = find(path)) set(key, f);
      return;
    }
    // Far fewer fields are given than there are: walk what is given, then take it in the order of the list.
    std::vector<std::pair<std::size_t, const Fact*>> given;
    for (auto it = opening_.facts.lower_bound(group); it != opening_.facts.end() && it->first.compare(0, group.size(), group) == 0; ++it)
      if (const auto at = named.place.find(it->first); at != named.place.end()) given.emplace_back(at->second, &it->second);
    std::sort(given.begin(), given.end());
    for (const auto& [at, f] : given) set(named.list[at].second, f);
  }
  void add_fastener() {
    add_named_fields(link_ == Link::board ? "buck.fastener." : part_ + ".");
    copy("fastener.kind", fastener_ + ".kind");
  }
  /// After base and fastener are known: they find the row of the anchor data.
  void add_anchor() {
    const AnchorKeys anchor = anchor_keys(project_, opening_, set_, side_, fastener_, out_.common);
    for (const auto& [key, f] : anchor.keys) set(key, &f);
    if (!anchor.note.empty()) out_.assumed.emplace_back(fastener_ + ".data", anchor.note);
  }
  void add_guide() {
    if (link_ == Link::board) {
      add_board_line();
      return add_board_levers();
    }
    copy("spacing.along_grain", "guide.spacing");
    set_number(out_.common, "fastener.count_across_grain", 1);
    if (const Fact* heights = find("guide.heights"); known(heights)) return add_heights(*heights);
    if (!find("guide.spacing")) set_unknown(out_.common, "spacing.along_grain");
    const Fact *height = find("height"), *first = find("guide.first"), *spacing = find("guide.spacing");
    if (known(height) && known(first) && known(spacing) && spacing->value > 0)
      set_number(out_.common, "fastener.count_along_grain", std::max(1.0, 1 + std::floor((height->value - first->value) / spacing->value + 1e-9)));
    if (!find("guide.end") && known(first) && in_board_or_steel()) {
      set("end.distance", first);
      out_.assumed.emplace_back("guide.end", fmt::format("the jamb ends where the guide ends, {} from the first fastener", units::show(first->value, first->shown)));
    }
  }
  /// A post or stud may end at the floor with the guide; where a wall of concrete or masonry ends must be said.
  bool in_board_or_steel() const {
    const Fact* material = find("jamb.material");
    return !known(material) || (material->word != "concrete" && material->word != "masonry");
  }
  /// Every fastener where it really is.
  void add_heights(const Fact& heights) {
    const auto& at = heights.list;
    double least = 0, most = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
      set_number(out_.common, fmt::format("guide.hole.{}.z", i + 1), at[i]);
      if (i == 0) continue;
      const double apart = at[i] - at[i - 1];
      least = i == 1 ? apart : std::min(least, apart);
      most = std::max(most, apart);
    }
    set_number(out_.common, "guide.first", at.front());
    set_number(out_.common, "fastener.count_along_grain", static_cast<double>(at.size()));
    if (at.size() > 1) {
      set_number(out_.common, "guide.fastener_spacing", most);
      set_number(out_.common, "spacing.along_grain", least);
    }
    if (find("guide.end") || !in_board_or_steel()) return;
    set_number(out_.common, "end.distance", at.front());
    out_.assumed.emplace_back("guide.end", fmt::format("the jamb ends where the guide ends, {} from the first fastener", units::show(at.front(), heights.shown)));
  }

  void add_bracket() {
    if (link_ == Link::board) {
      add_board_under_bracket();
      add_bracket_levers();
      shares_ = torque_shares();
      return;
    }
    const opening::Pattern pattern = opening::bracket_pattern(opening_, side_);
    if (pattern.count != 0) set_number(out_.common, "hole.count", static_cast<double>(pattern.count));
    for (std::size_t i = 0; i < pattern.holes.size(); ++i) {
      const std::string hole = fmt::format("bracket.hole.{}.", i + 1);
      set_number(out_.common, hole + "x", pattern.holes[i].x);
      set_number(out_.common, hole + "z", pattern.holes[i].z);
    }
    if (!pattern.holes.empty()) {
      set_number(out_.common, "fastener.count_along_grain", static_cast<double>(pattern.along));
      set_number(out_.common, "fastener.count_across_grain", static_cast<double>(pattern.across));
      if (pattern.along > 1) set_number(out_.common, "spacing.along_grain", pattern.spacing_along);
      if (pattern.across > 1) set_number(out_.common, "spacing.across_grain", pattern.spacing_across);
    }
    holes_ = pattern.holes.size();
    if (pattern.holes.empty()) add_open_pattern();
    add_plate(pattern);
    copy("bracket.arm.width", "bracket.arm.width");
    copy("bracket.arm.height", "bracket.arm.height");
    copy("guide.fastener_spacing", "guide.spacing");  // a small area of wind, for the coil
    shares_ = torque_shares();
  }
  /// Where the neighbours stand is not known: that is not the same as having none.
  void add_open_pattern() {
    for (const auto& [key, path] : {std::pair("spacing.along_grain", "bracket.along"), std::pair("spacing.across_grain", "bracket.across")}) {
      copy(key, path);
      if (!find(path)) set_unknown(out_.common, key);
    }
  }
  /// The board's own fasteners lie deeper than the bracket by the thickness of the board.
  void add_bracket_levers() {
    copy("bracket.axle_offset", "bracket.axle_offset");
    copy("bracket.axle_height", "bracket.axle_height");
    const Fact* out = find("door.axle_projection");
    if (known(out) && !std::isnan(board_.thickness)) set_number(out_.common, "door.axle_projection", out->value + board_.thickness);
  }
  void add_plate(const opening::Pattern& pattern) {
    const Fact *width = find("bracket.plate.width"), *height = find("bracket.plate.height");
    set("bracket.plate.width", width);
    set("bracket.plate.height", height);
    set("side.width", width);
    double x = 0, z = 0;
    for (const opening::PatternHole& h : pattern.holes) {
      x += h.x / static_cast<double>(pattern.holes.size());
      z += h.z / static_cast<double>(pattern.holes.size());
    }
    const Fact *left = find("bracket.plate_left"), *bottom = find("bracket.plate_bottom");
    if (left) set("bracket.plate.left", left);
    else if (known(width)) set_number(out_.common, "bracket.plate.left", x - width->value / 2);
    if (bottom) set("bracket.plate.bottom", bottom);
    else if (known(height)) set_number(out_.common, "bracket.plate.bottom", z - height->value / 2);
    if ((!left && known(width)) || (!bottom && known(height)))
      out_.assumed.emplace_back("bracket.plate", "the holes stand in the middle of the bracket plate");
  }
  /// Shares of the spring torque to try: all or none where one end holds the axle, both where that is not known or both
  /// ends do, for torque may help as well as harm.
  std::vector<double> torque_shares() {
    const Fact* at = find("door.torque_at");
    if (known(at) && at->word != "both") return {at->word == opening::word(side_) ? 1.0 : 0.0};
    if (!known(at)) out_.assumed.emplace_back("door.torque_at", "which bracket holds the spring torque is not said: each was tried with all of it and with none");
    return {1, 0};
  }

  bool bracket_;
  Link link_;
  std::string part_;
  std::string fastener_;  ///< path of the fastener of this link
  Board board_;
  std::string method_;  ///< of this connection; empty when the project names none
  Connection out_;
  std::size_t holes_ = 0;
  std::vector<double> shares_ = {1};  ///< of the spring torque
  bool counted_ = false;  ///< earthquake
};

}  // namespace

std::vector<Connection> links_of(const opening::Project& project, const opening::Opening& o, const RuleSet& set, Side side, bool bracket, Cases cases, LinkStarts* starts) {
  std::vector<Connection> out;
  Builder hardware(project, o, set, side, bracket);
  const bool board = hardware.has_board();
  out.push_back(hardware.build(cases, starts ? &starts->hardware : nullptr));
  if (board) out.push_back(Builder(project, o, set, side, bracket, Link::board).build(cases, starts ? &starts->board : nullptr));
  return out;
}

std::vector<Connection> connections(const opening::Project& project, const opening::Opening& o, const RuleSet& set, Cases cases) {
  std::vector<Connection> out;
  for (const bool bracket : {true, false})
    for (const Side side : {Side::left, Side::right})
      for (auto& link : links_of(project, o, set, side, bracket, cases)) out.push_back(std::move(link));
  return out;
}

}  // namespace jambcheck::verdict
