// Reading of project files.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <random>

#include "opening/fastener_text.h"
#include "opening/field.h"
#include "opening/model.h"
#include "opening/words.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;

/// The small rule set of tests/unit/data/opening_rules, loaded once.
const rules::RuleSet& rule_set() {
  static text::SourceSet sources;
  static const std::unique_ptr<const rules::RuleSet> set = [] {
    const auto folder = std::filesystem::path(__FILE__).parent_path() / "data" / "opening_rules";
    text::Diagnostics diagnostics;
    auto loaded = rules::load({{{(folder / "rules").string(), "rules"}}, {{(folder / "tables").string(), "tables"}}},
                              {}, sources, diagnostics);
    EXPECT_EQ(text::render(diagnostics), "");
    return loaded;
  }();
  return *set;
}

struct Reading {
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  Project project;
  [[nodiscard]] std::vector<MessageId> ids() const {
    std::vector<MessageId> out;
    for (const auto& d : diagnostics.all()) out.push_back(d.id);
    return out;
  }
  [[nodiscard]] bool has(MessageId id) const {
    const auto all = ids();
    return std::count(all.begin(), all.end(), id) != 0;
  }
  [[nodiscard]] const Opening& opening(std::string_view mark) const {
    for (const auto& o : project.openings)
      if (o.mark == mark) return o;
    ADD_FAILURE() << "no opening " << mark;
    static const Opening none;
    return none;
  }
};

Reading read(std::string content) {
  Reading out;
  const auto* file = out.sources.add("test.yaml", std::move(content));
  out.project = read_project(*file, rule_set(), out.diagnostics);
  return out;
}
/// One opening D-1 with these lines.
Reading read_lines(const std::string& lines) { return read("format: 1\nopenings:\n  - mark: D-1\n" + lines); }

double number(const Facts& facts, std::string_view path) {
  const Fact* f = fact(facts, path);
  if (!f) ADD_FAILURE() << "no fact " << path;
  return f ? f->value : 0;
}
std::string word_of(const Facts& facts, std::string_view path) {
  const Fact* f = fact(facts, path);
  if (!f) ADD_FAILURE() << "no fact " << path;
  return f ? f->word : "";
}

constexpr const char* kGood = R"(format: 1
project: {name: Boat lockers, address: 12 Example Rd, code: IBC 2021, method: asd,
          capacity: table, demo: yes, editions: {wood: invented}}
site:
  wind: {inward: 24.6 psf, outward: 1.2 kPa, level: asd, from: sheet S-001}
  seismic: {sds: 0.45, category: C}
  temperature: 90 degF
  moisture: dry
