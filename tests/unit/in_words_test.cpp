// Conditions of rules in plain words.
#include <gtest/gtest.h>

#include "rules/in_words.h"
#include "rules/rule_set.h"
#include "support/program.h"

namespace jambcheck::rules {
namespace {

/// The condition of a flag of a small rule about a pull T, a plate t, its limit t_min and a wall.
std::string said(const std::string& condition, bool no = false) {
  const test::ScratchFolder folder;
  test::write_file(folder.path() + "/documents.yaml", "schema: documents/1\ndocuments:\n  own: {title: own, seen: recomputed}\n");
  test::write_file(folder.path() + "/keys.yaml",
                   "schema: keys/1\nkeys:\n  wall.kind: {one_of: [solid_wood, steel], say: wall}\n  load.pull: {unit: lbf, say: pull}\n  plate.t: {unit: in, say: plate}\n");
  test::write_file(folder.path() + "/r.yaml",
                   "schema: rule/1\nid: r\ntitle: a rule\ncode: R1\nstatus: reviewed\nmethod: any\nclauses:\n  c1: {doc: own, at: here, seen: recomputed}\n"
                   "applies: []\ninputs:\n  T: {from: load.pull, unit: lbf, cite: c1, say: pull}\n  t: {from: plate.t, unit: in, cite: c1, say: thickness of the plate}\n"
                   "  wall: {from: wall.kind, one_of: key, cite: c1, say: kind of wall}\n"
                   "constants:\n  t_min: {value: 1/8, unit: in, cite: c1}\n  R: {value: 9, unit: lbf, cite: c1}\n"
                   "check: {demand: T, capacity: R}\nflags:\n  - {id: uses_all, when: \"wall == steel and t < t_min\", outcome: engineer, cite: c1, say: told}\n  - {id: f, when: \"" + condition + "\", outcome: engineer, cite: c1, say: told}\n");
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  const auto set = load({{{folder.path(), "rules"}}, {}}, {}, sources, diagnostics);
  EXPECT_NE(set, nullptr) << text::render(diagnostics);
  return set ? in_words(*set->rule("r"), set->rule("r")->flags[1].when, no) : "";
}

TEST(InWords, NamesSayWhatTheyStandFor) {
  EXPECT_EQ(said("t < t_min"), "thickness of the plate is less than 1/8 in");
  EXPECT_EQ(said("wall == solid_wood and t >= t_min"), "kind of wall is solid wood and thickness of the plate is at least 1/8 in");
}

TEST(InWords, ArithmeticKeepsItsFormWithNamesInBrackets) {
  EXPECT_EQ(said("2 * t > min(t_min, 3 * t)"), "2 * [thickness of the plate] is more than the least of (1/8 in, 3 * [thickness of the plate])");
}

TEST(InWords, TheOppositeTurnsEveryPart) {
  EXPECT_EQ(said("t < t_min", true), "thickness of the plate is not less than 1/8 in");
  EXPECT_EQ(said("wall == steel and t <= t_min", true), "kind of wall is not steel or thickness of the plate is more than 1/8 in");
  EXPECT_EQ(said("not (wall != steel or t < t_min)"), "kind of wall is steel and thickness of the plate is not less than 1/8 in");
}

TEST(InWords, AndInsideOrKeepsItsBrackets) {
  EXPECT_EQ(said("wall == steel and (t < t_min or t > 2 * t_min)"),
            "kind of wall is steel and (thickness of the plate is less than 1/8 in or thickness of the plate is more than 2 * 1/8 in)");
}

}  // namespace
}  // namespace jambcheck::rules
