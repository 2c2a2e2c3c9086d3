// Schedules: the same answers as a project file, row by row, in order, whatever stands beside a row.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "csv/csv.h"
#include "schedule/run.h"
#include "support/shipped.h"
#include "text/number.h"
#include "yaml/node.h"

namespace jambcheck {
namespace {

constexpr const char* kDemo = "cases/boat_lockers/project.yaml";

struct Kept : schedule::Receiver {
  std::vector<std::string> lines;  ///< as written
  std::vector<std::string> marks;
  void head(const schedule::Columns& columns) override { lines.push_back(csv::write_row(schedule::out_head(columns))); }
  void units_row(const csv::Row&, const schedule::Columns&) override {}
  void row(const schedule::Row& row, const schedule::Columns& columns) override {
    lines.push_back(csv::write_row(schedule::out_cells(row, columns, 6)));
    marks.push_back(row.mark);
  }
  bool go_on(const schedule::Counts&) override { return true; }
};

class Schedule : public Shipped {
 protected:
  struct Run {
    Kept kept;
    schedule::Counts counts;
  };
  static Run run(const std::string& text, int jobs = 1, const schedule::Mapping& mapping = {}) {
    static const opening::Project base = read(kDemo);
    std::istringstream in(text);
    text::SourceSet sources;
    text::Diagnostics diagnostics;
    Run out;
    const auto counts = schedule::run(in, "plan.csv", mapping, base, set(), {jobs, true, {}}, out.kept, sources, diagnostics);
    EXPECT_TRUE(counts) << text::render(diagnostics);
    if (counts) out.counts = *counts;
    return out;
  }
};

std::string flow(const yaml::Node& node) {
  std::string out;
  for (const auto& item : node.items) {
    std::string text = item.is_scalar() ? item.text : flow(item);
    if (item.is_scalar()) {
      std::string quoted;
      for (const char c : text) quoted += c == '"' ? std::string("\\\"") : std::string(1, c);
      text = "\"" + quoted + "\"";
    }
    out += (out.empty() ? "" : ", ") + text;
  }
  return "[" + out + "]";
}

using Fields = std::map<std::string, std::string>;

void flatten(const yaml::Node& map, const std::string& group, Fields& out) {
  for (const auto& [key, value] : map.entries) {
    const std::string path = group.empty() ? key.text : group + "." + key.text;
    if (value.is_map()) flatten(value, path, out);
    else out[path == "jamb" || path == "buck" || path == "left.jamb" || path == "right.jamb" || path == "left.buck" || path == "right.buck" ? path + ".kind" : path] =
        value.is_scalar() ? value.text : flow(value);
  }
}

/// The openings of a project file, field by field as columns.
std::string as_schedule(const std::string& file, const std::string& own_column) {
  text::SourceSet sources;
  text::Diagnostics diagnostics;
  std::ifstream in(file);
  std::ostringstream content;
  content << in.rdbuf();
  const auto documents = yaml::parse(*sources.add(file, content.str()), diagnostics);
  std::vector<Fields> rows;
  std::map<std::string, int> heads;
  for (const auto& item : documents.front().find("openings")->items) {
    rows.emplace_back();
    flatten(item, "", rows.back());
    for (const auto& [path, text] : rows.back()) heads[path];
  }
  std::vector<std::string> head = {own_column};
  for (const auto& [path, n] : heads) head.push_back(path);
  std::string out = csv::write_row(head);
  for (auto& row : rows) {
    std::vector<std::string> cells = {"mine, \"too\""};
    for (std::size_t i = 1; i < head.size(); ++i) cells.push_back(row[head[i]]);
    out += csv::write_row(cells);
  }
  return out;
}

std::vector<std::string> cells_of(const std::string& line) {
  std::string problem;
  return csv::parse(line, problem).front().cells;
}

std::string cell(const Kept& kept, std::size_t row, const std::string& head) {
  const auto heads = cells_of(kept.lines.front()), cells = cells_of(kept.lines[row + 1]);
  for (std::size_t i = 0; i < heads.size(); ++i)
    if (heads[i] == head) return cells[i];
  return "no column " + head;
}

TEST_F(Schedule, TheDemoAsRowsGivesWhatTheDemoGives) {
  const auto rows = run(as_schedule(kDemo, "Hardware"));
  const auto results = check(read(kDemo));
  ASSERT_EQ(rows.counts.not_read, 0U) << rows.kept.lines.back();
  ASSERT_EQ(rows.kept.marks.size(), results.size());
  for (std::size_t i = 0; i < results.size(); ++i) {
    EXPECT_EQ(rows.kept.marks[i], results[i].mark);
    EXPECT_EQ(cell(rows.kept, i, "result state"), rules::word(results[i].state)) << results[i].mark;
    EXPECT_EQ(cell(rows.kept, i, "result ratio"), schedule::ratio_cell(results[i].ratio, 6)) << results[i].mark;
    EXPECT_EQ(cell(rows.kept, i, "result governs"), results[i].governs);
    EXPECT_EQ(cell(rows.kept, i, "Hardware"), "mine, \"too\"");
  }
}

/// Rows that copy openings of the demo, some of them changed; alike ones among them.
std::vector<std::string> many_rows(std::size_t count, unsigned seed) {
  std::mt19937 random(seed);
  const char* const marks[] = {"C-101", "C-102", "C-103", "B-303"};
  std::vector<std::string> out;
  for (std::size_t i = 0; i < count; ++i)
    out.push_back(csv::write_row({"R-" + std::to_string(i), marks[random() % 4], std::to_string(12 + random() % 4 * 6), random() % 5 == 0 ? "unknown" : "0 in", "=own" + std::to_string(i)}));
  return out;
}
const std::string kHead = "mark,like,guide.spacing_in,gap,Remark of mine\n";

std::string joined(const std::vector<std::string>& rows) {
  std::string out = kHead;
  for (const auto& row : rows) out += row;
  return out;
}

TEST_F(Schedule, BadRowsLeaveTheOthersAsTheyAre) {
  auto rows = many_rows(700, 1);  // more than a block
  const auto clean = run(joined(rows), 2);
  ASSERT_EQ(clean.counts.not_read, 0U);
  const std::string bad[] = {"R-x,C-101,many,0 in,\n", "R-y,C-101,24,0 in,,,,,\n", "R-z,nobody,24,0 in,\n", "\"R-q,C-101,24,0 in,\n", ",C-101,24,0 in,\n", "R-1,C-101,24,0 in,\n", "R-u,C-101,24,\xBD in,\n"};
  std::vector<std::size_t> spoilt;
  std::mt19937 random(2);
  for (std::size_t k = 0; k < 7; ++k) {
    std::size_t at = 100 + k * 80 + random() % 70;
    spoilt.push_back(at);
    rows[at] = bad[k];
  }
  const auto mixed = run(joined(rows), 2);
  EXPECT_EQ(mixed.counts.not_read, 7U);
  ASSERT_EQ(mixed.kept.lines.size(), clean.kept.lines.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (std::find(spoilt.begin(), spoilt.end(), i) != spoilt.end()) EXPECT_EQ(cell(mixed.kept, i, "result state"), "not read");
    else EXPECT_EQ(mixed.kept.lines[i + 1], clean.kept.lines[i + 1]);
  }
}

TEST_F(Schedule, AnyNumberOfThreadsGivesTheSameBytesInOrder) {
  const std::string text = joined(many_rows(600, 3));
  const auto one = run(text, 1);
  for (const int jobs : {2, 3}) EXPECT_EQ(run(text, jobs).kept.lines, one.kept.lines) << jobs;
  for (std::size_t i = 0; i < one.kept.marks.size(); ++i) EXPECT_EQ(one.kept.marks[i], "R-" + std::to_string(i));
}

TEST_F(Schedule, ItsOwnOutputReadsBackToTheSame) {
  std::string first, second;
  for (const auto& line : run(joined(many_rows(40, 4))).kept.lines) first += line;
  for (const auto& line : run(first).kept.lines) second += line;
  EXPECT_EQ(first, second);
}

TEST_F(Schedule, AMappingGivesWhatTheFieldsGive) {
  schedule::Mapping mapping;
  mapping.columns = {{"Door No.", "mark", "", {}, {}}, {"Like", "like", "", {}, {}}, {"OC", "guide.spacing", "in", {}, {}}, {"Gap?", "gap", "", {{"flush", "0 in"}}, {}}};
  const auto own = run("Door No.,Like,OC,Gap?\nD-1,C-101,24,Flush\nD-2,C-101,24\",0 in\n", 1, mapping);
  const auto fields = run("mark,like,guide.spacing,gap\nD-1,C-101,24 in,0 in\nD-2,C-101,24\",0 in\n");
  for (const std::size_t i : {0U, 1U})
    for (const char* head : {"result state", "result ratio", "result governs"}) EXPECT_EQ(cell(own.kept, i, head), cell(fields.kept, i, head));
}

TEST_F(Schedule, PressuresMayStandInARow) {
  const auto rows = run("mark,like,p_in,p_out\nA,B-303,20 psf,20 psf\nB,B-303,40 psf,40 psf\n");
  ASSERT_EQ(rows.counts.not_read, 0U);
  EXPECT_NE(cell(rows.kept, 0, "result ratio"), cell(rows.kept, 1, "result ratio"));
}

TEST_F(Schedule, UnitsRowAndBlankRowsPassThrough) {
  const auto rows = run("#,mark,like,guide.spacing\n#units,,,in\n,,,\n1,D-1,C-101,24\n");
  EXPECT_EQ(rows.counts.rows, 1U);
  EXPECT_EQ(rows.counts.not_read, 0U);
  EXPECT_EQ(rows.kept.lines.size(), 3U);  // head, blank, row; the receiver of this test drops the row of units
}

}  // namespace
}  // namespace jambcheck
