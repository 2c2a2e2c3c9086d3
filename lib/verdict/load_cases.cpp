#include "verdict/load_cases.h"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

namespace jambcheck::verdict {
namespace {

using opening::Fact;

class Writer {
 public:
  Writer(const KeyWriter& keys, const LoadCaseWish& wish, Connection& out) : keys_(keys), wish_(wish), out_(out) {}

  void run() {
    bool any = false;
    for (const auto& combination : keys_.rule_set().combinations()) {
      if (combination.method != wish_.method) continue;
      if (has_factor(combination, "f_E") && !wish_.earthquake) continue;
      any = true;
      if (wish_.bracket) add_bracket_cases(combination);
      else add_guide_cases(combination);
      if (wish_.first_only) break;
    }
    if (!any) add_open_case();
    if (wish_.first_only) out_.cases.erase(out_.cases.begin() + 1, out_.cases.end());
  }

 private:
  LoadCase start(const rules::Combination& combination) const {
    LoadCase c;
    for (const auto& [name, factor] : combination.factors) keys_.set_number(c.values, "combination." + name, factor);
    keys_.set_word(c.values, "load.duration", combination.duration);
    c.say = combination.id;
    return c;
  }
  static bool has_factor(const rules::Combination& combination, std::string_view begins) {
    return std::any_of(combination.factors.begin(), combination.factors.end(),
                       [&](const auto& f) { return f.first.substr(0, begins.size()) == begins && f.second != 0; });
  }
  void add_guide_cases(const rules::Combination& combination) {
    if (!has_factor(combination, "f_W")) {
      LoadCase c = start(combination);
      set_wind(c, "none");
      keys_.set_word(c.values, "door.face", "inside");
      out_.cases.push_back(std::move(c));
      return;
    }
    const Fact* face = keys_.find("face");
    std::vector<std::string> faces = {"inside", "outside"};
    if (KeyWriter::known(face)) faces = {face->word};
    for (const char* sign : {"inward", "outward"})
      for (const auto& side : faces) {
        LoadCase c = start(combination);
        set_wind(c, sign);
        keys_.set_in(c.values, "reactions.guide_given", keys_.find(std::string("reactions.guide_") + sign));
        keys_.set_in(c.values, "door.rated", keys_.find(std::string("door.rated_") + sign));
        keys_.set_word(c.values, "door.face", side);
        c.say += fmt::format(", wind {}", sign);
        if (faces.size() > 1) c.say += fmt::format(", door on the {}", side);
        out_.cases.push_back(std::move(c));
      }
    if (faces.size() > 1 && !said_face_ && !keys_.is_between()) {
      said_face_ = true;
      out_.assumed.emplace_back("face", "which side of the wall the door is on is not said: both were tried, the worse counts");
    }
  }
  void set_wind(LoadCase& c, const std::string& sign) const {
    keys_.set_word(c.values, "wind.sign", sign);
    if (keys_.speed()) return;
    if (sign == "none") keys_.set_number(c.values, "wind.given", 0);
    else keys_.set_in(c.values, "wind.given", keys_.find_shared("site.wind." + sign));
  }
  struct DoorState {
    const char* word;
    const char* say;
  };
  void add_bracket_cases(const rules::Combination& combination) {
    std::vector<DoorState> states = {{"closed", "closed"},
                                     {"open", "open"},
                                     {"wound", "spring wound, no curtain"},
                                     {"spring_broken", "spring broken"},
                                     {"stopped", "stopped at once"}};
    const Fact* driven = keys_.find("door.operator");
    const bool may_stall =
        driven && (driven->unknown || driven->word == "motor" || driven->word == "light_machinery");
    if (may_stall) states.push_back({"stalled", "motor stalled"});
    if (!driven && !said_operator_)
      out_.assumed.emplace_back("door.operator", "no motor drives the door: how it is moved is not said");
    said_operator_ = true;
    const std::size_t holes = out_.turns;
    const LoadCase of_all = start(combination);
    for (const DoorState& state : states) {
      LoadCase of_state = of_all;
      keys_.set_word(of_state.values, "door.state", state.word);
      set_coil_wind(of_state, combination, state.word);
      of_state.say += fmt::format(", {}", state.say);
      for (const double share : wish_.shares)
        for (std::size_t i = 1; i <= holes; ++i) {
          LoadCase c = of_state;
          keys_.set_number(c.values, "bracket.torque_share", share);
          keys_.set_number(c.values, "hole.index", static_cast<double>(i));
          if (wish_.shares.size() > 1) c.say += share == 0 ? ", torque at the other end" : ", torque at this end";
          if (holes > 1) c.say += fmt::format(", fastener {}", i);
          out_.cases.push_back(std::move(c));
          if (wish_.first_only) return;
        }
    }
  }
  /// Wind on the coil of an open door: off the wall, which is outward where the door hangs outside. Where the face is not
  /// said, outside is the worse.
  void set_coil_wind(LoadCase& c, const rules::Combination& combination, std::string_view state) const {
    const Fact* face = keys_.find("face");
    const std::string on = KeyWriter::known(face) ? face->word : "outside";
    keys_.set_word(c.values, "door.face", on);
    set_wind(c, state == "open" && has_factor(combination, "f_W") ? (on == "outside" ? "outward" : "inward") : "none");
  }
  /// Without a method no combination can be chosen; the case then asks for it.
  void add_open_case() {
    LoadCase c;
    c.say = "no load combination";
    out_.cases.push_back(std::move(c));
  }

  const KeyWriter& keys_;
  const LoadCaseWish& wish_;
  Connection& out_;
  bool said_face_ = false;
  bool said_operator_ = false;
};

}  // namespace

void add_load_cases(const KeyWriter& keys, const LoadCaseWish& wish, Connection& out) {
  Writer(keys, wish, out).run();
}

}  // namespace jambcheck::verdict
