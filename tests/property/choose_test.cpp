#include <set>
// Choosing: the light way is the full check; what is proposed holds; the smallest change is the smallest; the cover of a
// project is the smallest there is.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "choose/alike.h"
#include "choose/change.h"
#include "choose/cover.h"
#include "choose/finder.h"
#include "choose/limits.h"
#include "opening/field.h"
#include "support/shipped.h"
#include "verdict/brief.h"

namespace jambcheck {
namespace {

using choose::Sides;
using opening::Opening;
using opening::Project;
using rules::State;

bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

class Choosing : public Shipped {
 protected:
  static Project demo() { return read("cases/boat_lockers/project.yaml"); }
  static const Opening& find(const Project& project, const std::string& mark) {
    for (const auto& o : project.openings)
      if (o.mark == mark) return o;
    throw std::runtime_error("no opening " + mark);
  }
  static verdict::Checker& checker() {
    static verdict::Checker kept(set());
    return kept;
  }
  /// The worse of both sides by the full check.
  static std::pair<State, double> full(const Project& project, const Opening& o, bool bracket) {
    std::pair<State, double> worst{State::not_applicable, 0};
    for (const auto& c : checker().check(project, o).connections) {
      if ((c.id.back() == 'B') != bracket) continue;
      const bool worse = c.state > worst.first || (c.state == worst.first && (std::isnan(c.ratio) || c.ratio > worst.second));
      if (worse && !(c.state == worst.first && std::isnan(worst.second))) worst = {c.state, c.ratio};
    }
    return worst;
  }
  static void expect_alike(verdict::Briefs& briefs, const Project& project, const Opening& o) {
    const auto result = checker().check(project, o);
    for (const auto& part : verdict::parts()) {
      const auto brief = briefs.part(project, o, part);
      for (const auto& c : result.connections) {
        if (c.id != verdict::id_of(part)) continue;
        EXPECT_EQ(brief.state, c.state) << o.mark << "/" << c.id;
        EXPECT_TRUE(same(brief.ratio, c.ratio)) << o.mark << "/" << c.id << ": " << brief.ratio << " light, " << c.ratio << " full";
        if (brief.rule) {
          EXPECT_EQ(o.mark + "/" + c.id + "/" + brief.link + "/" + brief.rule->code, c.governs);
        }
      }
    }
    const auto whole = briefs.whole(project, o);
    EXPECT_EQ(whole.state, result.state) << o.mark;
    EXPECT_TRUE(same(whole.ratio, result.ratio)) << o.mark;
  }
};

TEST_F(Choosing, TheLightWayIsTheFullCheckOnTheDemo) {
  const auto project = demo();
  verdict::Briefs briefs(set(), checker().plans());
  for (const auto& o : project.openings)
    choose::for_each_answer(project, o, [&](const Project& p, const Opening& one) { expect_alike(briefs, p, one); });
}

TEST_F(Choosing, TheLightWayIsTheFullCheckOnRandomOpenings) {
  const auto project = demo();
  std::mt19937_64 random(8);
  verdict::Briefs briefs(set(), checker().plans());
  std::size_t changed = 0;
  for (int round = 0; round < 60; ++round) {
    Opening o = project.openings[random() % project.openings.size()];
    if (!o.choices.empty()) continue;
    // A few numbers moved, one taken away, one called unknown.
    for (int k = 0; k < 4; ++k) {
      auto it = std::next(o.facts.begin(), static_cast<long>(random() % o.facts.size()));
      if (it->second.kind != opening::Fact::Kind::number) continue;
      if (k == 3) it->second.unknown = random() % 2 == 0;
      else it->second.value *= std::uniform_real_distribution<double>(0.5, 1.6)(random);
      ++changed;
    }
    expect_alike(briefs, project, o);
  }
  EXPECT_GT(changed, 60U);
}

TEST_F(Choosing, HeldLoadsChangeNothing) {
  const auto project = demo();
  for (const char* mark : {"C-101", "S-201", "B-304"}) {
    Opening o = find(project, mark);
    verdict::Briefs held(set(), checker().plans()), fresh(set(), checker().plans());
    held.hold_loads();
    for (int i = 0; i < 6; ++i) {
      o.facts["guide.spacing"].value += 2;
      o.facts["bracket.edge"].value += 0.25;
      if (i == 3) o.facts["bracket.count"].value = 2;  // another number of turns
      for (const auto& part : verdict::parts()) {
        const auto a = held.part(project, o, part), b = fresh.part(project, o, part);
        EXPECT_EQ(a.state, b.state);
        EXPECT_TRUE(same(a.ratio, b.ratio)) << mark;
        EXPECT_EQ(a.rule, b.rule);
      }
    }
  }
}

TEST_F(Choosing, EveryCandidateIsJudgedAsTheFullCheckJudgesIt) {
  const auto project = demo();
  for (const char* mark : {"C-101", "S-201", "D-401", "B-301"})
    for (const bool bracket : {false, true}) {
      const Opening& o = find(project, mark);
      const auto found = choose::find(checker(), set(), project, o, {bracket, Sides::both, choose::By::holes, false}, {});
      ASSERT_GT(found.tried.size(), 4U) << mark;
      const std::size_t stride = std::max<std::size_t>(1, found.tried.size() / 12);
      for (std::size_t t = 0; t < found.tried.size(); t += stride) {
        const auto by_force = full(project, choose::with(o, found, t), bracket);
        EXPECT_EQ(found.tried[t].state, by_force.first) << mark << " " << t;
        EXPECT_TRUE(same(found.tried[t].ratio, by_force.second)) << mark << " " << t << ": " << found.tried[t].ratio << " and " << by_force.second;
      }
    }
}

TEST_F(Choosing, OnASmallSpaceTheSameHoldInTheSameOrderAsByForce) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  const auto found = choose::find(checker(), set(), project, o, {true, Sides::both, choose::By::holes, false}, {});
  std::vector<std::size_t> by_force;
  for (std::size_t t = 0; t < found.tried.size(); ++t)
    if (found.space.items[found.space.candidates[t].item].kind == "lag_screw" && t % 5 == 0 && full(project, choose::with(o, found, t), true).first == State::holds) by_force.push_back(t);
  std::vector<std::size_t> chosen;
  for (const std::size_t t : found.holding)
    if (found.space.items[found.space.candidates[t].item].kind == "lag_screw" && t % 5 == 0) chosen.push_back(t);
  std::size_t before = 0;
  for (const std::size_t t : found.holding) {
    const std::size_t holes = found.space.layouts[found.space.candidates[t].layout].holes;
    EXPECT_GE(holes, before);
    before = holes;
  }
  std::sort(chosen.begin(), chosen.end());
  EXPECT_FALSE(by_force.empty());
  EXPECT_EQ(chosen, by_force);
}

TEST_F(Choosing, ANarrowSpaceIsThatPartOfTheWholeOneAndAllOfItGoesByForce) {
  const auto project = demo();
  choose::Narrow narrow;
  narrow.kinds = {"lag_screw", "tapping_screw", "bolt", "screw_anchor", "wedge_anchor"};
  narrow.sizes = {{0.19, 0.19}, {0.375, 0.375}};
  narrow.lengths = {{0.75, 0.75}, {3, 3.5}};
  narrow.spacings = {{18, 20}};
  for (const char* mark : {"C-101", "S-201", "D-401", "B-301"})
    for (const bool bracket : {false, true}) {
      const Opening& o = find(project, mark);
      const auto whole = choose::find(checker(), set(), project, o, {bracket, Sides::both, choose::By::holes, false}, {});
      const auto found = choose::find(checker(), set(), project, o, {bracket, Sides::both, choose::By::holes, false, narrow}, {});
      ASSERT_GE(found.tried.size(), 2U) << mark;
      EXPECT_LT(found.tried.size(), whole.tried.size()) << mark;
      const auto names = [](const choose::Found& f, bool narrow_only) {
        std::vector<std::string> out;
        for (const std::size_t t : f.holding) {
          const auto& c = f.space.candidates[t];
          const auto& item = f.space.items[c.item];
          const auto length = item.facts.count("length") != 0 ? item.facts.at("length").value : item.length;
          const double spacing = f.space.layouts[c.layout].spacing;
          const bool kind = item.kind != "wood_screw" && item.kind != "sleeve_anchor" && item.kind != "adhesive_anchor";
          const bool size = std::abs(item.diameter - 0.19) < 1e-3 || item.diameter == 0.375;
          const bool long_enough = length == 0.75 || length == 3 || length == 3.5;
          const bool left = kind && size && long_enough && (spacing == 0 || spacing == 18 || spacing == 20);
          if (!narrow_only || left) out.push_back(item.text + ", " + f.space.layouts[c.layout].text);
        }
        return out;
      };
      EXPECT_EQ(names(found, false), names(whole, true)) << mark << bracket;
      std::set<std::size_t> holding(found.holding.begin(), found.holding.end());
      for (std::size_t t = 0; t < found.tried.size(); ++t) {
        const auto by_force = full(project, choose::with(o, found, t), bracket);
        EXPECT_EQ(found.tried[t].state, by_force.first) << mark << " " << t;
        if (!found.tried[t].harms_brackets) {
          EXPECT_EQ(holding.count(t) != 0, by_force.first == State::holds) << mark << " " << t;
        }
      }
    }
}

TEST_F(Choosing, OneSideAloneIsJudgedAsTheFullCheckJudgesThatSide) {
  const auto project = demo();
  choose::Narrow narrow;
  narrow.sizes = {{0.19, 0.19}, {0.375, 0.375}};
  narrow.spacings = {{18, 20}};
  // Each opening as it is, and with sides that are told apart, in the part and in the jamb.
  std::vector<Opening> openings;
  for (const auto& o : project.openings) {
    if (!o.choices.empty()) continue;
    openings.push_back(o);
    Opening sided = o;
    sided.facts["right.guide.edge"] = choose::number(1.5);
    sided.facts["left.bracket.end"] = choose::number(6);
    if (const auto* width = opening::fact(o.facts, "jamb.width")) {
      sided.facts["left.jamb.width"] = *width;
      sided.facts["left.jamb.width"].value *= 1.5;
    }
    openings.push_back(std::move(sided));
  }
  std::size_t compared = 0, sided = 0;
  for (const auto& o : openings) {
    for (const bool bracket : {false, true})
      for (const Sides side : {Sides::left, Sides::right}) {
        const auto of = side == Sides::left ? opening::Side::left : opening::Side::right;
        const choose::Wish wish{bracket, side, choose::By::holes, false, narrow};
        const auto found = choose::find(checker(), set(), project, o, wish, {});
        const std::size_t stride = std::max<std::size_t>(1, found.tried.size() / 3);
        for (std::size_t t = 0; t < found.tried.size(); t += stride) {
          const auto by_force = checker().check_part(project, choose::with(o, found, t), of, bracket);
          EXPECT_EQ(found.tried[t].state, by_force.state) << o.mark << bracket << " " << t;
          EXPECT_TRUE(same(found.tried[t].ratio, by_force.ratio)) << o.mark << bracket << " " << t;
          ++compared;
          sided += opening::says_of(o, of) ? 1 : 0;
        }
      }
  }
  EXPECT_GT(compared, 100U);
  EXPECT_GT(sided, 0U) << "an opening whose sides are told apart is among them";
}

TEST_F(Choosing, OnlyWhatThePriceListHasIsTried) {
  const auto project = read("cases/first/project.yaml");
  choose::Prices prices;
  ASSERT_TRUE(choose::read_prices("fastener,price\nlag 3/8 x 4,0.85\nlag 1/2 x 4,1.40\n", prices).empty());
  choose::Narrow narrow;
  narrow.priced = true;
  const auto found = choose::find(checker(), set(), project, project.openings.front(), {false, Sides::both, choose::By::cost, false, narrow}, prices);
  ASSERT_EQ(found.space.items.size(), 2U);
  EXPECT_EQ(found.space.items[0].text, "lag 3/8 x 4");
  EXPECT_EQ(found.space.items[1].text, "lag 1/2 x 4");
  EXPECT_EQ(found.tried.size(), 2 * found.space.layouts.size());
}

TEST_F(Choosing, OpeningsThatDifferInWhatListsReadAloneAreAlike) {
  const auto project = demo();
  const auto text = [](const char* word) {
    opening::Fact f;
    f.word = word;
    return f;
  };
  for (const char* mark : {"C-101", "S-201", "D-401", "B-301"}) {
    const Opening& o = find(project, mark);
    const auto before = checker().check(project, o);
    for (const auto field : opening::naming_fields()) {
      if (field == "mark") continue;  // stands beside the facts
      Opening other = o;
      other.mark = "other";
      other.facts[std::string(field)] = field == "quantity" ? choose::number(7, "1") : text("elsewhere");
      const Opening* both[] = {&o, &other};
      EXPECT_EQ(choose::alike(both).size(), 1U) << field;
      const auto after = checker().check(project, other);
      EXPECT_EQ(before.state, after.state) << field;
      EXPECT_TRUE(same(before.ratio, after.ratio)) << field;
    }
    // Anything else parts them.
    for (const auto& [path, f] : o.facts) {
      if (std::find(opening::naming_fields().begin(), opening::naming_fields().end(), path) != opening::naming_fields().end()) continue;
      Opening other = o;
      other.facts[path].value += 1;
      const Opening* both[] = {&o, &other};
      EXPECT_EQ(choose::alike(both).size(), 2U) << path;
      other.facts.erase(path);
      EXPECT_EQ(choose::alike(both).size(), 2U) << path;
    }
  }
  // Where one text ends and the next begins is told apart.
  Opening joined = find(project, "C-101"), parted = joined;
  joined.facts["a"] = text("x");
  joined.facts["b"] = text("yz");
  parted.facts["a"] = text("xy");
  parted.facts["b"] = text("z");
  const Opening* texts[] = {&joined, &parted};
  EXPECT_EQ(choose::alike(texts).size(), 2U);
  Opening listed = find(project, "C-101");
  listed.choices.push_back({"width", false, {}, {}});
  const Opening* both[] = {&find(project, "C-101"), &listed, &find(project, "C-101")};
  EXPECT_EQ(choose::alike(both), (std::vector<std::vector<std::size_t>>{{0, 2}, {1}}));
}

TEST_F(Choosing, SizesAreReadAsTheTradeWritesThem) {
  const auto size = [&](const char* text) { return choose::size_or_range(set(), text).value_or(std::pair(-1.0, -1.0)); };
  EXPECT_EQ(size("3/8"), std::pair(0.375, 0.375));
  EXPECT_EQ(size(" 1-1/2\" "), std::pair(1.5, 1.5));
  EXPECT_EQ(size("1/4 .. 1/2"), std::pair(0.25, 0.5));
  EXPECT_NEAR(size("10 mm").first, 10 / 25.4, 1e-12);
  EXPECT_NEAR(size("#12").first, 0.216, 1e-12);
  for (const char* no : {"", "x", "#", "#123", "#1a", "1/2..1/4", "0", "-1", "1/4..", "3 lbf"}) EXPECT_FALSE(choose::size_or_range(set(), no)) << no;
  EXPECT_EQ(*choose::kind_named(set(), "lag"), "lag_screw");
  EXPECT_FALSE(choose::kind_named(set(), "nail"));
}

TEST_F(Choosing, WhatIsProposedHoldsInTheProject) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  for (const bool bracket : {false, true}) {
    const auto found = choose::find(checker(), set(), project, o, {bracket, Sides::both, choose::By::holes, false}, {});
    ASSERT_FALSE(found.holding.empty());
    const std::size_t stride = std::max<std::size_t>(1, found.holding.size() / 40);
    for (std::size_t i = 0; i < found.holding.size(); i += stride)
      EXPECT_EQ(checker().check(project, choose::with(o, found, found.holding[i])).state, State::holds) << i;
  }
}

