#include "tables/table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <stdexcept>

namespace firstdraw::tables {
namespace {

Table small() { return Table(read_csv("name,value\na,1.5\nb,\nc,many\n").value()); }

TEST(Table, CellsByColumn) {
  const Table table = small();
  EXPECT_EQ(table.rows()[0].text("name"), "a");
  EXPECT_EQ(table.rows()[0].number("value"), 1.5);
  EXPECT_TRUE(std::isnan(table.rows()[1].number_or_nan("value")));
}

TEST(Table, BrokenPromisesThrow) {
  const Table table = small();
  EXPECT_THROW(table.rows()[0].text("colour"), std::logic_error);
  EXPECT_THROW(table.rows()[1].number("value"), std::logic_error);
  EXPECT_THROW(table.rows()[2].number_or_nan("value"), std::logic_error);
  EXPECT_THROW(Table(read_csv("a,b\n1\n").value()), std::logic_error);
  EXPECT_THROW(tables::table("no_such_table"), std::logic_error);
}

// Every built-in table can be read, is not empty, and says in every row where it comes from.
TEST(BuiltInTables, CarrySourceAndBasis) {
  const std::set<std::string> lists{"rules_fixtures",
                                    "rules_buildings"};  // names of ours, no published values
  const auto names = table_names();
  ASSERT_THAT(names, testing::Contains("rules_circuit"));
  for (const std::string& name : names) {
    const auto rows = table(name).rows();
    EXPECT_FALSE(rows.empty()) << name;
    if (lists.contains(name)) continue;
    for (const Row& row : rows) {
      EXPECT_FALSE(row.text("basis").empty()) << name;
      const bool sourced = !row.text("source").empty() || row.text("basis").starts_with("common practice");
      EXPECT_TRUE(sourced) << name;
    }
  }
}

TEST(BuiltInTables, ReadOnce) { EXPECT_EQ(&table("rules_circuit"), &table("rules_circuit")); }

}  // namespace
}  // namespace firstdraw::tables
