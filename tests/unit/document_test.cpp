// Papers as documents: text, HTML and PDF of one model.
#include "document/document.h"

#include <gtest/gtest.h>

#include "document/words.h"
#include "document/writers.h"
#include "expr/tree.h"
#include "support/program.h"

namespace jambcheck::document {
namespace {

const std::string kWild = "<b>&\"' \u00e9 60-character-mark-that-never-ends-and-never-breaks-0123456789";

Document sample() {
  Document d;
  d.title = "Title " + kWild;
  d.running = "running";
  d.footer = "footer";
  d.add(Heading{1, "One " + kWild, "one"});
  d.add(Contents{"Contents"});
  d.add(StateLine{Sign::holds, "HOLDS", "left guide", 0.83});
  d.add(Paragraph{"Linked " + kWild, Style::plain, "two"});
  d.add(Paragraph{"a: 1\n  b: 2", Style::code});
  d.add(List{{"tick " + kWild}, true});
  d.add(PageBreak{});
  d.add(Heading{2, "Two", "two"});
  Table t;
  t.head = {"mark", "ratio"};
  for (int i = 0; i < 80; ++i) t.rows.push_back({{"row " + std::to_string(i) + kWild}, {"0.5", Sign::short_, 0.5, "one"}});
  d.add(t);
  const auto tree = expr::parse("a_b / sqrt(c ^ 2 + phi) * if(x < 1, 2, 3)");
  d.add(Formula{{math_name("W_adj"), "W_adj"}, {{math_of(*tree), "a_b / ..."}, {math_words("305 lbf/in"), "305 lbf/in"}}, "pull", "doc 12.2; seen: read"});
  Drawing drawing;
  drawing.width = 100, drawing.height = 60;
  drawing.say = "a jamb " + kWild;
  for (const Hatch h : {Hatch::wood, Hatch::block, Hatch::concrete, Hatch::steel, Hatch::brick, Hatch::no_drill}) hatch(drawing, h, 10, 10, 80, 40);
  dimension(drawing, {10, 55}, {90, 55}, "2\"");
  d.add(Columns{{1, 1}, {{{Figure{drawing}}}, {{Box{"box", {{Paragraph{"in the box"}}}}}}}});
  d.inside = {{"project.yaml", "a: \"1\"\r\n# </template> <&>\n"}, {"../other.yaml", "b\n"}};
  return d;
}

/// Tags open and close in order; attributes are quoted; nothing is left open.
std::string problem_of(const std::string& html) {
  std::vector<std::string> open;
  for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at)) {
    const std::size_t end = html.find('>', at);
    if (end == std::string::npos) return "a tag without end";
    std::string tag = html.substr(at + 1, end - at - 1);
    at = end;
    if (tag[0] == '!') continue;
    const bool closing = tag[0] == '/', empty = tag.back() == '/';
    const std::string name = tag.substr(closing ? 1 : 0, tag.find_first_of(" /", 1) - (closing ? 1 : 0));
    if (name == "meta" || name == "col" || empty) continue;
    if (name == "style" && !closing) {
      at = html.find("</style", at);
      continue;
    }
    if (name == "style") continue;
    if (!closing) {
      open.push_back(name);
      continue;
    }
    if (open.empty() || open.back() != name) return "</" + name + "> closes " + (open.empty() ? "nothing" : open.back());
    open.pop_back();
  }
  return open.empty() ? "" : open.back() + " stays open";
}

TEST(Html, AFormulaTooWideForASheetStandsAsTextOnPaper) {
  Document d;
  const std::string text = "if(thickness < limit, coefficient_1 * thickness + coefficient_2, coefficient_3 * thickness)";
  const auto tree = expr::parse(text);
  d.add(Formula{{math_name("R"), "R"}, {{math_of(*tree), text}, {math_words("1 lbf"), "1 lbf"}}, "", ""});
  const std::string html = to_html(d);
  EXPECT_NE(html.find("class=\"wide\""), std::string::npos);
  EXPECT_NE(html.find("aria-hidden=\"true\">R = if(thickness &lt; limit, coefficient_1"), std::string::npos);
  EXPECT_EQ(html.find("> = 1 lbf</span>"), std::string::npos) << "what is short stays set like a formula";
}

