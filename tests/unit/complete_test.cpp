// Small rule sets that each leave a case without an answer in one way, and one that leaves none.
#include <gtest/gtest.h>

#include <map>

#include "rules/complete.h"
#include "support/built_in.h"
#include "support/program.h"

namespace jambcheck::rules {
namespace {

constexpr const char* kDocuments = "schema: documents/1\ndocuments:\n  own: {title: own, seen: recomputed}\n";
constexpr const char* kKeys =
    "schema: keys/1\nkeys:\n"
    "  wall.kind: {one_of: [wood, steel, stone], say: kind of wall, ask: \"Which wall?\", find: \"Look at it.\"}\n"
    "  wall.side: {one_of: [left, right], say: side of the wall, ask: \"Which side?\", find: \"Look at it.\"}\n"
    "  load.pull: {unit: lbf, say: pull, ask: \"How hard is the pull?\", find: \"Weigh it.\"}\n"
    "  hold.strength: {unit: lbf, say: strength}\n";
/// A rule with a check of `load.pull` against `hold.strength`.
std::string check(const std::string& id, const std::string& code, const std::string& when) {
  return "schema: rule/1\nid: " + id + "\ntitle: a check\ncode: " + code +
         "\nstatus: reviewed\nmethod: any\nclauses:\n  c1: {doc: own, at: here, seen: recomputed}\napplies:\n  - {when: \"" + when +
         "\", else: not-applicable}\ninputs:\n  T: {from: load.pull, unit: lbf, cite: c1}\n  R: {from: hold.strength, unit: lbf, cite: c1}\n"
         "check: {demand: T, capacity: R}\n";
}
/// A rule that gives `hold.strength`.
std::string strength(const std::string& id, const std::string& when) {
  return "schema: rule/1\nid: " + id + "\ntitle: a strength\nstatus: reviewed\nmethod: any\nclauses:\n"
         "  c1: {doc: own, at: here, seen: recomputed}\napplies:\n  - {when: \"" + when +
         "\", else: not-applicable}\nconstants:\n  R: {value: 9, unit: lbf, cite: c1}\noutputs:\n  R: {to: hold.strength}\n";
}
std::string required(const std::string& lines) { return "schema: required/1\nrequired:\n" + lines; }
std::string line(const std::string& when, const std::string& rules) {
  return "  - {when: \"" + when + "\", rules: [" + rules + "], say: it is checked}\n";
}

/// A rule set of these files; the clean one where nothing is replaced.
struct Set {
  std::map<std::string, std::string> files = {
      {"documents", kDocuments},
      {"keys", kKeys},
      {"hold", check("hold", "H1", "wall.kind != stone")},
      {"stone", check("stone", "H2", "wall.kind == stone")},
      {"wood", strength("wood", "wall.kind == wood or wall.kind == stone")},
      {"left", strength("left", "wall.kind == steel and wall.side == left")},
      {"right", strength("right", "wall.kind == steel and wall.side == right")},
      {"required", required(line("wall.kind != stone", "hold") + line("wall.kind == stone", "stone"))},
  };
  test::ScratchFolder folder;
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  std::unique_ptr<const RuleSet> set;

