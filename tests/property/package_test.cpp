// A package against `check --json`: every number of every check, opening by opening.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "support/program.h"
#include "text/number.h"

namespace jambcheck::test {
namespace {

std::string without_tags(const std::string& html) {
  std::string text;
  bool tag = false;
  for (const char c : html) {
    if (c == '<') tag = true;
    else if (c == '>') tag = false;
    else if (!tag) text += c;
  }
  return text;
}

/// The cells of the row that has this id, or in which this id stands: one row serves both sides where they are alike.
std::vector<std::string> cells_of(const std::string& html, const std::string& id) {
  std::vector<std::string> out;
  const auto at_id = html.find(" id=\"" + id + "\"");
  if (at_id == std::string::npos) return out;
  const auto start = html.rfind("<tr", at_id), end = html.find("</tr>", start);
  for (auto at = html.find("<td", start); at < end; at = html.find("<td", at)) {
    at = html.find('>', at) + 1;
    const auto close = html.find("</td>", at);
    out.push_back(without_tags(html.substr(at, close - at)));
    at = close;
  }
  return out;
}

/// "305 lbf/in" as 305.
double number_of(const std::string& text) { return text::parse_number(text.substr(0, text.find(' '))).value_or(std::nan("")); }

/// A value as it must be printed: the number of the result, and its unit behind it.
void expect_amount(const std::string& cell, const nlohmann::json& exact, const std::string& unit, const std::string& where) {
  if (exact.is_null()) {
    EXPECT_TRUE(cell == "--" || cell == "no value") << where << ": " << cell;
    return;
  }
  EXPECT_NEAR(number_of(cell), exact.get<double>(), 1e-6 * std::fabs(exact.get<double>())) << where;
  const auto blank = cell.find(' ');
  EXPECT_EQ(blank == std::string::npos ? "1" : cell.substr(blank + 1), unit) << where << ": " << cell;
}

void expect_ratio(const std::string& cell, const nlohmann::json& exact, const std::string& where) {
  if (exact.is_number()) { EXPECT_NEAR(number_of(cell), exact.get<double>(), 0.0101) << where; }
}

/// The working of a check: its state line, and the fraction of demand and capacity that ends it.
bool expect_working(const std::string& html, const nlohmann::json& check) {
  const std::string address = check["address"];
  const auto start = html.find("<h3 id=\"c-" + address + "\"");
  if (start == std::string::npos) return false;
  const auto end = std::min({html.find("<h1", start + 1), html.find("<h2", start + 1), html.find("<h3", start + 1), html.size()});
  const std::string part = html.substr(start, end - start);
  EXPECT_NE(part.find(check["state"].get<std::string>()), std::string::npos) << address;
  if (part.find("The same numbers as") != std::string::npos) return true;
  const std::string open = "<mfrac><mtext>", between = "</mtext><mtext>", close = "</mtext></mfrac>";
  const auto last = part.rfind(open);
  if (last == std::string::npos) {
    ADD_FAILURE() << address << " is set without demand over capacity";
    return true;
  }
  const auto middle = part.find(between, last), shut = part.find(close, last);
  const std::string unit = check["unit"];
  expect_amount(part.substr(last + open.size(), middle - last - open.size()), check["demand"], unit, address + " demand");
  expect_amount(part.substr(middle + between.size(), shut - middle - between.size()), check["capacity"], unit, address + " capacity");
  return true;
}

int count_of(const std::string& html, const std::string& what) {
  int out = 0;
  for (auto at = html.find(what); at != std::string::npos; at = html.find(what, at + 1)) ++out;
  return out;
}

struct Walked {
  int checks = 0, links = 0, workings = 0, deciders = 0;
};

/// Every check of an opening that decides for its type has a row; of the others none has.
void walk_opening(const std::string& html, const nlohmann::json& opening, Walked& walked) {
  const std::string mark = opening["mark"];
  const auto answer = cells_of(html, "a-" + mark);
  ASSERT_EQ(answer.size(), 7u) << mark;
  EXPECT_EQ(answer[5], opening["state"]) << mark;
  if (answer[4] != "--") expect_ratio(answer[4], opening["ratio"], mark);
  const std::string& first = opening["connections"][0]["id"].get_ref<const std::string&>();
  if (html.find(" id=\"l-" + mark + "/" + first + "/") == std::string::npos) return;
  ++walked.deciders;
  for (const auto& connection : opening["connections"]) {
    for (const auto& link : connection["links"]) {
      const std::string id = mark + "/" + connection["id"].get<std::string>() + "/" + link["id"].get<std::string>();
      const auto cells = cells_of(html, "l-" + id);
      ASSERT_EQ(cells.size(), 7u) << id;
      EXPECT_EQ(cells[6], link["state"]) << id;
      if (cells[5] != "--") expect_ratio(cells[5], link["ratio"], id);
      ++walked.links;
    }
    for (const auto& check : connection["checks"]) {
      const std::string address = check["address"];
      const auto cells = cells_of(html, "t-" + address);
      ASSERT_EQ(cells.size(), 8u) << address;
      ++walked.checks;
      EXPECT_EQ(cells[1], without_tags(check["title"])) << address;
      EXPECT_EQ(cells[5], check["state"]) << address;
      EXPECT_EQ(cells[7], check["evidence"]["seen"]) << address;
      if (expect_working(html, check)) ++walked.workings;
      if (check["kind"] == "gate") continue;  // flags alone decide: its numbers say nothing
      expect_amount(cells[2], check["demand"], check["unit"], address);
      expect_amount(cells[3], check["capacity"], check["unit"], address);
      expect_ratio(cells[4], check["ratio"], address);
    }
  }
}

void compare(const std::string& file, const std::string& workings) {
  ScratchFolder folder;
  const auto made = run_shell("jambcheck package " + file + " --digits 9 --workings " + workings + " -o $T/p.html", folder.path());
  ASSERT_EQ(made.exit, 0) << made.err;
  const std::string html = read_file(folder.path() + "/p.html");
  const auto json = nlohmann::json::parse(run_shell("jambcheck check --json --stop-on never " + file).out);
  Walked walked;
  for (const auto& opening : json["openings"]) walk_opening(html, opening, walked);
  EXPECT_EQ(walked.deciders, count_of(html, "<h2 id=\"type-"));
  // And the other way: nothing in the package is missing in the result.
  EXPECT_GT(walked.checks, 20);
  EXPECT_EQ(count_of(html, " id=\"t-"), walked.checks);
  EXPECT_EQ(count_of(html, " id=\"l-"), walked.links);
  EXPECT_EQ(count_of(html, " id=\"a-"), static_cast<int>(json["openings"].size()));
  EXPECT_GT(walked.workings, 0);
  EXPECT_EQ(count_of(html, "<h3 id=\"c-"), walked.workings);
}

TEST(Package, NumbersAreThoseOfTheCheck) { compare("cases/first/project.yaml", "deciding"); }
TEST(Package, NumbersOfAllWorkingsAreThoseOfTheCheck) { compare("cases/first/project.yaml", "all"); }
TEST(Package, NumbersOfAWholeRowOfDoorsAreThoseOfTheCheck) { compare("cases/boat_lockers/project.yaml", "deciding"); }

/// Of nine shares in shear the largest counts: its working is set, of the others the number and where it comes from.
TEST(Package, ASharesWorkingIsLeftOutWhereALargerOneCounts) {
  ScratchFolder folder;
  const auto leaf = [&](const std::string& workings) {
    const auto made = run_shell("jambcheck package cases/boat_lockers/project.yaml --workings " + workings + " -o $T/p.html", folder.path());
    EXPECT_EQ(made.exit, 0) << made.err;
    const std::string html = read_file(folder.path() + "/p.html");
    const auto start = html.find("<h2 id=\"type-Q\"");
    return html.substr(start, html.find("<h2 ", start + 1) - start);
  };
  const std::string other = "(concrete.shear.edge_other)</h3>";
  const std::string deciding = leaf("deciding");
  EXPECT_NE(deciding.find("(concrete.shear.edge_loaded)</h3>"), std::string::npos);
  EXPECT_EQ(deciding.find(other), std::string::npos);
  EXPECT_NE(deciding.find("v_2 = 0 (toward the other edge; concrete.shear.edge_other)"), std::string::npos);
  EXPECT_NE(leaf("all").find("concrete.shear.edge_other"), std::string::npos);
}

TEST(Package, RunsAgainAndSaysTheSame) {
  ScratchFolder folder;
  for (const char* form : {"html", "pdf"}) {
    const std::string paper = folder.path() + "/p." + form;
    ASSERT_EQ(run_shell("jambcheck package cases/first/project.yaml -o " + paper).exit, 0);
    const auto again = run_shell("jambcheck replay " + paper);
    EXPECT_EQ(again.exit, 0) << again.out << again.err;
    EXPECT_NE(again.out.find("the same"), std::string::npos);
  }
}

TEST(Package, AChangedInputIsToldByItsChecks) {
  ScratchFolder folder;
  ASSERT_EQ(run_shell("jambcheck package cases/first/project.yaml -o $T/p.html", folder.path()).exit, 0);
  std::string html = read_file(folder.path() + "/p.html");
  const auto at = html.find("spacing: 24", html.find("<template"));
  ASSERT_NE(at, std::string::npos);
  html.replace(at, 11, "spacing: 36");
  write_file(folder.path() + "/p.html", html);
  const auto again = run_shell("jambcheck replay $T/p.html", folder.path());
  EXPECT_EQ(again.exit, 1);
  EXPECT_NE(again.out.find("check D-1/LG/L1/G3: ratio was"), std::string::npos) << again.out;
}

}  // namespace
}  // namespace jambcheck::test
