#include "tables/csv.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace firstdraw::tables {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> texts(const std::vector<CsvCell>& cells) {
  std::vector<std::string> out;
  for (const CsvCell& cell : cells) out.push_back(cell.text);
  return out;
}

CsvText read(std::string_view text) {
  auto csv = read_csv(text);
  EXPECT_TRUE(csv.has_value()) << (csv ? "" : csv.error().message);
  return csv.value_or(CsvText{});
}

CsvError error_of(std::string_view text) {
  auto csv = read_csv(text);
  EXPECT_FALSE(csv.has_value());
  return csv ? CsvError{} : csv.error();
}

TEST(Csv, CellsKeepTheirPlaces) {
  const CsvText csv = read("id,length\n\nR1, 12 ft\n# a remark, with a comma\nR2,\"3\"\"\"\n");
  EXPECT_THAT(texts(csv.header), ElementsAre("id", "length"));
  ASSERT_EQ(csv.rows.size(), 2U);
  EXPECT_THAT(texts(csv.rows[0]), ElementsAre("R1", "12 ft"));
  EXPECT_THAT(texts(csv.rows[1]), ElementsAre("R2", "3\""));
  EXPECT_EQ(csv.rows[0][1].line, 3);
  EXPECT_EQ(csv.rows[0][1].column, 5);
  EXPECT_EQ(csv.rows[1][1].line, 5);
  EXPECT_EQ(csv.rows[1][1].column, 4);
}

TEST(Csv, ColumnsCountCharacters) {
  const CsvText csv = read("ä,b\n½½,x\n");
  EXPECT_EQ(csv.header[1].column, 3);
  EXPECT_EQ(csv.rows[0][1].column, 4);
}

TEST(Csv, SeparatorFromTheHeader) {
  EXPECT_THAT(texts(read("a;b\n1,5;2\n").rows[0]), ElementsAre("1,5", "2"));
  EXPECT_THAT(texts(read("a\tb\n1,5\t\n").rows[0]), ElementsAre("1,5", ""));
  EXPECT_THAT(texts(read("# note; with; many; semicolons\na,b\n1,2\n").rows[0]), ElementsAre("1", "2"));
  EXPECT_THAT(texts(read("\"a;b;c\",d\n1,2\n").header), ElementsAre("a;b;c", "d"));
}

TEST(Csv, LineEndsAndByteOrderMark) {
  const CsvText csv = read(
      "\xEF\xBB\xBF"
      "a,b\r\n1,\"x\r\ny\"\r\n2,z\r3,w");
  EXPECT_THAT(texts(csv.header), ElementsAre("a", "b"));
  ASSERT_EQ(csv.rows.size(), 3U);
  EXPECT_EQ(csv.rows[0][1].text, "x\r\ny");
  EXPECT_EQ(csv.rows[1][0].line, 4);
  EXPECT_EQ(csv.rows[2][0].line, 5);
  EXPECT_EQ(csv.header[0].column, 1);
}

TEST(Csv, RaggedRowsAndEmptyText) {
  const CsvText csv = read("a,b,c\n1\n1,2,3,4\n,,\n\"\"\n");
  ASSERT_EQ(csv.rows.size(), 4U);
  EXPECT_EQ(csv.rows[0].size(), 1U);
  EXPECT_EQ(csv.rows[1].size(), 4U);
  EXPECT_THAT(texts(csv.rows[2]), ElementsAre("", "", ""));
  EXPECT_THAT(texts(csv.rows[3]), ElementsAre(""));
  EXPECT_TRUE(read("").header.empty());
  EXPECT_TRUE(read(" \n\n").header.empty());
}

TEST(Csv, ErrorsPointAtThePlace) {
  const CsvError open = error_of("a,b\n1,\"2\n3,4\n");
  EXPECT_THAT(open.message, HasSubstr("never closes"));
  EXPECT_EQ(open.line, 2);
  EXPECT_EQ(open.column, 3);
  const CsvError after = error_of("a,b\n\"1\" x,2\n");
  EXPECT_THAT(after.message, HasSubstr("after a closing quote"));
  EXPECT_EQ(after.column, 5);
  const CsvError nul = error_of(std::string_view("a,b\n1,\0", 7));
  EXPECT_THAT(nul.message, HasSubstr("NUL"));
  EXPECT_EQ(nul.line, 2);
  EXPECT_EQ(nul.column, 3);
}

TEST(Csv, OnlyUtf8) {
  for (const auto* bad : {"a\xFF", "\xC0\xAF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF5\x80\x80\x80",
                          "\xF4\x90\x80\x80", "\xC3", "\xE2\x82", "\x80", "\xF0\x8F\xBF\xBF"}) {
    EXPECT_THAT(error_of(bad).message, HasSubstr("UTF-8"));
  }
  EXPECT_EQ(read("\xF0\x9F\x94\xA5,\xED\x9F\xBF,\xF4\x8F\xBF\xBF").header.size(), 3U);
}

TEST(CsvLine, QuotesWhatNeedsThem) {
  EXPECT_EQ(csv_line({"a", "", "b c"}), "a,,b c\n");
  EXPECT_EQ(csv_line({"1,5", "6\"", "x\ny", " z", "# no remark"}),
            "\"1,5\",\"6\"\"\",\"x\ny\",\" z\",\"# no remark\"\n");
  EXPECT_EQ(csv_line({""}), "\"\"\n");
}

TEST(Csv, AHeadingEndsInItsUnit) {
  const auto parts = [](std::string_view text) {
    const CsvHeading heading = split_heading(text);
    return std::pair(heading.name, heading.unit);
  };
  using Parts = std::pair<std::string_view, std::string_view>;
  EXPECT_EQ(parts("length (ft)"), Parts("length", "ft"));
  EXPECT_EQ(parts("air (low) (°C)"), Parts("air (low)", "°C"));
  EXPECT_EQ(parts("note"), Parts("note", ""));
  EXPECT_EQ(parts("(a) b"), Parts("(a) b", ""));
  EXPECT_EQ(parts(""), Parts("", ""));
}

}  // namespace
}  // namespace firstdraw::tables