  Set& with(const std::string& name, const std::string& text) {
    files[name] = text;
    return *this;
  }
  Set& without(const std::string& name) {
    files.erase(name);
    return *this;
  }
  void load() {
    for (const auto& [name, text] : files) test::write_file(folder.path() + "/" + name + ".yaml", text);
    set = rules::load({{{folder.path(), "rules"}}, {}}, {}, sources, diagnostics);
  }
  Completeness walk() {
    load();
    EXPECT_NE(set, nullptr) << text::render(diagnostics);
    return set ? complete(*set) : Completeness{};
  }
};

std::vector<const Finding*> of_kind(const Completeness& result, FindingKind kind) {
  std::vector<const Finding*> out;
  for (const auto& f : result.findings)
    if (f.kind == kind) out.push_back(&f);
  return out;
}

/// The only fault of the result is one of this kind.
const Finding* only(const Completeness& result, FindingKind kind) {
  EXPECT_EQ(result.clean(), is_note(kind));
  for (const auto& f : result.findings) EXPECT_TRUE(is_note(f.kind) || f.kind == kind) << f.subject;
  const auto found = of_kind(result, kind);
  EXPECT_EQ(found.size(), 1U);
  return found.empty() ? nullptr : found.front();
}

TEST(Complete, CleanRulesHaveNoFinding) {
  Set rules;
  const Completeness result = rules.walk();
  EXPECT_TRUE(result.clean());
  EXPECT_EQ(result.findings.size(), 0U);
  EXPECT_EQ(result.words, (std::vector<std::string>{"wall.kind", "wall.side"}));
  EXPECT_EQ(result.combinations, 6);
  EXPECT_EQ(result.kinds, 3U);
  EXPECT_EQ(result.checked, 3U);
  EXPECT_EQ(result.refused, 0U);
  EXPECT_GE(result.walked, 3U);
}

TEST(Complete, ACaseForWhichNothingIsRequired) {
  Set rules;
  const auto result = rules.with("required", required(line("wall.kind == wood", "hold") + line("wall.kind == stone", "stone"))).walk();
  const Finding* f = only(result, FindingKind::nothing_required);
  ASSERT_NE(f, nullptr);
  ASSERT_EQ(f->when.size(), 1U);
  EXPECT_EQ(f->when[0], (WordSets{{"wall.kind", {"steel"}}}));
  EXPECT_EQ(result.checked, 2U);
}

TEST(Complete, ALineBesideTheFasteningCoversNothing) {
  Set rules;
  const auto result = rules.with("required", required("  - {when: \"wall.kind != stone\", rules: [hold], beside: yes, say: beside}\n" + line("wall.kind == stone", "stone"))).walk();
  const Finding* f = only(result, FindingKind::nothing_required);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->when, (std::vector<WordSets>{{{"wall.kind", {"steel", "wood"}}}}));
}

TEST(Complete, ARuleRequiredWhereItDoesNotApply) {
  Set rules;
  const auto result = rules.with("required", required(line("wall.kind != stone", "hold") + line("wall.kind != steel", "stone"))).walk();
  const Finding* f = only(result, FindingKind::not_applicable);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "stone");
  EXPECT_EQ(f->when, (std::vector<WordSets>{{{"wall.kind", {"wood"}}}}));
}

TEST(Complete, AValueThatNobodyGives) {
  Set rules;
  const auto result = rules.without("right").walk();
  const Finding* f = only(result, FindingKind::no_value);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "hold.strength");
  EXPECT_EQ(f->other, "hold");
  EXPECT_EQ(f->when, (std::vector<WordSets>{{{"wall.kind", {"steel"}}, {"wall.side", {"right"}}}}));
}

TEST(Complete, AValueThatTheCaseHasIsThere) {
  Set rules;
  rules.without("right").with("cases", "schema: cases/1\nhas:\n  - {keys: [hold.strength], when: wall.side == right, say: given}\n");
  EXPECT_TRUE(rules.walk().clean());
  Set wrong_side;
  wrong_side.without("right").with("cases", "schema: cases/1\nhas:\n  - {keys: [hold.strength], when: wall.side == left, say: given}\n");
  EXPECT_FALSE(wrong_side.walk().clean());
}

TEST(Complete, AQuestionIsAnAnswer) {
  Set rules;
  std::string keys = kKeys;
  keys.replace(keys.find("say: strength"), 13, "say: strength, ask: \"How strong?\", find: \"Ask.\"");
  EXPECT_TRUE(rules.without("right").with("keys", keys).walk().clean());
}

TEST(Complete, CombinationsThatCanNotBeAreLeftOut) {
  Set rules;
  rules.without("right").with("cases", "schema: cases/1\nnever:\n  - {when: wall.kind == steel and wall.side == right, say: never built}\n");
  EXPECT_TRUE(rules.walk().clean());
}

TEST(Complete, AWordThatDecidesButIsNeverAskedFor) {
  Set rules;
  std::string keys = kKeys;
  const std::string ask = ", ask: \"Which side?\", find: \"Look at it.\"";
  keys.replace(keys.find(ask), ask.size(), "");
  const auto result = rules.with("keys", keys).walk();
  const Finding* f = only(result, FindingKind::no_question);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "wall.side");
  Set given;
  given.with("keys", keys).with("cases", "schema: cases/1\nhas:\n  - {keys: [wall.side], say: known}\n");
  EXPECT_TRUE(given.walk().clean());
}