TEST_F(Choosing, NothingStandsOutBehindABoardOnAWall) {
  const auto project = demo();
  const auto space = choose::space_of(project, find(project, "B-304"), set(), false, Sides::both);
  ASSERT_FALSE(space.items.empty());
  for (const auto& item : space.items) {
    EXPECT_NE(item.kind, "bolt");
    EXPECT_LE(item.length, 1.5 + 0.25) << item.text << ": board of 1-1/2 in and the metal of the guide";
  }
}

TEST_F(Choosing, OneSideAloneLeavesTheOtherAsItWas) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  const auto before = checker().check(project, o);
  const auto found = choose::find(checker(), set(), project, o, {false, Sides::left, choose::By::size, false}, {});
  ASSERT_FALSE(found.holding.empty());
  const auto after = checker().check(project, choose::with(o, found, found.holding.front()));
  EXPECT_NE(after.connections[2].ratio, before.connections[2].ratio) << "the left guide is another one";
  EXPECT_EQ(after.connections[3].ratio, before.connections[3].ratio) << "the right guide is the same";
}

TEST_F(Choosing, ASmallestChangeHoldsAndNoStepBeforeItDoes) {
  const auto project = demo();
  std::size_t proven = 0;
  for (const char* mark : {"C-102", "D-402", "S-202", "C-105"})
    for (const bool bracket : {false, true}) {
      const Opening& o = find(project, mark);
      for (const auto& change : choose::smallest_changes(checker(), set(), project, o, bracket, Sides::both)) {
        EXPECT_EQ(full(project, choose::changed(o, change), bracket).first, State::holds) << mark << " " << change.field << " " << change.to;
        std::string name = change.field.substr(change.field.find('.') + 1);
        if (name == "count") name = "pattern";
        std::vector<choose::Change> before;
        for (const auto& step : choose::steps_of(project, set(), o, bracket, Sides::both, name)) {
          if (step.to == change.to) break;
          before.push_back(step);
        }
        // The nearest ones before it are the likeliest to hold; all of them for short lists.
        for (std::size_t i = before.size() > 6 ? before.size() - 6 : 0; i < before.size(); ++i)
          EXPECT_NE(full(project, choose::changed(o, before[i]), bracket).first, State::holds) << mark << " " << change.field << " " << before[i].to << " holds already";
        ++proven;
      }
    }
  EXPECT_GE(proven, 3U);
}

