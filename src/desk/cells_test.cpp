// Single cells and rows: what an edit touches and what it leaves.
#include <gmock/gmock.h>

#include "desk/examples.hpp"
#include "job/read_files.hpp"

namespace firstdraw::desk {
namespace {

using testing::HasSubstr;

TEST(Tables, ListEverySectionThatTheReaderKnows) {
  const auto tables = tables_of(example("clinic"));
  for (const auto& section : job::known_sections())
    EXPECT_NE(std::ranges::find(tables, section, &Table::name), tables.end()) << section;
  EXPECT_EQ(tables.size(), job::known_sections().size() + 3);
}

TEST(Tables, SayWhatAColumnHolds) {
  const auto tables = tables_of(example("hotel"));
  const auto column = [&](const char* table, const char* key) {
    return *std::ranges::find(table_in(tables, table).columns, key, &Column::key);
  };
  EXPECT_EQ(column("runs", "length").measures, "length");
  EXPECT_EQ(column("runs", "length").unit, "ft");
  EXPECT_TRUE(column("runs", "length").required);
  EXPECT_EQ(column("runs", "from").refers_to, "node");
  EXPECT_EQ(column("runs", "group").refers_to, "group");
  EXPECT_EQ(column("runs", "cable").choices, (std::vector<std::string>{"lt-12", "lt-18", "lt-8"}));
  EXPECT_EQ(column("group", "control").choices, (std::vector<std::string>{"pipe-sensor", "entered-ambient"}));
  EXPECT_EQ(column("period", "from").measures, "time_of_day");
  EXPECT_EQ(column("outlets", "profile").refers_to, "use");
  EXPECT_EQ(column("panel", "nodes").kind, "list");
  EXPECT_EQ(column("outlets", "safe_outlet_valve").label, "Safe-outlet valve");
}

TEST(Tables, ShowWhatWasWritten) {
  const JobText hotel = example("hotel");
  EXPECT_EQ(cell_of(hotel, "level", "2", "elevation"), "15 ft");
  EXPECT_EQ(cell_of(hotel, "design", "", "thicknesses"), "1 in, 1-1/2 in, 2 in");
  EXPECT_EQ(cell_of(hotel, "design", "", "max_passes"), "1");
  EXPECT_EQ(cell_of(hotel, "runs", "P-01", "length"), "9");
  EXPECT_EQ(cell_of(hotel, "runs", "P-01", "group"), "");
}

TEST(Tables, GiveProblemsToTheRowsTheyAreAbout) {
  JobText text = by_hand(example("clinic"), "runs.csv", "R-03,T1,T2,1,void", "R-03,T1,T2,1,viod");
  text = by_hand(text, "job.toml", "elevation = ", "elevaton = ");
  const auto job = read(text, "job");
  ASSERT_FALSE(job);
  const auto tables = tables_of(text, job.error());
  const auto& runs = table_in(tables, "runs").rows;
  EXPECT_THAT(texts_of(runs[2].problems), HasSubstr("viod"));
  EXPECT_TRUE(runs[1].problems.empty());
  EXPECT_THAT(texts_of(table_in(tables, "level").rows[0].problems), HasSubstr("elevaton"));
}

class EveryExample : public testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Examples, EveryExample, testing::ValuesIn(example_names()));

TEST_P(EveryExample, EveryCellSetToWhatItShowsLeavesTheBytes) {
  const JobText before = example(GetParam());
  std::vector<Change> changes;
  for (const Table& table : tables_of(before))
    for (const Row& row : table.rows)
      for (const auto& [column, text] : row.cells)
        changes.push_back(SetCell{table.name, row.id, column, text, text});
  EXPECT_GT(changes.size(), 30U);
  EXPECT_TRUE(made(before, changes) == before);
}

/// Other text first, so that writing is not skipped; then what stood there.
TEST_P(EveryExample, EveryCellChangedAndChangedBackLeavesTheJob) {
  const JobText before = example(GetParam());
  const job::Job job = job_of(before);
  for (const Table& table : tables_of(before)) {
    if (table.rows.empty()) continue;
    const Row& row = table.rows.back();
    for (const auto& [column, text] : row.cells) {
      const Column& of = *std::ranges::find(table.columns, column, &Column::key);
      const bool number = of.kind == "number" || of.kind == "integer" || of.measures == "number";
      const std::string other = number              ? "7"
                                : of.kind == "flag" ? (text == "yes" || text == "true" ? "no" : "yes")
                                                    : "x, y";
      const JobText between = made(before, {SetCell{table.name, row.id, column, other}});
      EXPECT_TRUE(between != before) << table.name << " " << column;
      const std::string id = column == "id" ? other : row.id;
      EXPECT_EQ(job_of(made(between, {SetCell{table.name, id, column, text}})), job)
          << table.name << " " << column;
    }
  }
}

TEST(Set, ReplacesAValueAndNothingElse) {
  const JobText hotel = example("hotel");
  EXPECT_EQ(made(hotel, {SetCell{"design", "", "start", "50 °F"}}),
            by_hand(hotel, "job.toml", "start = \"40 °F\"   ", "start = \"50 °F\"   "));
  EXPECT_EQ(made(hotel, {SetCell{"design", "", "max_passes", "2"}}),
            by_hand(hotel, "job.toml", "max_passes = 1", "max_passes = 2"));
  EXPECT_EQ(made(hotel, {SetCell{"design", "", "thicknesses", "1 in; 1-1/2 in; 2-1/2 in"}}),
            by_hand(hotel, "job.toml", "\"1-1/2 in\", \"2 in\"]", "\"1-1/2 in\", \"2-1/2 in\"]"));
  EXPECT_EQ(made(hotel, {SetCell{"level", "3", "name", "Level \"three\""}}),
            by_hand(hotel, "job.toml", "\"Level 3, rooms 301 to 317\"", "\"Level \\\"three\\\"\""));
}

TEST(Set, PutsAMissingKeyAfterTheLastOfItsSection) {
  const JobText hotel = example("hotel");
  EXPECT_EQ(made(hotel, {SetCell{"wiring", "", "method", "raceway"}}),
            by_hand(hotel, "job.toml", "max_drop = \"2 %\"\n", "max_drop = \"2 %\"\nmethod = \"raceway\"\n"));
  EXPECT_EQ(made(hotel, {SetCell{"space", "dock", "use", "office"}}),
            by_hand(hotel, "job.toml", "air_low = \"15 °F\"\nair_usual = \"50 °F\"\nair_high = \"95 °F\"\n",
                    "air_low = \"15 °F\"\nair_usual = \"50 °F\"\nair_high = \"95 °F\"\nuse = \"office\"\n"));
}

TEST(Set, LeavesAKeyOutForEmptyText) {
  const JobText hotel = example("hotel");
  EXPECT_EQ(made(hotel, {SetCell{"design", "", "max_passes", ""}}),
            by_hand(hotel, "job.toml", "max_passes = 1\n", ""));
  EXPECT_EQ(made(hotel, {SetCell{"runs", "P-01", "note", ""}}),
            by_hand(hotel, "runs.csv", "heaters to mixing valve: always hot\n", "\n"));
}

TEST(Set, WritesFlagsAndNumbersBare) {
  const JobText hotel = example("hotel");
  const JobText text =
      made(hotel, {SetCell{"controller", "", "off", "no"}, SetCell{"economics", "", "life_years", ".5"},
                   SetCell{"controller", "", "clock", "set-points"}});
  EXPECT_EQ(cell_of(text, "controller", "", "off"), "false");
  EXPECT_EQ(cell_of(text, "economics", "", "life_years"), "0.5");
  job_of(text);
}

TEST(Set, KeepsACsvLineButForTheCell) {
  const JobText hotel = example("hotel");
  EXPECT_EQ(made(hotel, {SetCell{"runs", "A-RISE-2", "length", "25.5"}}),
            by_hand(hotel, "runs.csv", "1-1/2,24,glass fibre", "1-1/2,25.5,glass fibre"));
  EXPECT_EQ(made(hotel, {SetCell{"runs", "A-RISE-2", "note", "shut-off, then offset"}}),
            by_hand(hotel, "runs.csv", "\"shut-off at the foot, then the offset to the shaft\"",
                    "\"shut-off, then offset\""));
}

TEST(Set, AddsAColumnThatTheHeaderLacks) {
  const JobText clinic = example("clinic");
  const JobText text =
      made(clinic, {SetCell{"runs", "R-03", "air_low", "10"}, SetCell{"runs", "R-03", "air_usual", "20"},
                    SetCell{"runs", "R-03", "air_high", "30 °C"}});
  EXPECT_THAT(text.at("runs.csv"), HasSubstr(",note,air_low (°F),air_usual (°F),air_high (°F)\n"));
  const auto job = job_of(text);
  EXPECT_NEAR(job.runs[2].air->low_c, (10 - 32) / 1.8, 1e-9);
  EXPECT_NEAR(job.runs[2].air->high_c, 30, 1e-9);
  EXPECT_FALSE(job.runs[1].air);
}

TEST(Set, NamesWhatIsNearest) {
  const JobText hotel = example("hotel");
  EXPECT_THAT(refusal(hotel, {SetCell{"rnus", "P-01", "length", "1"}}), HasSubstr("did you mean \"runs\""));
  EXPECT_THAT(refusal(hotel, {SetCell{"runs", "P-011", "length", "1"}}), HasSubstr("did you mean \"P-01\""));
  EXPECT_THAT(refusal(hotel, {SetCell{"runs", "P-01", "lenght", "1"}}), HasSubstr("did you mean \"length\""));
  EXPECT_THAT(refusal(hotel, {SetCell{"design", "x", "start", "1"}}), HasSubstr("one row only"));
  EXPECT_THAT(refusal(hotel, {SetCell{"design", "", "max_passes", "two"}}),
              HasSubstr("\"two\" is no plain number"));
  EXPECT_THAT(refusal(hotel, {SetCell{"controller", "", "off", "maybe"}}), HasSubstr("yes or no"));
}

TEST(Set, SeesWhenSomebodyElseChangedTheCell) {
  const JobText hotel = example("hotel");
  const auto after = apply(hotel, {SetCell{"runs", "P-01", "length", "12", "10"}});
  ASSERT_FALSE(after);
  ASSERT_EQ(after.error().conflicts.size(), 1U);
  const Conflict& conflict = after.error().conflicts[0];
  EXPECT_EQ(conflict.was, "10");
  EXPECT_EQ(conflict.now, "9");
  EXPECT_EQ(conflict.yours, "12");
  EXPECT_EQ(made(hotel, {SetCell{"runs", "P-01", "length", "12", "9"}}),
            made(hotel, {SetCell{"runs", "P-01", "length", "12"}}));
  EXPECT_EQ(made(hotel, {SetCell{"runs", "P-01", "length", "9", "10"}}), hotel) << "both want the same";
}

TEST(Add, PutsASectionAfterTheLastOfItsKind) {
  const JobText hotel = example("hotel");
  const JobText text =
      made(hotel, {AddRow{"level", {{"id", "7"}, {"name", "Roof"}, {"elevation", "65 ft"}}}});
  EXPECT_EQ(
      text,
      by_hand(hotel, "job.toml", "elevation = \"55 ft\"\n",
              "elevation = \"55 ft\"\n\n[[level]]\nid = \"7\"\nname = \"Roof\"\nelevation = \"65 ft\"\n"));
  EXPECT_EQ(made(text, {RemoveRow{"level", "7"}}), hotel);
}

TEST(Add, PutsTheFirstOfAKindWhereItUsuallyStands) {
  const JobText clinic = example("clinic");
  const JobText text = made(clinic, {AddRow{"apart", {{"runs", "R-06, R-07"}, {"reason", "two bills"}}}});
  EXPECT_THAT(text.at("job.toml"),
              HasSubstr("[[apart]]\nruns = [\"R-06\", \"R-07\"]\nreason = \"two bills\"\n"));
  EXPECT_EQ(job_of(text).pins.size(), 1U);
}

TEST(Add, PutsARowOfATableBehindAnother) {
  const JobText clinic = example("clinic");
  const JobText text =
      made(clinic, {AddRow{"outlets",
                           {{"id", "X"}, {"node", "B1"}, {"fixture", "lavatory"}, {"room", "Hall, left"}},
                           tables_of(clinic).at(25).rows[0].id}});
  EXPECT_THAT(text.at("outlets.csv"), HasSubstr(",no,\nX,B1,lavatory,,\"Hall, left\",,,,,,\nO-02,"));
  EXPECT_EQ(made(text, {RemoveRow{"outlets", "X"}}), clinic);
}

TEST(Add, RefusesAnIdThatIsThere) {
  const JobText clinic = example("clinic");
  EXPECT_THAT(refusal(clinic, {AddRow{"runs", {{"id", "R-03"}}}}),
              HasSubstr("there is a run \"R-03\" already"));
  EXPECT_THAT(refusal(clinic, {AddRow{"runs", {{"id", ""}}}}), HasSubstr("must not be empty"));
  EXPECT_THAT(refusal(clinic, {AddRow{"runs", {{"id", "N"}, {"lenght", "2"}}}}),
              HasSubstr("did you mean \"length\""));
  EXPECT_THAT(refusal(clinic, {AddRow{"site", {{"name", "x"}}}}), HasSubstr("one row only"));
  EXPECT_THAT(refusal(clinic, {AddRow{"runs", {{"id", "N"}}, "R-99"}}),
              HasSubstr("there is no run \"R-99\""));
}

TEST(Add, MakesCircuitsWhereThereIsNoFile) {
  JobText clinic = example("clinic");
  const JobText text = made(clinic, {AddRow{"circuits", {{"id", "C1"}, {"runs", "R-03; R-04"}}}});
  EXPECT_EQ(text.at("circuits.csv"), "id,runs\nC1,R-03; R-04\n");
  job_of(text);
}

TEST(Remove, TakesItsOwnCommentAlong) {
  JobText text = example("clinic");
  text["job.toml"] +=
      "\n# about this one\n[[apart]]\nruns = [\"R-06\", \"R-07\"] # both\n\n# the next\n[[apart]]\nruns = "
      "[\"R-03\", "
      "\"R-04\"]\n";
  const JobText after = made(text, {RemoveRow{"apart", "#1"}});
  EXPECT_THAT(after.at("job.toml"),
              testing::EndsWith("\n\n# the next\n[[apart]]\nruns = [\"R-03\", \"R-04\"]\n"));
  EXPECT_EQ(after.at("job.toml").find("about this one"), std::string::npos);
}

TEST(Remove, LeavesTheCommentsOfATable) {
  const JobText hotel = example("hotel");
  const JobText text = made(hotel, {RemoveRow{"runs", "W-MAIN-01"}});
  EXPECT_EQ(text.at("runs.csv").find("W-MAIN-01"), std::string::npos);
  EXPECT_THAT(text.at("runs.csv"),
              HasSubstr("# Laundry: its main crosses the unheated loading dock\nW-MAIN-02"));
  EXPECT_THAT(refusal(hotel, {RemoveRow{"runs", "W-MAIN-1"}}), HasSubstr("did you mean \"W-MAIN-01\""));
  EXPECT_THAT(refusal(hotel, {RemoveRow{"site", ""}}), HasSubstr("always there"));
}

}  // namespace
}  // namespace firstdraw::desk
