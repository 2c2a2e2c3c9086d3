// The light ways are the full check: rows of a schedule in all that they print, and candidates tried all at once.
#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <random>

#include "choose/finder.h"
#include "choose/limits.h"
#include "support/shipped.h"
#include "verdict/light.h"

namespace jambcheck {
namespace {

using choose::Sides;
using opening::Opening;
using opening::Project;
using rules::State;

std::uint64_t bits(double x) { return std::isnan(x) ? 0 : std::bit_cast<std::uint64_t>(x); }

class LightWays : public Shipped {
 protected:
  static const Project& demo() {
    static const Project kept = read("cases/boat_lockers/project.yaml");
    return kept;
  }
  static verdict::Checker& checker() {
    static verdict::Checker kept(set());
    return kept;
  }
  static const Opening& find(const Project& project, const std::string& mark) {
    for (const auto& o : project.openings)
      if (o.mark == mark) return o;
    throw std::runtime_error("no opening " + mark);
  }
  /// Whether the light way answered; then its answer is the full one.
  static bool expect_alike(verdict::Light& light, const Project& project, const Opening& o) {
    const auto result = light.check(project, o);
    if (!result) return false;
    const auto full = checker().check(project, o);
    EXPECT_EQ(result->state, full.state) << o.mark;
    EXPECT_EQ(bits(result->ratio), bits(full.ratio)) << o.mark << ": " << result->ratio << " light, " << full.ratio << " full";
    EXPECT_EQ(result->governs, full.governs);
    EXPECT_EQ(result->why, full.why);
    EXPECT_EQ(result->assumed, full.assumed.size()) << o.mark;
    EXPECT_TRUE(full.questions.empty()) << o.mark << ": a question that the row would not print";
    return true;
  }
  /// A few numbers moved, now and then one unknown or a word of another opening.
  static Opening changed(std::mt19937_64& random) {
    const auto& all = demo().openings;
    Opening o = all[random() % all.size()];
    for (int k = 0; k < 4; ++k) {
      auto it = std::next(o.facts.begin(), static_cast<long>(random() % o.facts.size()));
      if (it->second.kind == opening::Fact::Kind::number) it->second.value *= std::uniform_real_distribution<double>(0.5, 1.6)(random);
      else if (random() % 4 == 0) o.facts.erase(it);
      if (random() % 12 == 0) std::next(o.facts.begin(), static_cast<long>(random() % o.facts.size()))->second.unknown = true;
    }
    return o;
  }
};

TEST_F(LightWays, ARowOfTheDemoPrintsWhatTheFullCheckSays) {
  verdict::Light light(set(), checker().plans());
  std::size_t answered = 0;
  for (const auto& o : demo().openings) answered += expect_alike(light, demo(), o);
  EXPECT_GT(answered, 12U);
}

TEST_F(LightWays, ARandomRowPrintsWhatTheFullCheckSays) {
  std::mt19937_64 random(41);
  verdict::Light light(set(), checker().plans());
  std::size_t answered = 0;
  for (int round = 0; round < 400; ++round) answered += expect_alike(light, demo(), changed(random));
  EXPECT_GT(answered, 60U);
}

TEST_F(LightWays, SeveralValuesAreLeftToTheFullCheck) {
  verdict::Light light(set(), checker().plans());
  std::size_t several = 0;
  for (const auto& o : demo().openings)
    if (!o.choices.empty()) {
      EXPECT_FALSE(light.check(demo(), o)) << o.mark;
      ++several;
    }
  EXPECT_GT(several, 0U);
}

TEST_F(LightWays, CandidatesTriedAtOnceAreThoseTriedOneByOne) {
  verdict::Briefs together(set(), checker().plans()), alone(set(), checker().plans());
  std::size_t compared = 0;
  for (const auto& o : demo().openings) {
    if (!o.choices.empty()) continue;
    for (const auto& part : verdict::parts()) {
      const auto space = choose::space_of(demo(), o, set(), part.bracket, Sides::both);
      if (space.candidates.empty()) continue;
      choose::Place place(o, part.bracket, Sides::both);
      const auto candidate = [&](std::size_t i, std::size_t l) -> const Opening& { return place.with(space.items[i], space.layouts[l]); };
      const std::size_t items = space.items.size();
      const auto all = together.candidates(demo(), part, items, space.layouts.size(), candidate);
      ASSERT_EQ(all.size(), items * space.layouts.size());
      for (std::size_t k = 0; k < all.size(); k += 1 + all.size() / 60) {
        const auto one = alone.part(demo(), candidate(k % items, k / items), part);
        EXPECT_EQ(all[k].state, one.state) << o.mark << " " << k;
        EXPECT_EQ(bits(all[k].ratio), bits(one.ratio)) << o.mark << " " << k;
        EXPECT_EQ(all[k].rule, one.rule) << o.mark << " " << k;
        EXPECT_EQ(all[k].link, one.link);
        EXPECT_EQ(all[k].load_case, one.load_case);
        ++compared;
      }
    }
  }
  EXPECT_GT(compared, 2000U);
}

TEST_F(LightWays, OnASmallSpaceChoosingIsBruteForceThroughTheFullCheck) {
  for (const char* mark : {"D-401", "D-404", "D-407"})
    for (const bool bracket : {false, true}) {
      const Opening& o = find(demo(), mark);
      const auto found = choose::find(checker(), set(), demo(), o, {bracket, Sides::both, choose::By::holes, false}, {});
      std::size_t holding = 0;
      for (std::size_t t = 0; t < found.tried.size(); t += found.tried.size() > 110 ? 5 : 1) {
        const auto with = choose::with(o, found, t);
        State worst = State::holds;
        for (const auto& c : checker().check(demo(), with).connections)
          if ((c.id.back() == 'B') == bracket) worst = rules::worse(worst, c.state);
        EXPECT_EQ(found.tried[t].state, worst) << mark << " " << t;
        holding += worst == State::holds;
      }
      if (std::string(mark) == "D-401") {
        EXPECT_GT(holding, 0U);
      }
    }
}

TEST_F(LightWays, EveryStepInsideOfALimitHolds) {
  const auto project = read("cases/first/project.yaml");
  const Opening& o = project.openings.front();
  std::vector<const choose::Axis*> of;
  for (const char* name : {"wind.pressure", "guide.edge", "guide.spacing", "guide.fastener.length", "bracket.edge"}) of.push_back(choose::find_axis(name));
  const auto table = choose::limits(checker(), set(), project, o, {}, of, 1);
  ASSERT_EQ(table.rows.size(), 1U);
  std::size_t inside = 0;
  for (std::size_t k = 0; k < of.size(); ++k) {
    const auto& limit = table.rows[0].limits[k];
    if (limit.kind == choose::Limit::Kind::none) continue;
    const double step = units::parse_unit(of[k]->unit)->to_canonical(of[k]->step);
    const auto state = [&](double value) {
      Project p;
      p.facts = project.facts;
      Opening one = o;
      choose::put_axis(p, one, *of[k], value);
      return checker().check(p, one).state;
    };
    const double low = std::min(limit.value, limit.inner), high = std::max(limit.value, limit.inner);
    const long steps = std::lround((high - low) / step);
    for (long i = 0; i <= steps; i += 1 + steps / 12, ++inside) EXPECT_EQ(state(low + static_cast<double>(i) * step), State::holds) << of[k]->name << " " << i;
    const double towards = of[k]->falls ? step : -step;
    if (limit.bounded) {
      EXPECT_NE(state(limit.inner + towards), State::holds) << of[k]->name;
    }
  }
  EXPECT_GT(inside, 20U);
}

}  // namespace
}  // namespace jambcheck
