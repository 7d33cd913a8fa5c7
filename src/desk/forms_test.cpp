// Files as other hands write them: line ends, marks at the beginning, sections in braces, odd quotes.
#include <gmock/gmock.h>

#include "desk/csv_sheet.hpp"
#include "desk/examples.hpp"
#include "desk/toml_value.hpp"

namespace firstdraw::desk {
namespace {

using testing::ElementsAre;

std::string toml_after(const std::string& text, const std::vector<Change>& changes) {
  return made({{"job.toml", text}}, changes).at("job.toml");
}
std::string runs_after(const std::string& text, const std::vector<Change>& changes) {
  return made({{"job.toml", ""}, {"runs.csv", text}}, changes).at("runs.csv");
}

TEST(Toml, KeepsLineEndsAndTheMarkAtTheBeginning) {
  EXPECT_EQ(toml_after("\xEF\xBB\xBF[site]\r\nname = \"é\" # n\r\n\r\n[rules]\r\nset = \"us\"\r\n",
                       {SetCell{"site", "", "name", "ñ"}, SetCell{"site", "", "owner", "O"}}),
            "\xEF\xBB\xBF[site]\r\nname = \"ñ\" # n\r\nowner = \"O\"\r\n\r\n[rules]\r\nset = \"us\"\r\n");
  EXPECT_EQ(toml_after("[site]\nname = \"a\"", {SetCell{"site", "", "owner", "O"}}),
            "[site]\nname = \"a\"\nowner = \"O\"");
}

TEST(Toml, TakesSectionsInBraces) {
  const std::string text =
      "site = { name = \"a\", owner = \"o\" }\nlevel = [ { id = \"1\" }, { id = \"2\" } ]\n";
  EXPECT_EQ(toml_after(text, {SetCell{"site", "", "date", "d"}, SetCell{"site", "", "name", ""}}),
            "site = { owner = \"o\", date = \"d\" }\nlevel = [ { id = \"1\" }, { id = \"2\" } ]\n");
  EXPECT_EQ(
      toml_after(text, {AddRow{"level", {{"id", "3"}, {"elevation", "9 m"}}, "1"}, RemoveRow{"level", "1"}}),
      "site = { name = \"a\", owner = \"o\" }\nlevel = [ { id = \"3\", elevation = \"9 m\" }, { id = \"2\" } "
      "]\n");
  EXPECT_EQ(
      toml_after(text, {RemoveRow{"level", "2"}, RemoveRow{"level", "1"}, SetCell{"site", "", "owner", ""}}),
      "site = { name = \"a\" }\nlevel = [  ]\n");
}

TEST(Toml, TakesKeysWithDots) {
  EXPECT_EQ(toml_after("site.name = \"a\"\nunits.show = \"us\"\n",
                       {SetCell{"site", "", "owner", "o"}, SetCell{"site", "", "name", ""}}),
            "site.owner = \"o\"\nunits.show = \"us\"\n");
}

TEST(Toml, KeepsTheKindOfQuotes) {
  EXPECT_EQ(toml_after("[site]\nname = 'a'\nnotes = \"\"\"one\ntwo\"\"\"\n",
                       {SetCell{"site", "", "name", "b \"c\""},
                        SetCell{"site", "", "notes", "1\n\"2\"\n\"\"\"3\""}}),
            "[site]\nname = 'b \"c\"'\nnotes = \"\"\"1\n\"2\"\n\\\"\"\"3\\\"\"\"\"\n");
  EXPECT_EQ(toml_after("[site]\nname = 'a'\n", {SetCell{"site", "", "name", "it's"}}),
            "[site]\nname = \"it's\"\n");
}

TEST(Toml, KeepsWhatStaysOfAList) {
  const std::string text = "[design]\ncables = [\n  'a', # first\n  \"b\",\n  \"c\", # last\n]\n";
  EXPECT_EQ(toml_after(text, {SetCell{"design", "", "cables", "a, x, c"}}),
            "[design]\ncables = [\n  'a', # first\n  \"x\",\n  \"c\", # last\n]\n");
  EXPECT_EQ(toml_after(text, {SetCell{"design", "", "cables", "a, c"}}),
            "[design]\ncables = [\n  'a', # first\n  \"c\", # last\n]\n");
  EXPECT_EQ(toml_after(text, {SetCell{"design", "", "cables", "a; b; c; d"}}),
            "[design]\ncables = [\n  'a', # first\n  \"b\",\n  \"c\", \"d\", # last\n]\n");
}

TEST(Toml, SaysWhereItIsNoToml) {
  const JobText text{{"job.toml", "[site\nname = 1\n"}, {"runs.csv", "id\n\"open\n"}};
  EXPECT_THAT(refusal(text, {SetCell{"site", "", "name", "x"}}),
              testing::HasSubstr("job.toml:1:6: is not TOML here"));
  EXPECT_THAT(refusal(text, {SetCell{"runs", "R", "note", "x"}}),
              testing::HasSubstr("runs.csv:2:1: a quote opens"));
  EXPECT_TRUE(table_in(tables_of(text), "runs").rows.empty());
}

TEST(Lists, SplitAtSemicolonsWhenThereIsOne) {
  EXPECT_THAT(split_list(" a, b ,,c"), ElementsAre("a", "b", "c"));
  EXPECT_THAT(split_list("a, b; c"), ElementsAre("a, b", "c"));
  for (const std::vector<std::string>& items :
       {std::vector<std::string>{"a"}, {"a", "b"}, {"a,b"}, {"a,b", "c"}, {}})
    EXPECT_EQ(split_list(join_list(items)), items);
}

TEST(Csv, KeepsSeparatorsLineEndsAndBlanks) {
  EXPECT_EQ(runs_after("\xEF\xBB\xBFId ;From; To\r\n# c\r\nA ; x ;y\r\n\r\nB;\"x;\"\"\";z",
                       {SetCell{"runs", "A", "from", "q;"}, SetCell{"runs", "B", "from", "k"}}),
            "\xEF\xBB\xBFId ;From; To\r\n# c\r\nA ; \"q;\" ;y\r\n\r\nB;\"k\";z");
  EXPECT_EQ(runs_after("id\tfrom\nA\tx\n", {SetCell{"runs", "A", "note", "#1"}}),
            "id\tfrom\tnote\nA\tx\t\"#1\"\n");
}

TEST(Csv, AddsAndTakesRowsAtTheEnds) {
  const std::string text = "id,from\n# one\nA,x\n# two\nB,y";
  EXPECT_EQ(runs_after(text, {RemoveRow{"runs", "B"}}), "id,from\n# one\nA,x\n# two");
  EXPECT_EQ(runs_after(text, {RemoveRow{"runs", "A"}}), "id,from\n# one\n# two\nB,y");
  EXPECT_EQ(runs_after(text, {AddRow{"runs", {{"id", "C"}}}}), "id,from\n# one\nA,x\n# two\nB,y\nC,");
  EXPECT_EQ(runs_after(text, {RemoveRow{"runs", "A"}, RemoveRow{"runs", "B"}, AddRow{"runs", {{"id", "C"}}}}),
            "id,from\nC,\n# one\n# two");
}

}  // namespace
}  // namespace firstdraw::desk
