// What charts and free bodies show: the numbers of the check, forces that close, and labels that stand clear of each other.
#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include <fmt/format.h>

#include "papers/chart.h"
#include "papers/fastening.h"
#include "papers/free_body.h"
#include "papers/working.h"
#include "support/shipped.h"
#include "text/number.h"

namespace jambcheck::papers {
namespace {

using document::Align;
using document::Drawing;
using document::Label;

std::vector<Label> labels(const Drawing& d) {
  std::vector<Label> out;
  for (const auto& shape : d.shapes)
    if (const auto* l = std::get_if<Label>(&shape)) out.push_back(*l);
  return out;
}

/// Left and right end of a label; letters are taken a little wider than they are.
std::pair<double, double> ends(const Label& l) {
  const double w = l.size * 0.54 * static_cast<double>(l.text.size());
  const double left = l.align == Align::left ? l.at.x : l.align == Align::middle ? l.at.x - w / 2 : l.at.x - w;
  return {left, left + w};
}

void expect_clear(const Drawing& d, const std::string& where) {
  const auto all = labels(d);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto [left, right] = ends(all[i]);
    EXPECT_GE(left, -1) << where << ": " << all[i].text;
    EXPECT_LE(right, d.width + 20) << where << ": " << all[i].text;
    EXPECT_LE(all[i].at.y, d.height + 1) << where << ": " << all[i].text;
    for (std::size_t j = 0; j < i; ++j) {
      const auto [a, b] = ends(all[j]);
      const bool apart = right <= a + 2 || b <= left + 2 || std::fabs(all[i].at.y - all[j].at.y) >= std::min(all[i].size, all[j].size) * 0.9;
      EXPECT_TRUE(apart) << where << ": '" << all[i].text << "' over '" << all[j].text << "'";
    }
  }
}

/// The number after `lead` in what the drawing says.
double number_after(const std::string& text, const std::string& lead) {
  const auto at = text.find(lead);
  return at == std::string::npos ? std::nan("") : std::atof(text.c_str() + at + lead.size());
}

class Drawings : public Shipped {
 protected:
  static constexpr const char* kFirst = "cases/first/project.yaml";
  static constexpr const char* kDemo = "cases/boat_lockers/project.yaml";
};

TEST(Chart, StandsHigherWhereTheValueIsGreater) {
  const Drawing d = chart({"Title", "x, in", "y, lbf", "", ""}, {{"one", {{1, 10}, {2, 30}, {3, 20}}, false}}, document::Point{2, 30});
  std::vector<document::Disc> discs;
  for (const auto& s : d.shapes)
    if (const auto* disc = std::get_if<document::Disc>(&s)) discs.push_back(*disc);
  ASSERT_EQ(discs.size(), 4u);  // three points and the ring
  EXPECT_LT(discs[1].at.y, discs[2].at.y);
  EXPECT_LT(discs[2].at.y, discs[0].at.y);
  EXPECT_NEAR(discs[1].at.x - discs[0].at.x, discs[2].at.x - discs[1].at.x, 1e-9);
  EXPECT_NEAR(discs[3].at.x, discs[1].at.x, 1e-9);
  EXPECT_NE(d.say.find("one: 10, 30, 20"), std::string::npos);
  EXPECT_TRUE(chart({"", "", "", "", ""}, {{"a point alone", {{1, 10}}, false}}, std::nullopt).shapes.empty());
}

TEST_F(Drawings, TheEdgeChartGoesThroughTheCheckItself) {
  const auto project = read(kDemo);
  verdict::Checker checker(set());
  std::size_t seen = 0;
  for (const auto& o : project.openings) {
    if (!o.choices.empty()) continue;
    const auto result = checker.check(project, o);
    for (const auto& c : result.connections) {
      const Drawing d = edge_chart(project, o, c, checker);
      if (d.shapes.empty()) continue;
      ++seen;
      const auto* check = worst_strength(c);
      EXPECT_NE(d.say.find(text::rounded(check->unit.from_canonical(check->judgement.capacity), 3)), std::string::npos) << check->address << " " << d.say;
    }
  }
  EXPECT_GT(seen, 3u);
}

TEST_F(Drawings, TheTravelChartNeedsItsNumbers) {
  auto project = read(kFirst);
  verdict::Checker checker(set());
  EXPECT_FALSE(travel_chart(project, project.openings[0], set(), checker).shapes.empty());
  project.openings[0].facts.at("door.axle_projection").unknown = true;
  EXPECT_TRUE(travel_chart(project, project.openings[0], set(), checker).shapes.empty());
}

TEST_F(Drawings, FreeBodiesClose) {
  const auto project = read(kDemo);
  verdict::Checker checker(set());
  std::size_t guides = 0, brackets = 0;
  for (const auto& o : project.openings) {
    if (!o.choices.empty()) continue;
    for (const auto& c : checker.check(project, o).connections) {
      const auto* check = worst_strength(c, "L1");
      if (!check) continue;
      const auto drawn = free_body(*check, set(), checker.plans());
      for (const auto& d : drawn) expect_clear(d, check->address);
      if (drawn.size() == 1) {
        ++guides;
        const std::string& say = drawn[0].say;
        const double T = number_after(say, "T = "), P = number_after(say, "P_w = "), R = number_after(say, "R = "), c_toe = number_after(say, "c = "), b = number_after(say, "b = ");
        if (say.find("on the face") == std::string::npos) {
          const double H = say.find("H = ") == std::string::npos ? 0 : number_after(say, "H = "), up = number_after(say, "the curtain, ");
          EXPECT_NEAR(T - P, H, 0.002 * (T + P) + 1e-3) << check->address << " " << say;
          EXPECT_NEAR(P * c_toe, R * up, 0.003 * P * c_toe + 1e-3) << check->address << " " << say;
          continue;
        }
        if (say.find("H = ") != std::string::npos) continue;
        EXPECT_NEAR(T - P, say.find("onto the wall") == std::string::npos ? R : -R, 0.002 * (T + P) + 1e-3) << check->address << " " << say;
        if (say.find("off the wall") != std::string::npos && T > 0) {
          EXPECT_NEAR(T * c_toe, R * (b + c_toe), 0.002 * T * c_toe) << check->address << " " << say;
        }
      } else if (drawn.size() == 2) {
        ++brackets;
        const std::string &side = drawn[0].say, &front = drawn[1].say;
        const double V = number_after(side, "V = "), sum = number_after(side, "sum T = ");
        double down = 0, pull = 0;
        const std::regex hole(R"((\d+)(?: \*)?: (\S+) along, (\S+) down, pull (\S+) lbf)");
        for (std::sregex_iterator it(front.begin(), front.end(), hole), end; it != end; ++it) {
          down += std::atof((*it)[3].str().c_str());
          pull += std::atof((*it)[4].str().c_str());
        }
        EXPECT_NEAR(down, V, 0.003 * V + 1e-3) << check->address << " " << front;
        EXPECT_NEAR(pull, sum, 0.003 * sum + 1e-3) << check->address << " " << front;
      }
    }
  }
  EXPECT_GT(guides, 10u);
  EXPECT_GT(brackets, 10u);
}

TEST_F(Drawings, WithoutNumbersThereIsNoFreeBody) {
  auto project = read(kFirst);
  project.openings[0].facts.at("guide.lip").unknown = true;
  verdict::Checker checker(set());
  for (const auto& c : checker.check(project, project.openings[0]).connections)
    for (const auto& k : c.checks)
      if (c.id.back() == 'G') {
        EXPECT_TRUE(free_body(k, set(), checker.plans()).empty()) << k.address;
      }
}

}  // namespace
}  // namespace jambcheck::papers
