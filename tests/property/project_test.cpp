// Properties of whole projects: units, threads, unknowns, batch against replay.
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <fstream>
#include <map>
#include <sstream>

#include "opening/field.h"
#include "opening/model.h"
#include "papers/check_report.h"
#include "rules/evaluation.h"
#include "rules/rule_set.h"
#include "support/shipped.h"
#include "verdict/check.h"

namespace jambcheck {
namespace {

using rules::State;

constexpr const char* kDemo = "cases/boat_lockers/project.yaml";
constexpr const char* kMetric = "cases/boat_lockers/metric.yaml";

void expect_same_ratio(double a, double b, const std::string& where) {
  if (std::isnan(a) || std::isnan(b) || std::isinf(a)) {
    EXPECT_EQ(std::isnan(a), std::isnan(b)) << where;
    EXPECT_EQ(std::isinf(a), std::isinf(b)) << where;
    return;
  }
  EXPECT_NEAR(a, b, 1e-9 * std::max(1.0, std::fabs(a))) << where;
}

TEST_F(Shipped, MetricTwinGivesTheSameStatesAndRatios) {
  const auto inch = check(read(kDemo)), metric = check(read(kMetric));
  ASSERT_EQ(inch.size(), metric.size());
  for (std::size_t i = 0; i < inch.size(); ++i) {
    EXPECT_EQ(inch[i].mark, metric[i].mark);
    EXPECT_EQ(inch[i].state, metric[i].state) << inch[i].mark;
    EXPECT_EQ(inch[i].governs, metric[i].governs);
    for (std::size_t c = 0; c < inch[i].connections.size(); ++c) {
      const auto &a = inch[i].connections[c].checks, &b = metric[i].connections[c].checks;
      ASSERT_EQ(a.size(), b.size());
      for (std::size_t k = 0; k < a.size(); ++k) {
        EXPECT_EQ(a[k].address, b[k].address);
        EXPECT_EQ(a[k].judgement.state, b[k].judgement.state) << a[k].address;
        if (inch[i].answers.empty()) {  // values tried are named in their own units
          EXPECT_EQ(a[k].load_case, b[k].load_case) << a[k].address;
        }
        expect_same_ratio(a[k].judgement.ratio, b[k].judgement.ratio, a[k].address);
      }
    }
  }
}

TEST_F(Shipped, AnyNumberOfThreadsGivesTheSameBytes) {
  const auto project = read(kDemo);
  const papers::ReportOptions options{true, 4, kDemo, {}};
  const std::string one = papers::check_json(project, check(project, 1), *set_, options);
  for (const int jobs : {2, 3, 8}) EXPECT_EQ(one, papers::check_json(project, check(project, jobs), *set_, options)) << jobs;
}

TEST_F(Shipped, OneOpeningAloneGivesTheSameAsAmongOthers) {
  const auto project = read(kDemo);
  const auto together = check(project);
  for (std::size_t i = 0; i < project.openings.size(); ++i) {
    verdict::Checker checker(*set_);
    const auto alone = checker.check(project, project.openings[i]);
    const papers::ReportOptions options{true, 17, kDemo, {}};
    EXPECT_EQ(papers::check_json(project, {alone}, *set_, options), papers::check_json(project, {together[i]}, *set_, options)) << alone.mark;
  }
}

TEST_F(Shipped, ExplainWorksOutTheVeryNumbersOfCheck) {
  for (const auto& opening : check(read(kDemo)))
    for (const auto& connection : opening.connections)
      for (const auto& c : connection.checks) {
        const rules::Evaluation replay(c.plan, *c.values);
        const auto again = replay.judge(*c.plan->check_of(*c.rule));
        EXPECT_EQ(0, std::memcmp(&again.ratio, &c.judgement.ratio, sizeof again.ratio)) << c.address;
        EXPECT_EQ(again.state, c.judgement.state) << c.address;
        EXPECT_EQ(again.reasons, c.judgement.reasons) << c.address;
      }
}

/// Questions that name no field could not be answered.
class Unanswerable {
 public:
  void look_at(const verdict::OpeningResult& result, const std::string& how) {
    for (const auto& question : result.questions)
      if (question.fields.empty()) found_.emplace(question.key, how);
  }
  ~Unanswerable() {
    for (const auto& [key, how] : found_) ADD_FAILURE() << "no field answers the question about " << key << ", asked for " << how;
  }