allowances: {drilling_loss: 3 %, spares: 2 %}
openings:
  - mark: D-104
    quantity: 2
    size: 8'-0" x 10'-0"
    door: {weight: 165 lb, windlocks: no, guide_plate: 3/16", spring_torque: 42 ft-lb, from: maker's sheet 3}
    mount: face
    face: inside
    jamb: {kind: wood, species: Grey Pine, size: 2x8, width: 7 1/4", moisture: dry, behind: none}
    buck: none
    gap: 1/2"
    guide: {fastener: lag 3/8 x 3, edge: 1 1/2", first: 6", spacing: 24", steel: mild}
    bracket:
      fastener: lag 3/8" x 3"
      count: 4
      plate: 8" x 10"
      plate_left: -4"
      plate_bottom: -1.5 in
      holes: [[-2 in, 1"], [2 in, 1"], [-50.8 mm, 7"], [2 in, 7"]]
      axle_offset: -1 in
    left: {jamb: {species: OAK}, gap: unknown}
  - mark: D-105
    like: D-104
    jamb: {kind: block, size: 8 in, filled: unknown, strength: 1900 psi}
)";

TEST(OpeningRead, FullFileHasNoProblems) {
  const Reading r = read(kGood);
  for (const auto& d : r.diagnostics.all()) EXPECT_EQ(d.severity, text::Severity::note) << text::render(d);
  EXPECT_FALSE(r.project.broken);
  ASSERT_EQ(r.project.openings.size(), 2u);
  EXPECT_FALSE(r.project.openings[0].broken);
  EXPECT_FALSE(r.project.openings[1].broken);
}

TEST(OpeningRead, SharedFacts) {
  const Reading r = read(kGood);
  const Facts& f = r.project.facts;
  EXPECT_EQ(word_of(f, "project.name"), "Boat lockers");
  EXPECT_EQ(word_of(f, "project.method"), "ASD");  // capitals make no difference
  EXPECT_EQ(word_of(f, "project.demo"), "yes");
  EXPECT_EQ(word_of(f, "project.editions.wood"), "invented");
  EXPECT_NEAR(number(f, "site.wind.inward"), 24.6 / 144, 1e-15);
  EXPECT_EQ(fact(f, "site.wind.inward")->shown.name, "psf");
  EXPECT_NEAR(number(f, "site.wind.outward"), 1200 / 6894.757293168361, 1e-9);
  EXPECT_DOUBLE_EQ(number(f, "site.seismic.sds"), 0.45);
  EXPECT_DOUBLE_EQ(number(f, "allowances.drilling_loss"), 0.03);
}

TEST(OpeningRead, OpeningFacts) {
  const Reading r = read(kGood);
  const Facts& f = r.opening("D-104").facts;
  EXPECT_DOUBLE_EQ(number(f, "width"), 96);
  EXPECT_DOUBLE_EQ(number(f, "height"), 120);
  EXPECT_DOUBLE_EQ(number(f, "quantity"), 2);
  EXPECT_DOUBLE_EQ(number(f, "door.spring_torque"), 42 * 12);
  EXPECT_DOUBLE_EQ(number(f, "guide.plate"), 3.0 / 16);  // door.guide_plate is the same thing
  EXPECT_EQ(word_of(f, "jamb.kind"), "wood");
  EXPECT_EQ(word_of(f, "jamb.material"), "wood");
  EXPECT_EQ(word_of(f, "jamb.species"), "PINE");
  EXPECT_EQ(word_of(f, "jamb.size"), "2x8");
  EXPECT_EQ(word_of(f, "buck.kind"), "none");
  EXPECT_EQ(word_of(f, "guide.fastener"), "lag 3/8 x 3");
  EXPECT_EQ(word_of(f, "guide.fastener.kind"), "lag_screw");
  EXPECT_DOUBLE_EQ(number(f, "guide.fastener.diameter"), 0.375);
  EXPECT_DOUBLE_EQ(number(f, "bracket.fastener.length"), 3);
  EXPECT_DOUBLE_EQ(number(f, "bracket.plate.height"), 10);
  EXPECT_DOUBLE_EQ(number(f, "bracket.plate_left"), -4);
  const std::vector<double> holes = {-2, 1, 2, 1, -2, 7, 2, 7};
  EXPECT_EQ(fact(f, "bracket.holes")->list, holes);
}

TEST(OpeningRead, PlacesPointAtTheToken) {
  const Reading r = read(kGood);
  const auto& place = fact(r.opening("D-104").facts, "guide.fastener.length")->place;
  EXPECT_EQ(place.line, 20u);
  EXPECT_EQ(std::string(text::line_of(*place.file, place.line)).substr(place.column - 1, place.length), "3");
}

TEST(OpeningRead, MetricAndInchFilesGiveTheSameFacts) {
  const Reading us = read_lines(R"(    size: 8'-0" x 10'-0"
    jamb: {kind: wood, thickness: 1 1/2"}
    guide: {fastener: lag 3/8 x 3, edge: 1 1/2", spacing: 24"}
    bracket: {plate: 8" x 10"}
)");
  const Reading si = read_lines(R"(    size: 2438.4 mm × 3048 mm
    jamb: {kind: wood, thickness: 38.1 mm}
    guide: {fastener: lag 9.525mm x 76.2mm, edge: 38.1 mm, spacing: 609.6 mm}
    bracket: {plate: 203.2 mm by 254 mm}
)");
  ASSERT_TRUE(us.diagnostics.all().empty() && si.diagnostics.all().empty());
  const Facts& a = us.opening("D-1").facts;
  const Facts& b = si.opening("D-1").facts;
  ASSERT_EQ(a.size(), b.size());
  for (const auto& [path, f] : a) {
    ASSERT_NE(fact(b, path), nullptr) << path;
    EXPECT_NEAR(f.value, fact(b, path)->value, 1e-12) << path;  // text facts are 0 in both
  }
}

TEST(OpeningRead, WeightsAsForceAndMass) {
  const auto weight = [](const std::string& text) {
    const Reading r = read_lines("    door: {weight: " + text + "}\n");
    EXPECT_TRUE(r.diagnostics.all().empty()) << text::render(r.diagnostics);
    return *fact(r.opening("D-1").facts, "door.weight");
  };
  EXPECT_DOUBLE_EQ(weight("165 lbf").value, 165);
  EXPECT_DOUBLE_EQ(weight("165 lb").value, 165);
  EXPECT_DOUBLE_EQ(weight("165lbs").value, 165);
  EXPECT_NEAR(weight("165 lbm").value, 165, 1e-10);
  EXPECT_NEAR(weight("75 kg").value, 75 / 0.45359237, 1e-9);
  EXPECT_NEAR(weight("733.9567 N").value, 165, 1e-4);
  EXPECT_NEAR(weight("0.165 kip").value, 165, 1e-10);
  EXPECT_EQ(units::show(weight("165 lb").value, weight("165 lb").shown), "165 lb");
  EXPECT_EQ(units::show(weight("75 kg").value, weight("75 kg").shown), "75 kg");
}

TEST(OpeningRead, UnknownIsAFactWithoutAValue) {
  const Reading r = read_lines(R"(    size: unknown
    door: {weight: unknown, windlocks: unknown}
    jamb: unknown
    guide: {fastener: unknown, edge: unknown}
    bracket: {holes: unknown, plate: unknown, fastener: lag 3/8 x unknown}
)");
  EXPECT_TRUE(r.diagnostics.all().empty()) << text::render(r.diagnostics);
  const Facts& f = r.opening("D-1").facts;
  for (const auto path :
       {"width", "height", "door.weight", "door.windlocks", "jamb.kind", "jamb.material", "guide.fastener.kind",
        "guide.fastener.diameter", "guide.edge", "bracket.holes", "bracket.plate.width", "bracket.fastener.length"}) {
    ASSERT_NE(fact(f, path), nullptr) << path;
    EXPECT_TRUE(fact(f, path)->unknown) << path;
  }
  EXPECT_FALSE(fact(f, "bracket.fastener.diameter")->unknown);
}

TEST(OpeningLike, CopiesWhatIsNotWrittenAgain) {
  const Reading r = read(kGood);
  const Facts& f = r.opening("D-105").facts;
  const Fact* spacing = fact(f, "guide.spacing");
  ASSERT_NE(spacing, nullptr);
  EXPECT_DOUBLE_EQ(spacing->value, 24);
  EXPECT_EQ(spacing->origin, Origin::copied);
  EXPECT_EQ(spacing->from, "D-104");
  EXPECT_EQ(fact(f, "jamb.kind")->origin, Origin::given);
}

TEST(OpeningLike, AnotherKindOfJambTakesNothingOfTheOldJamb) {
  const Reading r = read(kGood);
  const Facts& f = r.opening("D-105").facts;
  EXPECT_EQ(word_of(f, "jamb.material"), "masonry");
  EXPECT_EQ(fact(f, "jamb.species"), nullptr);
  EXPECT_EQ(fact(f, "left.jamb.species"), nullptr);
  EXPECT_EQ(fact(f, "jamb.width"), nullptr);
  EXPECT_TRUE(r.has(MessageId::K030));
}

TEST(OpeningLike, AnotherFastenerTakesNothingOfTheOldOne) {
  const Reading r = read(R"(format: 1
openings:
  - mark: A
    guide: {fastener: {kind: lag, diameter: 3/8", length: 3", root_diameter: 0.265 in}}
  - mark: B
    like: A
    guide: {fastener: "wood screw #12 x 2"}
  - mark: C
    like: A
    guide: {fastener: {diameter: 1/2"}}
)");
  EXPECT_FALSE(r.diagnostics.has_errors()) << text::render(r.diagnostics);
  const Facts& b = r.opening("B").facts;
  EXPECT_EQ(fact(b, "guide.fastener.root_diameter"), nullptr);
  EXPECT_EQ(fact(b, "guide.fastener.diameter"), nullptr);
  EXPECT_DOUBLE_EQ(number(b, "guide.fastener.number"), 12);
  const Facts& c = r.opening("C").facts;
  EXPECT_EQ(fact(c, "guide.fastener.root_diameter"), nullptr);
  EXPECT_DOUBLE_EQ(number(c, "guide.fastener.length"), 3);
}

TEST(OpeningLike, ChainsOutOfOrderNameTheFirstOriginal) {
  const Reading r = read(
      "format: 1\nopenings:\n  - {mark: C, like: B}\n  - {mark: B, like: A, gap: 1 in}\n  - {mark: A, mount: face}\n");
  EXPECT_TRUE(r.diagnostics.all().empty());
  EXPECT_EQ(fact(r.opening("C").facts, "mount")->from, "A");
  EXPECT_EQ(fact(r.opening("C").facts, "gap")->from, "B");
}

TEST(OpeningLike, LoopsAndUnknownMarksBreakOnlyTheirOpenings) {
  const Reading r = read(
      "format: 1\nopenings:\n  - {mark: A, like: B}\n  - {mark: B, like: A}\n  - {mark: C, like: D}\n  - {mark: E, "
      "mount: face}\n");
  const std::vector<MessageId> expected = {MessageId::K008, MessageId::K007};
  EXPECT_EQ(r.ids(), expected);
  EXPECT_TRUE(r.opening("A").broken);
  EXPECT_TRUE(r.opening("B").broken);
  EXPECT_TRUE(r.opening("C").broken);
  EXPECT_FALSE(r.opening("E").broken);
}

TEST(OpeningLike, ACopyOfABrokenOneIsNotChecked) {
  const Reading r = read("format: 1\nopenings:\n  - {mark: A, gap: 8}\n  - {mark: B, like: A}\n");
  EXPECT_TRUE(r.opening("B").broken);
  EXPECT_TRUE(r.has(MessageId::K031));
}

TEST(OpeningLike, OriginalsContradictionIsToldOnce) {
  const Reading r = read(
      "format: 1\nopenings:\n  - {mark: A, door: {windlocks: no, windlock_pull: 9 plf}}\n  - {mark: B, like: A}\n");
  EXPECT_EQ(r.diagnostics.count(text::Severity::error), 1u);
}

TEST(OpeningLike, LongChainsDoNotRecurse) {
  std::string file = "format: 1\nopenings:\n  - {mark: M0, gap: 1 in}\n";
  for (int i = 1; i <= 3000; ++i)
    file += "  - {mark: M" + std::to_string(i) + ", like: M" + std::to_string(i - 1) + "}\n";
  const Reading r = read(file);
  EXPECT_TRUE(r.diagnostics.all().empty());
  EXPECT_EQ(fact(r.project.openings.back().facts, "gap")->from, "M0");
}

TEST(OpeningSides, OverrideAndFallBack) {
  const Reading r = read(kGood);
  const Opening& o = r.opening("D-104");
  EXPECT_EQ(fact(o, "jamb.species", Side::left)->word, "OAK");
  EXPECT_EQ(fact(o, "jamb.species", Side::right)->word, "PINE");
  EXPECT_TRUE(fact(o, "gap", Side::left)->unknown);
  EXPECT_DOUBLE_EQ(fact(o, "gap", Side::right)->value, 0.5);
  EXPECT_DOUBLE_EQ(fact(o, "guide.edge", Side::left)->value, 1.5);
  EXPECT_EQ(fact(o, "guide.end", Side::left), nullptr);
}

TEST(OpeningSides, AnotherJambOnOneSideDoesNotTakeTheOthersWood) {
  const Reading r = read_lines(R"(    jamb: {kind: wood, species: OAK, thickness: 3"}
    guide: {fastener: {kind: lag, diameter: 3/8", length: 3", tip: 1/4"}}
    right: {jamb: {kind: steel, thickness: 1/4"}, guide: {fastener: bolt 1/2 x 2}}
)");
  const Opening& o = r.opening("D-1");
  EXPECT_EQ(fact(o, "jamb.species", Side::right), nullptr);
  EXPECT_EQ(fact(o, "jamb.material", Side::right)->word, "steel");
  EXPECT_DOUBLE_EQ(fact(o, "jamb.thickness", Side::right)->value, 0.25);
  EXPECT_EQ(fact(o, "jamb.species", Side::left)->word, "OAK");
  EXPECT_EQ(fact(o, "guide.fastener.tip", Side::right), nullptr);
  EXPECT_DOUBLE_EQ(fact(o, "guide.fastener.tip", Side::left)->value, 0.25);
}

TEST(OpeningSides, ContradictionsOfOneSideAreFound) {
  const Reading r =
      read_lines("    jamb: {kind: wood, width: 7 in}\n    guide: {edge: 2 in}\n    left: {jamb: {width: 1.5 in}}\n");
  ASSERT_EQ(r.diagnostics.all().size(), 1u);
  EXPECT_EQ(r.diagnostics.all()[0].id, MessageId::K022);
}

TEST(OpeningFastener, Notation) {
  const auto parse = [](std::string_view text) {
    const auto out = parse_fastener(text);
    EXPECT_TRUE(out.has_value()) << text;
    return out.value_or(FastenerText{});
  };
  const auto lag = parse("Lag Screw 3/8\" x 3 1/2\"");
  EXPECT_EQ(lag.kind, "lag_screw");
  EXPECT_DOUBLE_EQ(lag.diameter->value, 0.375);
  EXPECT_DOUBLE_EQ(lag.length->value, 3.5);
  const auto metric = parse("lag 10 mm x 80 mm");
  EXPECT_NEAR(metric.diameter->value, 10 / 25.4, 1e-15);
  EXPECT_EQ(metric.length->shown.name, "mm");
  EXPECT_DOUBLE_EQ(parse("bolt ½x6").diameter->value, 0.5);
  EXPECT_EQ(parse("self-drilling screw 1/4 x 1-1/2").kind, "tapping_screw");
  EXPECT_DOUBLE_EQ(parse("self-drilling screw 1/4 x 1-1/2").length->value, 1.5);
  EXPECT_EQ(parse("wood screw #12 x 3").number, 12);
  EXPECT_FALSE(parse("wood screw #12 x 3").diameter.has_value());
  EXPECT_EQ(parse("wedge anchor 1/2 x 4").kind, "wedge_anchor");
  EXPECT_FALSE(parse("lag 3/8 x unknown").length.has_value());
  EXPECT_DOUBLE_EQ(parse("lag 0.375 x 3 in").diameter->value, 0.375);
}

TEST(OpeningFastener, NotationRefused) {
  const auto id = [](std::string_view text) {
    const auto out = parse_fastener(text);
    EXPECT_FALSE(out.has_value()) << text;
    return out ? MessageId::Y001 : out.error().id;
  };
  for (const auto text : {"", "lag", "3/8 x 3", "anchor 1/2 x 4", "screw 1/4 x 2", "lag 3/8", "lag 3/8 x", "lag x 3",
                          "lag 3/8 x 3 x 4", "drill 1/4 x 2"})
    EXPECT_EQ(id(text), MessageId::K012) << text;
  EXPECT_EQ(id("lag 10 x 80"), MessageId::K034);
  EXPECT_EQ(id("lag 10 x 80 mm"), MessageId::U010);  // nobody means 10 inches
  EXPECT_EQ(id("lag 10 mm x 80"), MessageId::U010);
  EXPECT_EQ(id("lag 3/0 x 3"), MessageId::U013);
  EXPECT_EQ(id("lag 3/8 x 3 psi"), MessageId::U020);
}

TEST(OpeningProblems, AllOfOneFileInOneRun) {
  const Reading r = read(R"(format: 1
project: {methd: ASD}
site: {wind: {inward: 115 mph, outward: -20 psf}}
openings:
  - mark: A
    size: 8 x 10 ft
    door: {weight: , windlock: no}
  - mark: B
    guide: {fastener: lag 3/8}
    left: {mount: face}
  - mark: A
  - mount: sideways
  - mark: G
    mount: face
)");
  std::vector<MessageId> ids = r.ids();
  std::vector<MessageId> expected = {MessageId::K001, MessageId::U021, MessageId::K020, MessageId::U010,
                                     MessageId::K002, MessageId::K001, MessageId::K012, MessageId::K026,
                                     MessageId::K006, MessageId::Y004, MessageId::K003};
  std::sort(ids.begin(), ids.end());
  std::sort(expected.begin(), expected.end());
  EXPECT_EQ(ids, expected);
  EXPECT_TRUE(r.project.broken);
  EXPECT_TRUE(r.project.openings[0].broken);
  EXPECT_TRUE(r.project.openings[1].broken);
  EXPECT_TRUE(r.project.openings[2].broken);
  EXPECT_TRUE(r.project.openings[3].broken);
  EXPECT_FALSE(r.project.openings[4].broken);
}

TEST(OpeningProblems, AKeyGivenTwiceBreaksItsOpeningOnly) {
  const Reading r = read(
      "format: 1\nopenings:\n  - {mark: A}\n  - {mark: B, gap: 1 in, gap: 2 in}\n  - {mark: C}\nproject: {name: x}\n");
  EXPECT_FALSE(r.project.broken);
  EXPECT_FALSE(r.opening("A").broken);
  EXPECT_TRUE(r.opening("B").broken);
  EXPECT_FALSE(r.opening("C").broken);
}

TEST(OpeningProblems, AKeyGivenTwiceBehindTheOpeningsBreaksTheProject) {
  const Reading r = read("format: 1\nopenings:\n  - {mark: A}\nproject: {name: x, name: y}\n");
  EXPECT_TRUE(r.project.broken);
  EXPECT_FALSE(r.opening("A").broken);
}

TEST(OpeningProblems, NothingHoldsInAFileOfAnotherFormat) {
  EXPECT_TRUE(read("format: 2\nopenings: [{mark: A}]\n").project.broken);
  EXPECT_TRUE(read("openings: [{mark: A}]\n").project.broken);
  EXPECT_TRUE(read("").project.broken);
  EXPECT_TRUE(read(", format: 1\n").project.broken);
  EXPECT_TRUE(read("format: 1\nopenings: [{mark: A}]\n---\nformat: 1\n").project.broken);
  EXPECT_FALSE(read("format: 1\nopenings: [{mark: A}]\n").project.broken);
}

TEST(OpeningProblems, WarningsBreakNothing) {
  const Reading r = read_lines("    width: 80 ft\n");
  EXPECT_TRUE(r.has(MessageId::K023));
  EXPECT_FALSE(r.opening("D-1").broken);
}

TEST(OpeningProblems, MessagesNameMarkAndField) {
  const Reading r = read_lines("    left: {guide: {edge: 24 lbf, spacing: 8}}\n");
  ASSERT_EQ(r.diagnostics.all().size(), 2u);
  for (const auto& d : r.diagnostics.all()) EXPECT_EQ(d.sentence.find("D-1 left.guide."), 0u) << d.sentence;
}

TEST(OpeningFields, ListIsConsistent) {
  for (const auto& field : fields()) {
    EXPECT_EQ(find_field(field.level, field.path), &field) << field.path << " stands twice";
    for (const auto limit : {field.least, field.most})
      EXPECT_TRUE(limit.empty() || units::parse_quantity(limit).has_value()) << field.path;
    if (field.kind == FieldKind::word) {
      EXPECT_FALSE(field.words.empty()) << field.path;
      EXPECT_FALSE(field.words.substr(0, 4) == "own:" && word_list(field.words, rule_set()).words.empty())
          << field.path;
      EXPECT_TRUE(field.words.substr(0, 4) == "key:" || !word_list(field.words, rule_set()).open) << field.words;
    }
    EXPECT_FALSE(field.say.empty() || field.why.empty()) << field.path;
  }
}

TEST(OpeningFields, WordsAreReadWithTolerance) {
  const WordList kinds = word_list("own:fastener_kind", rule_set());
  EXPECT_EQ(choose(kinds, "Lag-Screw"), "lag_screw");
  EXPECT_EQ(choose(kinds, "lag bolt"), "lag_screw");
  EXPECT_EQ(choose(kinds, "lagg"), "");
  WordList two;
  two.words = {"a_b", "A-B"};
  EXPECT_EQ(choose(two, "A-B"), "A-B");
  EXPECT_EQ(choose(two, "a b"), "");  // could be either
}

TEST(OpeningFuzz, NoChangeOfBytesCrashesTheReader) {
  std::mt19937 random(20260131);
  const std::string good = kGood;
  const std::string signs = "{}[]:,-#\"'&*!|>% \n\t\0x/09.\xC3\x97\xFF";
  const auto below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
  std::size_t read_at_all = 0;
  for (int run = 0; run < 20000; ++run) {
    std::string bad = good;
    for (std::size_t change = 0, changes = 1 + below(4); change < changes; ++change) {
      const std::size_t at = below(bad.size());
      switch (below(4)) {
        case 0: bad[at] = signs[below(signs.size())]; break;
        case 1: bad.erase(at, 1 + below(6)); break;
        case 2: bad.insert(at, 1, signs[below(signs.size())]); break;
        default: bad.insert(at, bad.substr(below(bad.size()), 1 + below(12))); break;
      }
    }
    const Reading r = read(bad);
    if (!r.project.openings.empty()) ++read_at_all;
    for (const auto& d : r.diagnostics.all()) ASSERT_FALSE(text::render(d).empty());
  }
  EXPECT_GT(read_at_all, 5000u);  // or the changes never get past the YAML
}

}  // namespace
}  // namespace jambcheck::opening