/// How many limits of every `pace`th row of a table were held against full checks at the limit and one step further.
std::size_t expect_limits(verdict::Checker& checker, const rules::RuleSet& set, const Project& project, const Opening& o, const std::vector<const choose::Axis*>& over, const std::vector<const choose::Axis*>& of, std::size_t pace) {
  const auto table = choose::limits(checker, set, project, o, over, of, 1);
  std::size_t held = 0;
  for (std::size_t r = 0; r < table.rows.size(); r += pace)
    for (std::size_t k = 0; k < of.size(); ++k) {
      const auto& limit = table.rows[r].limits[k];
      const auto state = [&](double value) {
        Project p;
        p.facts = project.facts;
        p.anchors = project.anchors;
        Opening one = o;
        for (std::size_t i = 0; i < over.size(); ++i) choose::put_axis(p, one, *over[i], table.rows[r].at[i]);
        choose::put_axis(p, one, *of[k], value);
        return checker.check(p, one).state;
      };
      if (limit.kind == choose::Limit::Kind::none) continue;
      const double step = units::parse_unit(of[k]->unit)->to_canonical(of[k]->step);
      EXPECT_EQ(state(limit.value), State::holds) << o.mark << " " << of[k]->name << " row " << r;
      if (limit.kind == choose::Limit::Kind::at) {
        EXPECT_NE(state(limit.value + (of[k]->falls ? -step : step)), State::holds) << o.mark << " " << of[k]->name << " row " << r;
      }
      ++held;
    }
  return held;
}

