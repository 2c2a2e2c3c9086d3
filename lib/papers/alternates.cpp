#include "papers/alternates.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "choose/finder.h"
#include "papers/fastening.h"
#include "verdict/brief.h"

namespace jambcheck::papers {
namespace {

using opening::Side;
using rules::State;

using ProjectOf = std::function<const opening::Project&(const opening::Opening&)>;

/// One part of one type.
class Search {
 public:
  Search(const opening::Project& project, const Type& type, bool bracket, const rules::RuleSet& set, verdict::Checker& checker, const ProjectOf& project_of)
      : project_(project), type_(type), bracket_(bracket), set_(set), project_of_(project_of), briefs_(set, checker.plans()) {
    const auto all = fastenings(project_of(*type.worst().opening), *type.worst().opening, set, checker);
    for (const auto& f : all.parts)
      if (f.part == name() && !known_) {
        now_ = f;
        known_ = true;
      }
    for (const auto& c : type.worst().result->connections)
      if (c.id[1] == (bracket ? 'B' : 'G') && text_.empty()) text_ = c.fastener;
  }

  std::vector<Alternate> run(std::size_t most) {
    std::vector<Alternate> out;
    if (!known_ || now_.base.empty()) return {blank("what it is fastened to is not known")};
    for (const auto& item : nearest_first()) {
      const double ratio = worst_ratio(item);
      if (std::isnan(ratio)) continue;
      Alternate a = blank("");
      a.item = item.text;
      a.length = item.length;
      a.ratio = ratio;
      const auto data = item.facts.find("data");
      if (data != item.facts.end()) a.data = data->second.word;
      if (!a.data.empty()) a.note = "by the data of " + a.data + "; another make is another calculation";
      out.push_back(std::move(a));
      if (out.size() == most) break;
    }
    if (out.empty()) out.push_back(blank("no other fastener of the catalogue holds in these holes; see  jambcheck choose"));
    return out;
  }

 private:
  [[nodiscard]] const char* name() const { return bracket_ ? "bracket" : "guide"; }
  Alternate blank(const std::string& note) const {
    Alternate a;
    a.type = type_.letter;
    a.part = name();
    a.now = text_;
    a.count = known_ ? static_cast<double>(now_.row.count) : 0;
    a.note = note;
    return a;
  }
  std::vector<choose::Item> nearest_first() const {
    auto items = choose::items_for(project_, set_, now_.base);
    const double d = now_.value("fastener.diameter"), l = now_.value("fastener.length");
    const auto far = [](double a, double b) { return std::isnan(a) || std::isnan(b) ? 0 : std::fabs(a - b); };
    items.erase(std::remove_if(items.begin(), items.end(), [&](const choose::Item& i) { return i.kind == now_.kind && far(i.diameter, d) < 1e-6 && far(i.length, l) < 1e-6; }), items.end());
    std::stable_sort(items.begin(), items.end(), [&](const choose::Item& a, const choose::Item& b) {
      const auto key = [&](const choose::Item& i) { return std::make_tuple(i.kind != now_.kind, far(i.diameter, d), far(i.length, l), i.length); };
      return key(a) < key(b);
    });
    return items;
  }
  /// The worst of all members and both sides; NaN when one of them does not hold. The deciding member is tried first.
  double worst_ratio(const choose::Item& item) {
    double worst = 0;
    std::vector<const opening::Opening*> members{type_.worst().opening};
    for (const auto& m : type_.members)
      if (m.opening != members.front()) members.push_back(m.opening);
    for (const auto* member : members) {
      const opening::Opening tried = choose::Place(*member, bracket_, choose::Sides::both).with(item);
      choose::for_each_answer(shared_of(*member), tried, [&](const opening::Project& p, const opening::Opening& o) {
        for (const Side side : {Side::left, Side::right}) {
          if (std::isnan(worst)) return;
          const auto brief = briefs_.part(p, o, {side, bracket_});
          worst = brief.decided && brief.state == State::holds && !std::isnan(brief.ratio) ? std::max(worst, brief.ratio) : std::nan("");
        }
      });
      if (std::isnan(worst)) return worst;
    }
    return worst;
  }
  /// The project without its openings, which would be copied for every try.
  opening::Project shared_of(const opening::Opening& member) const {
    const auto& whole = project_of_(member);
    opening::Project out;
    out.facts = whole.facts;
    out.choices = whole.choices;
    out.anchors = whole.anchors;
    return out;
  }

  const opening::Project& project_;
  const Type& type_;
  bool bracket_;
  const rules::RuleSet& set_;
  const ProjectOf& project_of_;
  verdict::Briefs briefs_;
  Fastening now_;
  bool known_ = false;
  std::string text_;
};

}  // namespace

std::vector<Alternate> alternates_of(const opening::Project& project, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker,
                                     const ProjectOf& project_of, std::size_t most) {
  std::vector<Alternate> out;
  for (const auto& type : types)
    for (const bool bracket : {false, true})
      for (auto& a : Search(project, type, bracket, set, checker, project_of).run(most)) out.push_back(std::move(a));
  return out;
}

}  // namespace jambcheck::papers
