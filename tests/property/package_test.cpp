// A package against `check --json`: every number of every check, opening by opening.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "support/program.h"
#include "text/number.h"

namespace jambcheck::test {
namespace {

/// The cells of the row with this id, without their tags.
std::vector<std::string> cells_of(const std::string& html, const std::string& id) {
  std::vector<std::string> out;
  const auto start = html.find("<tr id=\"" + id + "\">");
  if (start == std::string::npos) return out;
  const auto end = html.find("</tr>", start);
  for (auto at = html.find("<td", start); at < end; at = html.find("<td", at)) {
    at = html.find('>', at) + 1;
    const auto close = html.find("</td>", at);
    std::string text;
    bool tag = false;
    for (const char c : html.substr(at, close - at)) {
      if (c == '<') tag = true;
      else if (c == '>') tag = false;
      else if (!tag) text += c;
    }
    out.push_back(text);
    at = close;
  }
  return out;
}

/// "305 lbf/in" as 305.
double number_of(const std::string& text) { return text::parse_number(text.substr(0, text.find(' '))).value_or(std::nan("")); }

void compare(const std::string& file) {
  ScratchFolder folder;
  const auto made = run_shell("jambcheck package " + file + " --digits 9 -o $T/p.html", folder.path());
  ASSERT_EQ(made.exit, 0) << made.err;
  const std::string html = read_file(folder.path() + "/p.html");
  const auto json = nlohmann::json::parse(run_shell("jambcheck check --json --stop-on never " + file).out);
  std::map<std::string, int> seen;
  int rows = 0;
  for (const auto& opening : json["openings"])
    for (const auto& connection : opening["connections"])
      for (const auto& check : connection["checks"]) {
        const auto cells = cells_of(html, "t-" + check["address"].get<std::string>());
        if (cells.empty()) continue;  // of a member that does not decide for its type
        ++rows;
        ASSERT_EQ(cells.size(), 7u);
        EXPECT_EQ(cells[0], check["address"]);
        EXPECT_EQ(cells[5], check["state"]);
        if (cells[2] == "--") continue;
        for (const auto& [cell, name] : {std::pair(2, "demand"), std::pair(3, "capacity")}) {
          const auto& exact = check[name];
          if (exact.is_null()) {
            EXPECT_EQ(cells[static_cast<std::size_t>(cell)], "--") << cells[0];
            continue;
          }
          EXPECT_NEAR(number_of(cells[static_cast<std::size_t>(cell)]), exact.get<double>(), 1e-6 * std::fabs(exact.get<double>())) << cells[0];
        }
        if (check["ratio"].is_number()) { EXPECT_NEAR(number_of(cells[4]), check["ratio"].get<double>(), 0.0051) << cells[0]; }
      }
  EXPECT_GT(rows, 20);
  // And the other way: no row of the package is missing in the result.
  int in_package = 0;
  for (auto at = html.find("<tr id=\"t-"); at != std::string::npos; at = html.find("<tr id=\"t-", at + 1)) ++in_package;
  EXPECT_EQ(in_package, rows);
}

TEST(Package, NumbersAreThoseOfTheCheck) { compare("cases/first/project.yaml"); }
TEST(Package, NumbersOfAWholeRowOfDoorsAreThoseOfTheCheck) { compare("cases/boat_lockers/project.yaml"); }

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