TEST_F(Choosing, ALimitHoldsAndTheNextStepDoesNot) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  std::vector<const choose::Axis*> of;
  for (const auto& name : choose::usual_limits(project, o)) of.push_back(choose::find_axis(name));
  ASSERT_GE(of.size(), 4U);
  EXPECT_GT(expect_limits(checker(), set(), project, o, {choose::find_axis("guide.spacing")}, of, 4), 3U);
}

/// Rows share what a part of them asks the same: a bracket for every edge of the guide, a guide for every edge of the bracket.
TEST_F(Choosing, LimitsOverTwoFieldsHoldInEveryRow) {
  const auto project = read("cases/first/project.yaml"), concrete = demo();
  const std::vector<const choose::Axis*> weight = {choose::find_axis("door.weight")};
  EXPECT_GT(expect_limits(checker(), set(), project, project.openings.front(), {choose::find_axis("guide.edge"), choose::find_axis("bracket.along")}, weight, 5), 3U);
  EXPECT_GT(expect_limits(checker(), set(), concrete, find(concrete, "D-403"), {choose::find_axis("guide.edge"), choose::find_axis("bracket.end")}, weight, 31), 1U);
}

TEST_F(Choosing, LimitsDoNotHangOnTheNumberOfThreads) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  const std::vector<const choose::Axis*> over = {choose::find_axis("guide.spacing")}, of = {choose::find_axis("wind.pressure")};
  const auto one = choose::limits(checker(), set(), project, o, over, of, 1), many = choose::limits(checker(), set(), project, o, over, of, 3);
  ASSERT_EQ(one.rows.size(), many.rows.size());
  for (std::size_t r = 0; r < one.rows.size(); ++r) EXPECT_EQ(one.rows[r].limits[0].value, many.rows[r].limits[0].value);
}

