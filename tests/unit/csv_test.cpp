// Rows of comma-separated files, one after the other.
#include <gtest/gtest.h>

#include <sstream>

#include "csv/csv.h"

namespace jambcheck {
namespace {

std::vector<csv::Row> rows_of(const std::string& text) {
  std::istringstream in(text);
  csv::RowReader reader(in);
  std::vector<csv::Row> out;
  for (csv::Row row; reader.next(row);) out.push_back(row);
  return out;
}

using Cells = std::vector<std::string>;

TEST(Csv, LineEndsOfAnyKindAndNone) {
  const auto rows = rows_of("a,b\r\nc,d\re\n\nf");
  ASSERT_EQ(rows.size(), 5U);
  EXPECT_EQ(rows[1].cells, (Cells{"c", "d"}));
  EXPECT_EQ(rows[3].cells, (Cells{""}));
  EXPECT_EQ(rows[4].line, 5U);
}

TEST(Csv, InchMarksAreNoQuotesAndQuotesHoldEverything) {
  const auto rows = rows_of("2 1/2\",\"say \"\"24\"\"\",\"a,b\nc\",d\nnext");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].cells, (Cells{"2 1/2\"", "say \"24\"", "a,b\nc", "d"}));
  EXPECT_EQ(rows[0].places[3].line, 2U);
  EXPECT_EQ(rows[0].places[3].column, 4U);
  EXPECT_EQ(rows[1].line, 3U);
}

TEST(Csv, ALostQuoteCostsOneRow) {
  const auto rows = rows_of("a,\"b\nc,d\ne,f\n");
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_FALSE(rows[0].problem.empty());
  EXPECT_EQ(rows[0].cells, (Cells{"a", "\"b"}));
  EXPECT_EQ(rows[1].cells, (Cells{"c", "d"}));
  EXPECT_EQ(rows[1].line, 2U);
  EXPECT_EQ(rows[2].line, 3U);
}

TEST(Csv, TextBehindAQuoteCostsOneRow) {
  const auto rows = rows_of("\"a\"b,c\nd,e\n");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_FALSE(rows[0].problem.empty());
  EXPECT_EQ(rows[1].cells, (Cells{"d", "e"}));
}

TEST(Csv, AQuoteNobodyClosesDoesNotSwallowALongFile) {
  std::string text = "\"open\n";
  for (int i = 0; i < 20000; ++i) text += "row,row\n";
  const auto rows = rows_of(text);
  ASSERT_EQ(rows.size(), 20001U);
  EXPECT_EQ(rows[20000].cells, (Cells{"row", "row"}));
  EXPECT_EQ(rows[20000].line, 20001U);
}

TEST(Csv, ByteOrderMarks) {
  std::istringstream marked("\xEF\xBB\xBFmark,b"), wide("\xFF\xFEm\0");
  csv::RowReader reader(marked);
  csv::Row row;
  ASSERT_TRUE(reader.next(row));
  EXPECT_TRUE(reader.marked());
  EXPECT_EQ(row.cells.front(), "mark");
  EXPECT_TRUE(csv::RowReader(wide).wide());
}

TEST(Csv, WhatLooksLikeAFormulaIsNoFormula) {
  EXPECT_EQ(csv::write_row({"=1+1", "+a", "-b", "@c", "-12.5", "d"}), "'=1+1,'+a,'-b,'@c,-12.5,d\n");
  EXPECT_EQ(csv::without_apostrophe("'=1+1"), "=1+1");
  EXPECT_EQ(csv::without_apostrophe("'a"), "'a");
}

TEST(Csv, WhatIsWrittenReadsBack) {
  const Cells cells = {"a,b", "say \"x\"", "two\nlines", "", "2\"", "½"};
  EXPECT_EQ(rows_of(csv::write_row(cells)).front().cells, cells);
}

}  // namespace
}  // namespace jambcheck
