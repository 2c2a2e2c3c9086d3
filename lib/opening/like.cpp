#include "opening/like.h"

#include <algorithm>
#include <map>

#include "opening/moot.h"
#include "text/suggest.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;

/// A path and the side it belongs to: "left.jamb.kind" -> "left.", "jamb.kind".
struct SidePath {
  std::string_view side, path;
};
SidePath split_side(std::string_view path) {
  for (const std::string_view side : {"left.", "right."})
    if (path.substr(0, side.size()) == side) return {side, path.substr(side.size())};
  return {"", path};
}

/// What `facts` says about `path` on that side.
const Fact* effective(const Facts& facts, std::string_view side, std::string_view path) {
  if (const Fact* own = fact(facts, std::string(side) + std::string(path))) return own;
  return fact(facts, path);
}

class Copier {
 public:
  Copier(std::vector<Opening>& openings, text::Diagnostics& diagnostics)
      : openings_(openings), diagnostics_(diagnostics) {
    for (std::size_t i = 0; i < openings.size(); ++i) by_mark_.emplace(openings[i].mark, i);
    state_.assign(openings.size(), State::untouched);
  }

  void run() {
    for (std::size_t i = 0; i < openings_.size(); ++i) follow(i);
  }

 private:
  enum class State { untouched, open, done };

  /// Walks up the chain of originals without recursion, then copies from the top down.
  void follow(std::size_t first) {
    std::vector<std::size_t> chain;
    for (std::size_t at = first;;) {
      if (state_[at] == State::done) break;
      if (state_[at] == State::open) {
        report_loop(chain, at);
        break;
      }
      state_[at] = State::open;
      chain.push_back(at);
      if (openings_[at].like.empty()) break;
      const auto original = by_mark_.find(openings_[at].like);
      if (original == by_mark_.end()) {
        report_missing(openings_[at]);
        break;
      }
      at = original->second;
    }
    for (auto it = chain.rbegin(); it != chain.rend(); ++it) finish(*it);
  }

  void finish(std::size_t at) {
    Opening& copy = openings_[at];
    state_[at] = State::done;
    const auto original = by_mark_.find(copy.like);
    if (copy.like.empty() || original == by_mark_.end() || looped_.count(at) != 0) return;
    const Opening& from = openings_[original->second];
    if (from.broken && !copy.broken) diagnostics_.add(MessageId::K031, copy.like_place, {copy.mark, from.mark});
    copy.broken = copy.broken || from.broken;
    copy_facts(from, copy);
  }

  void report_missing(Opening& opening) {
    std::vector<std::string> marks;
    for (const auto& [mark, index] : by_mark_)
      if (!mark.empty() && mark != opening.mark) marks.push_back(mark);
    const std::string best = text::nearest(opening.like, marks);
    diagnostics_.add(MessageId::K007, opening.like_place,
                     {opening.mark, opening.like,
                      best.empty() ? "write the mark of another opening of this file" : "did you mean " + best + "?"});
    opening.broken = true;
  }

  void report_loop(const std::vector<std::size_t>& chain, std::size_t at) {
    const auto start = std::find(chain.begin(), chain.end(), at);
    std::string walk;
    for (auto it = start; it != chain.end(); ++it) {
      walk += openings_[*it].mark + " -> ";
      openings_[*it].broken = true;
      looped_.emplace(*it, true);
    }
    diagnostics_.add(MessageId::K008, openings_[at].like_place, {openings_[at].mark, walk + openings_[at].mark});
  }

  void copy_facts(const Opening& from, Opening& to) {
    const Facts written = to.facts;
    std::map<std::string, std::vector<std::string>> left_out;  // decider -> what it made moot
    for (const auto& [path, original] : from.facts) {
      if (written.count(path) != 0 || path == "ifc_guid") continue;  // a GlobalId names one thing only
      const std::string decider = moot_because_of(path, from.facts, written);
      if (!decider.empty()) {
        left_out[decider].push_back(path);
        continue;
      }
      Fact copy = original;
      copy.from = original.origin == Origin::copied ? original.from : from.mark;
      copy.origin = Origin::copied;
      to.facts.emplace(path, std::move(copy));
    }
    copy_choices(from, to, written);
    for (const auto& [decider, paths] : left_out)
      if (decider.find("fastener") == std::string::npos)
        diagnostics_.add(MessageId::K030, written.find(decider)->second.place,
                         {to.mark, text::join(paths), from.mark, decider});
  }

  /// A choice comes along when nothing of it is written anew; else its facts stay unknown until they are written too.
  static void copy_choices(const Opening& from, Opening& to, const Facts& written) {
    for (const auto& choice : from.choices) {
      bool whole = true;
      for (const auto& option : choice.options)
        for (const auto& [path, fact] : option.facts) whole = whole && written.count(path) == 0 && to.facts.count(path) != 0;
      if (whole) to.choices.push_back(choice);
    }
  }

  /// The written field that makes the original's `path` moot, or empty.
  static std::string moot_because_of(const std::string& path, const Facts& original, const Facts& written) {
    const SidePath at = split_side(path);
    for (const Decider* decider : deciders_of(at.path)) {
      const Fact* new_value = effective(written, at.side, decider->field);
      const Fact* old_value = effective(original, at.side, decider->field);
      const bool differs = new_value && (!old_value || !same_value(*new_value, *old_value));
      if (!differs && !(new_value && decider->when == Decider::When::written)) continue;
      const std::string sided = std::string(at.side) + std::string(decider->field);
      return written.count(sided) != 0 ? sided : std::string(decider->field);
    }
    return "";
  }

  std::vector<Opening>& openings_;
  text::Diagnostics& diagnostics_;
  std::map<std::string, std::size_t, std::less<>> by_mark_;
  std::map<std::size_t, bool> looped_;
  std::vector<State> state_;
};

}  // namespace

void copy_likes(std::vector<Opening>& openings, text::Diagnostics& diagnostics) { Copier(openings, diagnostics).run(); }

}  // namespace jambcheck::opening