TEST(Html, IsWellFormedAndEscaped) {
  const std::string html = to_html(sample());
  EXPECT_EQ(problem_of(html), "");
  EXPECT_EQ(html.find("<b>&"), std::string::npos);
  EXPECT_EQ(html.find("<script"), std::string::npos);
  EXPECT_EQ(html.find("http"), std::string::npos) << "nothing is fetched";
  EXPECT_NE(html.find("id=\"two\""), std::string::npos);
  EXPECT_NE(html.find("<mfrac>"), std::string::npos);
}

TEST(Html, TheCheckerCanFail) {
  EXPECT_NE(problem_of("<p><b></p>"), "");
  EXPECT_NE(problem_of("<p>"), "");
}

TEST(Inside, ComesBackByteForByte) {
  const Document d = sample();
  for (const auto& back : {inside_of_html(to_html(d)), inside_of_pdf(to_pdf(d))}) {
    ASSERT_EQ(back.size(), 2u);
    for (const auto& f : d.inside) {
      const auto it = std::find_if(back.begin(), back.end(), [&](const Inside& b) { return b.name == f.name; });
      ASSERT_NE(it, back.end()) << f.name;
      EXPECT_EQ(it->content, f.content);
    }
  }
  EXPECT_TRUE(inside_of_pdf("no pdf").empty());
  EXPECT_TRUE(inside_of_html("<template class=\"inside\" data-name=\"x").empty());
}

TEST(Pdf, SameBytesTwiceWithoutADate) {
  const std::string once = to_pdf(sample());
  EXPECT_EQ(once, to_pdf(sample()));
  EXPECT_EQ(once.substr(0, 5), "%PDF-");
  EXPECT_EQ(once.find("/CreationDate"), std::string::npos);
  Document dated = sample();
  dated.date = "2027-06-30";
  EXPECT_NE(to_pdf(dated), once);
}

TEST(Pdf, TextCanBeSearchedAndPagesAreCounted) {
  test::ScratchFolder folder;
  test::write_file(folder.path() + "/p.pdf", to_pdf(sample()));
  const auto run = test::run_shell("pdftotext -layout " + folder.path() + "/p.pdf -");
  ASSERT_EQ(run.exit, 0) << run.err;
  const int pages = pages_of(sample());
  EXPECT_GT(pages, 2);
  for (const std::string& text : {std::string("row 79"), std::string("in the box"), std::string("seen: read"), "page 1 of " + std::to_string(pages), "page " + std::to_string(pages) + " of " + std::to_string(pages)})
    EXPECT_NE(run.out.find(text), std::string::npos) << text;
}

/// So long that it is drawn in pieces: chapters that lead to each other, forward and back.
Document long_paper() {
  Document d;
  d.title = "Long";
  d.add(Heading{1, "Cover", "cover"});
  d.add(Contents{"Contents"});
  for (int chapter = 0; chapter < 40; ++chapter) {
    d.add(PageBreak{});
    d.add(Heading{2, "Chapter " + std::to_string(chapter), "chapter-" + std::to_string(chapter)});
    d.add(Paragraph{"Beside it", Style::plain, "chapter-" + std::to_string((chapter + 17) % 40)});
    Table t;
    t.head = {"what", "page"};
    for (int i = 0; i < 60; ++i) {
      t.rows.push_back({{"line " + std::to_string(i)}, {}});
      t.rows.back()[1].page = "chapter-" + std::to_string(39 - chapter);
      t.anchors.push_back({"row-" + std::to_string(chapter) + "/" + std::to_string(i)});
    }
    d.add(t);
  }
  d.add(Paragraph{"Nowhere", Style::plain, "no such anchor"});
  return d;
}