 private:
  std::map<std::string, std::string> found_;
};

/// Every fact of a project, one after another, called unknown.
class Unknowns : public Shipped, public ::testing::WithParamInterface<const char*> {};
INSTANTIATE_TEST_SUITE_P(Projects, Unknowns, ::testing::Values(kDemo, "cases/jambs/project.yaml"));

TEST_P(Unknowns, NeverImproveAndNeverHold) {
  const auto project = read(GetParam());
  const auto before = check(project);
  verdict::Checker checker(*set_);
  Unanswerable unanswerable;
  std::size_t tried = 0;
  for (std::size_t i = 0; i < project.openings.size(); ++i)
    for (const auto& [path, fact] : project.openings[i].facts) {
      opening::Opening changed = project.openings[i];
      changed.facts[path].unknown = true;
      const auto after = checker.check(project, changed);
      unanswerable.look_at(after, changed.mark + " " + path);
      ++tried;
      if (before[i].state != State::holds) {
        EXPECT_NE(after.state, State::holds) << changed.mark << " " << path;
      }
      if (after.state == State::holds) {
        // It may hold only where the value takes no part (every check is then what it was), or where every answer was
        // tried and all hold: the side of the wall, the end that holds the torque.
        for (std::size_t c = 0; c < after.connections.size(); ++c)
          for (std::size_t k = 0; k < after.connections[c].checks.size(); ++k) {
            const double a = before[i].connections[c].checks[k].judgement.ratio, b = after.connections[c].checks[k].judgement.ratio;
            if (path == "face" || path == "door.torque_at") {
              EXPECT_GE(b, a * (1 - 1e-9)) << changed.mark;
            } else {
              expect_same_ratio(a, b, changed.mark + " " + path);
            }
          }
      }
    }
  EXPECT_GT(tried, 100U);
}

TEST_F(Shipped, LeavingSomethingOutNeverTurnsAnOpeningToHolds) {
  const auto project = read(kDemo);
  const auto before = check(project);
  verdict::Checker checker(*set_);
  Unanswerable unanswerable;
  for (std::size_t i = 0; i < project.openings.size(); ++i)
    for (const auto& [path, fact] : project.openings[i].facts) {
      if (only_tells(path) || path.rfind("buck.", 0) == 0) continue;  // no buck said is no buck
      opening::Opening changed = project.openings[i];
      changed.facts.erase(path);
      const auto after = checker.check(project, changed);
      unanswerable.look_at(after, changed.mark + " without " + path);
      if (before[i].state == State::holds || path == "gap") continue;
      EXPECT_NE(after.state, State::holds) << changed.mark << " without " << path;
    }
}

opening::Fact word(const std::string& text) {
  opening::Fact fact;
  fact.kind = opening::Fact::Kind::word;
  fact.word = text;
  return fact;
}

TEST_F(Shipped, AFasteningThatNoRuleCoversNeverHolds) {
  // What stands beside a fastening (a rating of the door, the count of fasteners) must not pass for its own check.
  const auto project = read(kDemo);
  const auto rated = [](opening::Opening& o) {
    opening::Fact high;
    high.kind = opening::Fact::Kind::number;
    high.value = 10;  // psi: far above any wind
    o.facts["door.rated_inward"] = o.facts["door.rated_outward"] = high;
  };
  for (const std::string material : {"concrete", "masonry", "unknown"})
    for (const auto& kind : set_->key("fastener.kind")->words) {
      opening::Opening changed = project.openings.front();
      rated(changed);
      changed.facts["jamb.material"] = word(material);
      changed.facts["jamb.material"].unknown = material == "unknown";
      for (const char* part : {"guide.fastener.kind", "bracket.fastener.kind"}) changed.facts[part] = word(kind);
      verdict::Checker checker(*set_);
      EXPECT_NE(checker.check(project, changed).state, State::holds) << kind << " in " << material;
    }
}

TEST_F(Shipped, WhatTheUserCallsUnknownIsNotTakenAsItsDefault) {
  const auto project = read(kDemo);
  for (const char* path : {"jamb.treated", "gap", "jamb.grain", "jamb.treatment", "door.operator", "jamb.behind", "buck.kind", "guide.fastener.hole_state", "bracket.plate_left"}) {
    opening::Opening changed = project.openings.front();
    changed.facts.erase("gap");
    changed.facts[path] = word("");
    changed.facts[path].unknown = true;
    verdict::Checker checker(*set_);
    EXPECT_NE(checker.check(project, changed).state, State::holds) << path;
  }
}

TEST_F(Shipped, ADoorRatedForLessThanTheWindIsForAnEngineer) {
  const auto project = read(kDemo);
  opening::Opening changed = project.openings.front();
  opening::Fact low;
  low.kind = opening::Fact::Kind::number;
  low.value = 5.0 / 144;  // 5 psf
  changed.facts["door.rated_inward"] = low;
  verdict::Checker checker(*set_);
  EXPECT_EQ(checker.check(project, changed).state, State::engineer);
}

TEST_F(Shipped, MoreLoadNeverImproves) {
  auto project = read(kDemo);
  const auto before = check(project);
  for (auto& [path, fact] : project.facts)
    if (path.rfind("site.wind.", 0) == 0 && fact.kind == opening::Fact::Kind::number) fact.value *= 1.5;
  for (auto& o : project.openings)
    for (const char* path : {"door.weight", "door.barrel_weight"})
      if (o.facts.count(path)) o.facts[path].value *= 1.5;
  const auto after = check(project);
  for (std::size_t i = 0; i < before.size(); ++i) {
    EXPECT_GE(after[i].state, before[i].state) << before[i].mark;
    for (std::size_t c = 0; c < before[i].connections.size(); ++c)
      for (std::size_t k = 0; k < before[i].connections[c].checks.size(); ++k) {
        const double a = before[i].connections[c].checks[k].judgement.ratio, b = after[i].connections[c].checks[k].judgement.ratio;
        if (std::isnan(a) || std::isnan(b)) continue;
        EXPECT_GE(b, a * (1 - 1e-9)) << before[i].connections[c].checks[k].address;
      }
  }
}

}  // namespace
}  // namespace jambcheck