TEST(Complete, AWordThatTheRuleDoesNotKnow) {
  Set rules;
  std::string hold = check("hold", "H1", "wall.kind != stone");
  hold.replace(hold.find("check:"), 6, "flags:\n  - {id: soft, when: side == left and kind == wood, outcome: engineer, cite: c1, say: soft}\ncheck:");
  hold.replace(hold.find("inputs:\n"), 8, "inputs:\n  kind: {from: wall.kind, one_of: [wood, stone], cite: c1, say: wall}\n  side: {from: wall.side, one_of: [left, right], cite: c1, say: side}\n");
  const auto result = rules.with("hold", hold).walk();
  const Finding* f = only(result, FindingKind::unknown_word);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "wall.kind");
  EXPECT_EQ(f->when, (std::vector<WordSets>{{{"wall.kind", {"steel"}}}}));
}

TEST(Complete, ARuleThatNeverApplies) {
  Set rules;
  const auto result = rules.with("dead", check("dead", "H3", "wall.side == left and wall.side == right")).walk();
  const Finding* f = only(result, FindingKind::dead_rule);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "dead");
}

TEST(Complete, ARequiredLineThatSpeaksOfNoCase) {
  Set rules;
  const auto result = rules.with("more", required(line("wall.kind == wood and wall.kind == steel", "hold"))).walk();
  const Finding* f = only(result, FindingKind::dead_line);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->subject, "wall.kind == wood and wall.kind == steel");
}

TEST(Complete, TwoChecksOfOneCaseWithOneCode) {
  // They never apply together, so they load; but a line asks for both.
  Set rules;
  rules.with("stone", check("stone", "H1", "wall.kind == stone")).with("required", required(line("wall.kind == wood or wall.kind == stone", "hold, stone") + line("wall.kind == steel", "hold")));
  EXPECT_FALSE(of_kind(rules.walk(), FindingKind::same_code).empty());
}

TEST(Complete, DoublesThatApplyTogetherDoNotLoad) {
  Set two_rules;
  two_rules.with("right", strength("right", "wall.kind == steel")).load();
  EXPECT_EQ(two_rules.set, nullptr);
  EXPECT_NE(text::render(two_rules.diagnostics).find("G001"), std::string::npos);
  // The first of three has nothing to do with the others, which share their case.
  Set three;
  three.with("stone", check("stone", "H1", "wall.kind == stone")).with("third", check("third", "H1", "wall.kind == stone")).load();
  EXPECT_EQ(three.set, nullptr);
  EXPECT_NE(text::render(three.diagnostics).find("G011"), std::string::npos);
}

TEST(Complete, NotesLeaveTheRulesClean) {
  Set rules;
  std::string keys = kKeys;
  keys += "  wall.colour: {one_of: [red, white], say: colour, ask: \"Which colour?\"}\n";
  const std::string find = ", find: \"Weigh it.\"";
  keys.replace(keys.find(find), find.size(), "");
  const auto result = rules.with("keys", keys).walk();
  EXPECT_TRUE(result.clean());
  ASSERT_EQ(of_kind(result, FindingKind::unread_key).size(), 1U);
  EXPECT_EQ(of_kind(result, FindingKind::unread_key)[0]->subject, "wall.colour");
  ASSERT_EQ(of_kind(result, FindingKind::no_find).size(), 1U);
  EXPECT_EQ(of_kind(result, FindingKind::no_find)[0]->subject, "load.pull");
}

TEST(Complete, ARuleThatNothingReads) {
  Set rules;
  const auto result = rules.with("spare", check("spare", "H9", "wall.side == left")).walk();
  EXPECT_TRUE(result.clean());
  ASSERT_EQ(of_kind(result, FindingKind::aside).size(), 1U);
  EXPECT_EQ(of_kind(result, FindingKind::aside)[0]->subject, "spare");
}

TEST(Complete, ARefusalByTheWordsIsCounted) {
  Set rules;
  std::string stone = check("stone", "H2", "wall.kind == stone");
  stone.replace(stone.find("inputs:\n"), 8, "  - {when: kind == wood, else: refused, say: never in stone}\ninputs:\n  kind: {from: wall.kind, one_of: key, cite: c1, say: wall}\n");
  const auto result = rules.with("stone", stone).walk();
  EXPECT_TRUE(result.clean());
  EXPECT_EQ(result.refused, 1U);
  EXPECT_EQ(result.checked, 2U);
}

TEST(Complete, TheShippedRulesAreWalked) {
  const auto result = complete(test::built_in());
  EXPECT_GT(result.walked, 1000U);
  EXPECT_GT(result.refused, 0U);
  for (const Finding& f : result.findings)
    if (!is_note(f.kind)) ADD_FAILURE() << static_cast<int>(f.kind) << " " << f.subject << " " << f.other;
}

}  // namespace
}  // namespace jambcheck::rules