TEST(Pdf, PiecesDrawnAtOnceAreOnePaper) {
  const Document d = long_paper();
  const std::string alone = to_pdf(d, 1);
  EXPECT_EQ(alone, to_pdf(d, 4)) << "the number of threads can't be seen";
  test::ScratchFolder folder;
  const std::string file = folder.path() + "/p.pdf";
  test::write_file(file, alone);
  const int pages = pages_of(d);
  EXPECT_EQ(pages, 81) << "the cover, and two for each chapter";
  EXPECT_EQ(test::run_shell("pdfinfo " + file + " | sed -n 's/^Pages: *//p'").out, std::to_string(pages) + "\n");
  const std::string text = test::run_shell("pdftotext -layout " + file + " -").out;
  std::size_t at = 0;
  for (int page = 1; page <= pages; ++page) {
    at = text.find("page " + std::to_string(page) + " of " + std::to_string(pages), at);
    ASSERT_NE(at, std::string::npos) << page;
  }
}

TEST(Pdf, EveryAnchorIsANamedDestinationOnItsPage) {
  test::ScratchFolder folder;
  const std::string file = folder.path() + "/p.pdf";
  test::write_file(file, to_pdf(long_paper()));
  const std::string places = test::run_shell("pdfinfo -dests " + file).out;
  for (int chapter = 0; chapter < 40; ++chapter) {
    const std::string name = "\"chapter-" + std::to_string(chapter) + "\"";
    const auto at = places.find(name);
    ASSERT_NE(at, std::string::npos) << name;
    const auto line = places.rfind('\n', at) + 1;
    EXPECT_EQ(std::stoi(places.substr(line, at - line)), 2 * chapter + 2) << name;
  }
  EXPECT_NE(places.find("\"row-39/59\""), std::string::npos);
  EXPECT_EQ(places.find("no such anchor"), std::string::npos);
}

TEST(Pdf, A4AndLetterDiffer) {
  Document d = sample();
  d.paper = Paper::a4;
  EXPECT_NE(to_pdf(d), to_pdf(sample()));
}

TEST(Text, HoldsEverythingInItsWidth) {
  const std::string text = to_text(sample(), 80);
  for (const char* part : {"[ok] HOLDS 0.83", "[ ] tick", "row 79", "305 lbf/in", "in the box"}) EXPECT_NE(text.find(part), std::string::npos) << part;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    EXPECT_LE(columns(text.substr(at, end - at)), 100u) << text.substr(at, end - at);
    at = end + 1;
  }
}

TEST(Text, RatiosAboveOneNeverReadOne) {
  EXPECT_EQ(ratio_text(1.0001), "1.01");
  EXPECT_EQ(ratio_text(1.0), "1.00");
  EXPECT_EQ(ratio_text(kNoRatio), "--");
}

TEST(Math, FractionsRootsPowersAndBrackets) {
  const auto mathml = [](const char* formula) { return to_mathml(math_of(*expr::parse(formula))); };
  EXPECT_EQ(mathml("a / b"), "<mfrac><mi>a</mi><mi>b</mi></mfrac>");
  EXPECT_EQ(mathml("phi_t"), "<msub><mi>φ</mi><mtext>t</mtext></msub>");
  EXPECT_EQ(mathml("(a + b) * c"), "<mrow><mrow><mo>(</mo><mrow><mi>a</mi><mo>+</mo><mi>b</mi></mrow><mo>)</mo></mrow><mo>·</mo><mi>c</mi></mrow>");
  EXPECT_EQ(mathml("(a / b)^2"), "<msup><mrow><mo>(</mo><mfrac><mi>a</mi><mi>b</mi></mfrac><mo>)</mo></mrow><mn>2</mn></msup>");
  EXPECT_EQ(mathml("D^(3/4)"), "<msup><mi>D</mi><mtext>3/4</mtext></msup>");
  EXPECT_EQ(mathml("a - (b - c)"), "<mrow><mi>a</mi><mo>−</mo><mrow><mo>(</mo><mrow><mi>b</mi><mo>−</mo><mi>c</mi></mrow><mo>)</mo></mrow></mrow>");
}

}  // namespace
}  // namespace jambcheck::document