// ---- the fewest that serve all
std::size_t fewest_by_force(const std::vector<std::vector<std::size_t>>& sets, std::size_t elements) {
  std::size_t wanted = 0, best = sets.size() + 1;
  for (const auto& s : sets)
    for (const std::size_t e : s) wanted |= std::size_t{1} << e;
  (void)elements;
  for (std::size_t mask = 0; mask < (std::size_t{1} << sets.size()); ++mask) {
    std::size_t got = 0, n = 0;
    for (std::size_t s = 0; s < sets.size(); ++s)
      if (mask >> s & 1) {
        ++n;
        for (const std::size_t e : sets[s]) got |= std::size_t{1} << e;
      }
    if (got == wanted) best = std::min(best, n);
  }
  return best;
}

TEST(Cover, IsTheSmallestThereIs) {
  std::mt19937_64 random(3);
  for (int round = 0; round < 300; ++round) {
    const std::size_t elements = 1 + random() % 12, n = 1 + random() % 10;
    std::vector<std::vector<std::size_t>> sets(n);
    for (auto& s : sets)
      for (std::size_t e = 0; e < elements; ++e)
        if (random() % 3 == 0) s.push_back(e);
    const auto cover = choose::fewest(sets, elements);
    EXPECT_TRUE(cover.exact);
    EXPECT_EQ(cover.chosen.size(), fewest_by_force(sets, elements)) << round;
    for (std::size_t e = 0; e < elements; ++e) {
      const auto has = [&](std::size_t s) { return std::find(sets[s].begin(), sets[s].end(), e) != sets[s].end(); };
      const bool left = std::find(cover.left.begin(), cover.left.end(), e) != cover.left.end();
      EXPECT_NE(std::any_of(cover.chosen.begin(), cover.chosen.end(), has), left) << "element " << e;
    }
  }
}

