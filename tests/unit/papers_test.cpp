// What stands in cards, schedules and take-offs.
#include <gtest/gtest.h>

#include <set>

#include "csv/csv.h"
#include "document/writers.h"
#include "papers/card.h"
#include "papers/package.h"
#include "papers/schedule.h"
#include "papers/sheets.h"
#include "papers/alternates.h"
#include "papers/bags.h"
#include "papers/schedule_rows.h"
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

TEST_F(Papers, UsualAndCrowdedCardsStayOnOneSideForEachLanguage) {
  for (const char* spacing : {"spacing: 24\"", "spacing: 2-1/4\""})
    for (const Language language : {Language::english, Language::spanish, Language::both}) {
      const auto project = read_text("card.yaml", with(with(first(), "spacing: 24\"", spacing), "mark: D-1", "mark: D-1234567890123456789012345678901234567890123456789012345678"));
      verdict::Checker checker(set());
      const auto& o = project.openings.front();
      for (const document::Paper paper : {document::Paper::letter, document::Paper::a4})
        EXPECT_LE(document::pages_of(card(project, o, checker.check(project, o), fastenings(project, o, set(), checker), CardWords(language), {Sides::both, paper, verdict::kNotKnown})), language == Language::both ? 2 : 1) << spacing;
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

class Lists : public Papers {
 protected:
  Takeoff takeoff_of(const std::string& content, const std::string& prices = "", bool by_phase = false) {
    const auto project = read_text("t.yaml", content);
    const auto results = check(project);
    verdict::Checker checker(set());
    Takeoff t;
    t.by_phase = by_phase;
    for (std::size_t i = 0; i < project.openings.size(); ++i) count(fastenings(project, project.openings[i], set(), checker), project, project.openings[i], "A", results[i], t);
    choose::Prices list;
    if (!prices.empty()) {
      EXPECT_TRUE(choose::read_prices(prices, list).empty());
    }
    sum_up(project, list, t);
    return t;
  }
  static const Line& line(const Takeoff& t, Good good) {
    const auto it = std::find_if(t.lines.begin(), t.lines.end(), [&](const Line& l) { return l.what.good == good; });
    if (it == t.lines.end()) throw std::runtime_error("no such line");
    return *it;
  }
  static std::string with_allowances(const std::string& allowances) { return with(first(), "openings:", "allowances: {" + allowances + "}\nopenings:"); }
};

TEST_F(Lists, HolesAreCountedAndRoundedUpOnce) {
  const auto t = takeoff_of(with_allowances("drilling_loss: 3 %, spares: 5 %") + "  - {mark: D-2, like: D-1, quantity: 2}\n");
  // 8 ft, first hole at 6 in, then each 24 in: 4 a guide; 4 a bracket; two sides; three openings.
  const Line& l = line(t, Good::fastener);
  EXPECT_EQ(l.what.item, "lag screw 3/8\" x 4\"");
  EXPECT_EQ(l.net, 48);
  EXPECT_DOUBLE_EQ(l.loss, 48 * 0.03);
  EXPECT_DOUBLE_EQ(l.spares, 48 * 0.05);
  EXPECT_EQ(l.buy, 52);  // 48 + 1.44 + 2.4 = 51.84
  EXPECT_TRUE(std::isnan(l.packs));
}

TEST_F(Lists, AnAllowanceThatIsNotGivenIsNoZero) {
  const auto t = takeoff_of(first());
  EXPECT_TRUE(std::isnan(line(t, Good::fastener).buy));
  EXPECT_NE(line(t, Good::fastener).why_not.find("allowances.spares"), std::string::npos);
  EXPECT_EQ(takeoff_of(with_allowances("drilling_loss: 0 %, spares: 0 %")).lines.front().buy, 16);
}

TEST_F(Lists, PacksAreWholeAndPricesAreOfWhatIsBought) {
  const auto t = takeoff_of(with_allowances("drilling_loss: 3 %, spares: 5 %"), "fastener,price,pack,lasts\nlag 3/8 x 4,1/2,25,\nbit 1/4,4,,10\n");
  const Line& l = line(t, Good::fastener);  // 16 + 0.48 + 0.8 = 17.28
  EXPECT_EQ(l.packs, 1);
  EXPECT_EQ(l.buy, 25);
  EXPECT_EQ(l.left_over, 7);
  EXPECT_DOUBLE_EQ(l.cost, 12.5);
  const Line& bit = line(t, Good::bit);  // 16 holes and the lost ones, ten a bit
  EXPECT_EQ(bit.what.item, "bit 1/4\"");
  EXPECT_EQ(bit.buy, 2);
  EXPECT_DOUBLE_EQ(bit.cost, 8);
  // The other bit is not in the list: it is named, not guessed.
  EXPECT_TRUE(std::any_of(t.lines.begin(), t.lines.end(), [](const Line& x) { return x.what.item == "bit 3/8\"" && std::isnan(x.buy) && !x.why_not.empty(); }));
}

TEST_F(Lists, EachPhaseIsRoundedByItself) {
  const std::string two = with_allowances("drilling_loss: 1 %, spares: 0 %") + "  - {mark: D-2, like: D-1, phase: two}\n";
  double apart = 0;
  for (const auto& l : takeoff_of(two, "", true).lines)
    if (l.what.good == Good::fastener) apart += l.buy;
  EXPECT_EQ(apart, 34);                                   // 16.16 twice
  EXPECT_EQ(line(takeoff_of(two), Good::fastener).buy, 33);  // 32.32
}

TEST_F(Lists, AdhesiveIsTheHoleLessTheAnchor) {
  Takeoff t;
  Use use;
  use.good = Good::adhesive;
  use.key = "adhesive X";
  use.net = 100;  // in3
  t.uses.push_back(use);
  opening::Project project;
  for (const auto& [path, share] : {std::pair("allowances.drilling_loss", 0.1), std::pair("allowances.adhesive_waste", 0.2)}) {
    opening::Fact f;
    f.kind = opening::Fact::Kind::number;
    f.value = share;
    project.facts[path] = f;
  }
  choose::Prices list;
  ASSERT_TRUE(choose::read_prices("item,content,pack\nadhesive,10 in^3,4\n", list).empty());
  sum_up(project, list, t);
  EXPECT_DOUBLE_EQ(t.lines[0].pieces, 13.2);  // (100 + 10) x 1.2 / 10
  EXPECT_EQ(t.lines[0].packs, 4);
  EXPECT_EQ(t.lines[0].buy, 16);
}

TEST(PriceList, TellsEachRowThatItDoesNotUnderstand) {
  choose::Prices list;
  EXPECT_EQ(choose::read_prices("item,pack,packs\n", list).size(), 1u);
  EXPECT_EQ(choose::read_prices("item,pack,pack\n", list).size(), 1u);
  EXPECT_EQ(choose::read_prices("item,pack\nlag 3/8 x 4,2.5\nnail,3\nbit 1/4\nwasher 3/8,50\nwasher 3/8 in,50\nshim 6 mm,10\n", list).size(), 4u);
  EXPECT_EQ(list.supplies.at(choose::goods_key("washer", 0.375)).pack, 50);
  EXPECT_EQ(choose::read_prices("item,content\nadhesive,300\nadhesive A,300 mL\n", list).size(), 1u);
  EXPECT_NEAR(list.supplies.at("adhesive A").content, 18.3071, 1e-4);  // 300 cm3 in in3
}

TEST_F(Lists, BagsAndLoadsAddUpToTheSameCount) {
  const auto t = takeoff_of(first() + "  - {mark: D-2, like: D-1, phase: two, floor: \"1\"}\n");
  double bags = 0, loads = 0;
  for (const auto& b : bags_of(t)) bags += b.net;
  for (const auto& l : loads_of(t)) loads += l.net;
  EXPECT_EQ(bags, 32);
  EXPECT_EQ(loads, 32);
  EXPECT_EQ(bags_of(t).size(), 2u);
  EXPECT_EQ(bags_of(t)[0].parts, "left guide 4, right guide 4, left bracket 4, right bracket 4");
}

TEST_F(Lists, AlternatesHoldAtEveryMember) {
  const auto project = read_text("t.yaml", first() + "  - {mark: D-2, like: D-1, size: 8'-0\" x 7'-0\"}\n");
  const auto results = check(project);
  Letters letters;
  const auto types = types_of(project, results, letters);
  ASSERT_EQ(types.size(), 1u);
  verdict::Checker checker(set());
  const auto found = alternates_of(project, types, set(), checker, [&](const opening::Opening&) -> const opening::Project& { return project; }, 2);
  ASSERT_EQ(found.size(), 4u);
  for (const auto& a : found) {
    auto text = with(first(), a.part == "guide" ? "guide:\n      fastener: lag 3/8 x 4" : "bracket:\n      fastener: lag 3/8 x 4", a.part + ":\n      fastener: " + a.item.substr(0, a.item.find(',')));
    EXPECT_NE(a.item, "lag 3/8 x 4");
    const auto swapped = read_text("s.yaml", text);
    EXPECT_EQ(check(swapped).front().state, rules::State::holds) << a.part << " " << a.item;
  }
}

TEST_F(Lists, TheUsersColumnsStandAtTheRightAsTheyAre) {
  const auto project = read_text("t.yaml", first());
  const auto results = check(project);
  Letters letters;
  const auto types = types_of(project, results, letters);
  ScheduleInput in{project, types, {"D-9"}, {{"state", "Hardware", "Line"}, {{"D-1", {"x", "=A1", "007"}}}}, [&](const opening::Opening&) -> const opening::Project& { return project; }, [](const opening::Opening&) { return nullptr; }};
  const Grid g = opening_grid(in);
  ASSERT_EQ(g.rows.size(), 2u);
  const std::size_t n = g.columns.size();
  EXPECT_EQ(g.columns[n - 3].name, "state (own)");
  EXPECT_EQ(g.rows[0][n - 2], "=A1");
  EXPECT_EQ(g.rows[0][n - 1], "007");
  EXPECT_FALSE(g.columns[n - 1].number);
  EXPECT_EQ(g.rows[1][0], "D-9");
  EXPECT_NE(as_csv(g).find(",'=A1,007"), std::string::npos);
}

TEST(Csv, NoCellIsRunAsAFormula) {
  const std::string csv = as_csv({"a", {{"head"}, {"b"}, {"c"}, {"d"}}, {{"=1+1", "+cmd", "-2", "@x"}, {"\t=1", "\r=1", "-x", "1"}}});
  EXPECT_EQ(csv.substr(0, 20), "head,b,c,d\n'=1+1,'+c");
  for (const char* bad : {",+cmd", ",@x", "\n\t=", ",\r=", "\"\r=", ",-x"}) EXPECT_EQ(csv.find(bad), std::string::npos) << bad;
  const Grid grid{"a", {{"head"}, {"n", true}}, {{"=1+1", "2"}}};
  const std::string book = workbook({grid});
  EXPECT_EQ(book, workbook({grid})) << "same rows, same bytes";
  EXPECT_EQ(book.substr(0, 2), "PK");
  EXPECT_NE(as_json("x/1", "f", {grid}).find("\"n\": 2.0"), std::string::npos);
}

TEST(CardWords, NoSentenceIsLongerThanTwelveWords) {
  text::SourceSet sources;
  std::string problem;
  const auto rows = csv::parse(CardWords::as_csv(), problem);
  for (std::size_t r = 1; r < rows.size(); ++r)
    for (std::size_t c = 1; c < 3; ++c) {
      std::size_t words = 0;
      bool in_word = false;
      for (const char x : rows[r].cells[c] + ".") {
        if (std::isalpha(static_cast<unsigned char>(x)) || static_cast<unsigned char>(x) >= 0x80) {
          words += in_word ? 0 : 1;
          in_word = true;
        } else if (x != '\'' && x != '-') {
          in_word = false;
        }
        if (x == '.' || x == ':' || x == ';') {
          EXPECT_LE(words, 12u) << rows[r].cells[0] << ": " << rows[r].cells[c];
          words = 0;
        }
      }
    }
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
