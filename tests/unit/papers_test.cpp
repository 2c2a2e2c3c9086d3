// What stands in cards, schedules and take-offs.
#include <gtest/gtest.h>

#include <set>

#include "document/writers.h"
#include "papers/card.h"
#include "papers/package.h"
#include "papers/schedule.h"
#include "papers/sheets.h"
#include "papers/takeoff.h"
#include "support/program.h"
#include "support/shipped.h"

namespace jambcheck::papers {
namespace {

class Papers : public Shipped {
 protected:
  static std::string first() { return content_of("cases/first/project.yaml"); }
  static std::string card_of(const std::string& content, Language language, const CardOptions& options = {}) {
    const auto project = read_text("card.yaml", content);
    verdict::Checker checker(set());
    const auto& o = project.openings.front();
    return document::to_text(card(project, o, checker.check(project, o), fastenings(project, o, set(), checker), CardWords(language), options));
  }
};

TEST_F(Papers, OnlyHoldsGivesInstructions) {
  const std::string good = card_of(first(), Language::english);
  EXPECT_NE(good.find("Tape from the floor"), std::string::npos);
  EXPECT_NE(good.find("[ok] HOLDS"), std::string::npos);
  for (const auto& [what, by] : {std::pair("species: DFL", "species: unknown"), std::pair("fastener: lag 3/8 x 4", "fastener: lag 1/4 x 1"), std::pair("windlocks: no", "windlocks: yes")}) {
    const std::string bad = card_of(with(first(), what, by), Language::english);
    EXPECT_EQ(bad.find("Tape from the floor"), std::string::npos) << by;
    EXPECT_EQ(bad.find("hole depth"), std::string::npos) << by;
    EXPECT_NE(bad.find("Do not install"), std::string::npos) << by;
  }
}

TEST_F(Papers, CardsSpeakTwoLanguagesAndNumbersStay) {
  const std::string es = card_of(first(), Language::spanish), both = card_of(first(), Language::both);
  EXPECT_NE(es.find("tirafondo 3/8 x 4"), std::string::npos);
  EXPECT_EQ(es.find("Springs store"), std::string::npos);
  EXPECT_NE(both.find("Springs store"), std::string::npos);
  EXPECT_NE(both.find("resortes con tensión"), std::string::npos);
}

TEST_F(Papers, UsualCardsStayOnOneSheetAndCrowdedOnesOnTwo) {
  for (const char* spacing : {"spacing: 24\"", "spacing: 3\""})
    for (const Language language : {Language::english, Language::spanish}) {
      const auto project = read_text("card.yaml", with(with(first(), "spacing: 24\"", spacing), "mark: D-1", "mark: D-1234567890123456789012345678901234567890123456789012345678"));
      verdict::Checker checker(set());
      const auto& o = project.openings.front();
      for (const document::Paper paper : {document::Paper::letter, document::Paper::a4})
        EXPECT_LE(document::pages_of(card(project, o, checker.check(project, o), fastenings(project, o, set(), checker), CardWords(language), {Sides::both, paper, verdict::kNotKnown})), std::string(spacing) == "spacing: 3\"" ? 2 : 1) << spacing;
    }
}

TEST(CardWords, KeepTheirFieldsInBothLanguages) {
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  CardWords words(Language::english);
  words.replace(*sources.add("terms.csv", CardWords::as_csv()), diagnostics);
  EXPECT_FALSE(diagnostics.has_errors()) << text::render(diagnostics);
}

TEST(CardWords, AFirmsOwnWordCounts) {
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  CardWords words(Language::spanish);
  words.replace(*sources.add("terms.csv", "id,en,es\nlag_screw,,pija\nno_such,a,b\nplate,metal,metal {0}\n"), diagnostics);
  EXPECT_EQ(words("lag_screw"), "pija");
  EXPECT_EQ(words.in(Language::english, "lag_screw"), "lag screw");
  EXPECT_EQ(diagnostics.all().size(), 2u);
}

TEST(Letters, GoOnAfterZAndAreNeverGivenTwice) {
  EXPECT_EQ(letter_of(1), "A");
  EXPECT_EQ(letter_of(26), "Z");
  EXPECT_EQ(letter_of(27), "AA");
  EXPECT_EQ(letter_of(703), "AAA");
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  const auto back = read_letters(*sources.add("l.csv", write_letters({{"0123abcd", "B"}, {"11111111", "AA"}})), diagnostics);
  EXPECT_FALSE(diagnostics.has_errors());
  EXPECT_EQ(back.at("0123abcd"), "B");
  read_letters(*sources.add("l.csv", "letter,type\nA,0123abcd\nA,11111111\n"), diagnostics);
  EXPECT_TRUE(diagnostics.has_errors());
}

TEST_F(Papers, TypesKeepTheirLettersWhenOpeningsComeAndGo) {
  const auto project = read_text("t.yaml", first() + "  - {mark: D-2, like: D-1, guide: {spacing: 12\"}}\n  - {mark: D-3, like: D-1, quantity: 3}\n");
  const auto results = check(project);
  Letters letters;
  const auto types = types_of(project, results, letters);
  ASSERT_EQ(types.size(), 2u);
  EXPECT_EQ(types[0].members.size(), 2u);
  EXPECT_EQ(types[0].members[1].quantity, 3u);
  // The first type is gone; the other keeps its letter, a new one gets the next.
  auto later = read_text("t.yaml", with(first(), "spacing: 24\"", "spacing: 12\"") + "  - {mark: D-9, like: D-1, guide: {spacing: 6\"}}\n");
  const auto later_results = check(later);
  const auto again = types_of(later, later_results, letters);
  ASSERT_EQ(again.size(), 2u);
  EXPECT_EQ(again[0].letter, types[1].letter);
  EXPECT_EQ(again[1].letter, "C");
}

TEST_F(Papers, TakeoffCountsHolesAndRoundsUpOnce) {
  const auto project = read_text("t.yaml", with(first(), "openings:", "allowances: {drilling_loss: 3 %, spares: 5 %}\nopenings:") + "  - {mark: D-2, like: D-1, quantity: 2}\n");
  verdict::Checker checker(set());
  Takeoff t;
  for (const auto& o : project.openings) count(fastenings(project, o, set(), checker), o, "A", rules::State::holds, t);
  sum_up(project, t);
  // 8 ft, first hole at 6 in, then each 24 in: 4 a guide; 4 a bracket; two sides; three openings.
  const auto it = std::find_if(t.lines.begin(), t.lines.end(), [](const Line& l) { return l.kind == "fastener"; });
  ASSERT_NE(it, t.lines.end());
  EXPECT_EQ(it->item, "lag screw 3/8\" x 4\"");
  EXPECT_EQ(it->net, 48u);
  EXPECT_DOUBLE_EQ(it->loss, 48 * 0.03);
  EXPECT_DOUBLE_EQ(it->spares, 48 * 0.05);
  EXPECT_EQ(it->buy, 52u);  // 48 + 1.44 + 2.4 = 51.84
}

TEST(Takeoff, EachPhaseIsRoundedByItself) {
  Takeoff t;
  t.by_phase = true;
  for (const char* phase : {"1", "2"}) t.uses.push_back({"lag", "fastener", "D", phase, "A", "left guide", "", 10, true});
  opening::Project project;
  opening::Fact loss;
  loss.kind = opening::Fact::Kind::number;
  loss.value = 0.01;
  project.facts["allowances.drilling_loss"] = loss;
  sum_up(project, t);
  ASSERT_EQ(t.lines.size(), 2u);
  EXPECT_EQ(t.lines[0].buy + t.lines[1].buy, 22u);
  EXPECT_FALSE(t.spares_given);
}

TEST(Csv, NoCellIsRunAsAFormula) {
  const std::string csv = as_csv({{"=1+1", "+cmd", "-2", "@x"}});
  EXPECT_EQ(csv.substr(0, 6), "'=1+1,");
  EXPECT_EQ(csv.find(",+cmd"), std::string::npos);
  const std::string book = workbook({{"a", {{"head"}, {"=1+1"}}}});
  EXPECT_EQ(book, workbook({{"a", {{"head"}, {"=1+1"}}}})) << "same rows, same bytes";
  EXPECT_EQ(book.substr(0, 2), "PK");
}

TEST(Record, DifferencesAreNamed) {
  const std::string a = R"({"format":"record/1","program":"p","openings":{"D-1":{"state":"HOLDS"}},"checks":{},"rules":{"x.yaml":{"hash":"1"}}})";
  const std::string b = R"({"format":"record/1","program":"p","openings":{"D-1":{"state":"SHORT"}},"checks":{"D-1/LG/L1/W1":{}},"rules":{}})";
  std::string problem;
  EXPECT_TRUE(compare_records(a, a, problem).empty());
  const auto found = compare_records(a, b, problem);
  EXPECT_EQ(found.size(), 3u);
  EXPECT_TRUE(problem.empty());
  compare_records("{}", a, problem);
  EXPECT_FALSE(problem.empty());
}

}  // namespace
}  // namespace jambcheck::papers