TEST(Cover, SaysWhenItIsCutShort) {
  std::mt19937_64 random(5);
  std::vector<std::vector<std::size_t>> sets(60);
  for (auto& s : sets)
    for (std::size_t e = 0; e < 60; ++e)
      if (random() % 8 == 0) s.push_back(e);
  const auto cover = choose::fewest(sets, 60, 5);
  EXPECT_FALSE(cover.exact);
  EXPECT_FALSE(cover.chosen.empty());
}

TEST(Prices, RowsAreReadAndBadOnesNamed) {
  choose::Prices prices;
  const auto problems = choose::read_prices("fastener,price\nlag 3/8 x 4,0.85\nhole,2.5\nlag 3/8,1\nbolt 1/2 x 6,cheap\n", prices);
  ASSERT_EQ(problems.size(), 2U);
  EXPECT_EQ(problems[0].line, 4U);
  EXPECT_EQ(problems[1].line, 5U);
  choose::Item lag;
  lag.kind = "lag_screw";
  lag.diameter = 0.375;
  lag.length = 4;
  EXPECT_DOUBLE_EQ(choose::price_of(prices, lag), 3.35);
  lag.length = 5;
  EXPECT_TRUE(std::isnan(choose::price_of(prices, lag)));
}

}  // namespace
}  // namespace jambcheck
