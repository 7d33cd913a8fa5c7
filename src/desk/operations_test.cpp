// What is made of several changes: rename, riser, copy, split, move, paste.
#include <gmock/gmock.h>

#include "desk/examples.hpp"
#include "desk/spreadsheet.hpp"

namespace firstdraw::desk {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

const job::Run& run_of(const job::Job& job, const std::string& id) {
  return *std::ranges::find(job.runs, id, &job::Run::id);
}

/// A clinic in which a run is named everywhere that it can be.
JobText well_named() {
  JobText text = example("clinic");
  text["job.toml"] +=
      "\n[[apart]]\nruns = [\"R-06\", \"R-07\"]  # two bills\n\n[[together]]\nruns = [ \"R-06\",\n  \"R-05\" "
      "]\n\n"
      "[[accept]]\nfinding = \"hold-cold\"\nplace = \"R-06\"\nreason = \"r\"\nname = \"n\"\n";
  text["circuits.csv"] = "id,feed_node,runs\nC1,T1,R-03; R-06\n";
  return text;
}

TEST(Rename, FollowsARunEverywhere) {
  const JobText before = well_named();
  const JobText after = made(before, {Rename{"runs", "R-06", "EXAM-1"}});
  for (const auto& [name, text] : after) EXPECT_EQ(text.find("R-06"), std::string::npos) << name;
  EXPECT_THAT(after.at("job.toml"), HasSubstr("runs = [\"EXAM-1\", \"R-07\"]  # two bills"));
  EXPECT_THAT(after.at("job.toml"), HasSubstr("runs = [ \"EXAM-1\",\n  \"R-05\" ]"));
  EXPECT_THAT(after.at("job.toml"), HasSubstr("place = \"EXAM-1\""));
  EXPECT_THAT(after.at("circuits.csv"), HasSubstr("C1,T1,R-03; EXAM-1\n"));
  EXPECT_EQ(job_of(after).runs.size(), job_of(before).runs.size());
  EXPECT_TRUE(made(after, {Rename{"runs", "EXAM-1", "R-06"}}) == before);
}

TEST(Rename, IsWhatOneWouldDoByHand) {
  const JobText hotel = example("hotel");
  JobText typed = hotel;
  for (auto& [name, text] : typed)
    for (const std::string old : {",riser-a,", "\"riser-a\""})
      for (auto at = text.find(old); at != std::string::npos; at = text.find(old, at + 1))
        text.replace(at + 1, 7, "west");
  EXPECT_TRUE(made(hotel, {Rename{"group", "riser-a", "west"}}) == typed);
  job_of(typed);
}

TEST(Rename, FollowsJointsLevelsAndSpaces) {
  const JobText hotel = example("hotel");
  const auto job = job_of(made(hotel, {Rename{"node", "HEATER", "PLANT"}, Rename{"node", "D201", "TAP-201"},
                                       Rename{"level", "2", "two"}, Rename{"space", "walls", "shafts"},
                                       Rename{"panel", tables_of(hotel).at(9).rows[0].id, "MAIN"}}));
  EXPECT_EQ(job.supply.node, "PLANT");
  EXPECT_EQ(run_of(job, "P-01").from, "PLANT");
  EXPECT_EQ(std::ranges::count(job.outlets, "TAP-201", &job::Outlet::node), 2);
  EXPECT_GT(std::ranges::count(job.runs, "two", &job::Run::level), 10);
  EXPECT_GT(std::ranges::count(job.outlets, "shafts", &job::Outlet::space), 10);
  EXPECT_EQ(job.panels[0].id, "MAIN");
}

TEST(Rename, RefusesWhatWouldMix) {
  const JobText clinic = example("clinic");
  EXPECT_THAT(refusal(clinic, {Rename{"runs", "R-03", "R-04"}}),
              HasSubstr("there is a run \"R-04\" already"));
  EXPECT_THAT(refusal(clinic, {Rename{"node", "T1", "T2"}}), HasSubstr("there is a joint \"T2\" already"));
  EXPECT_THAT(refusal(clinic, {Rename{"node", "T9", "X"}}), HasSubstr("there is no joint \"T9\""));
  EXPECT_THAT(refusal(clinic, {Rename{"runs", "R-33", "X"}}), HasSubstr("did you mean \"R-03\""));
  EXPECT_THAT(refusal(clinic, {Rename{"runs", "R-03", "#3"}}), HasSubstr("must not begin with #"));
  EXPECT_THAT(refusal(clinic, {Rename{"site", "", "x"}}), HasSubstr("no id"));
}

TEST(Split, DividesTheLengthInAnyUnit) {
  const JobText before = well_named();
  const JobText after = made(before, {SplitRun{"R-03", "2 m", "TX"}});
  const auto job = job_of(after);
  const auto &up = run_of(job, "R-03"), &down = run_of(job, "R-03-2");
  EXPECT_NEAR(up.length_m, 2, 1e-6);
  EXPECT_NEAR(up.length_m + down.length_m, run_of(job_of(before), "R-03").length_m, 1e-9);
  EXPECT_EQ(up.to, "TX");
  EXPECT_EQ(down.from, "TX");
  EXPECT_EQ(down.to, "T2");
  EXPECT_EQ(down.pipe.size, up.pipe.size);
  EXPECT_EQ(up.elbows + down.elbows, 1);
  EXPECT_EQ(down.elbows, 0) << "nobody said where they sit: they stay with the upstream part";
  EXPECT_EQ(up.supports + down.supports, 3);
  EXPECT_EQ(down.supports, 2) << "of 3 over 24 ft, 17 ft 5 in are downstream";
  EXPECT_EQ(up.note, "corridor main");
  EXPECT_EQ(down.note, "");
  EXPECT_THAT(job.known_circuits[0].runs, ElementsAre("R-03", "R-03-2", "R-06"));
}

TEST(Split, KeepsPins) {
  const auto job = job_of(made(well_named(), {SplitRun{"R-06", "3 ft"}}));
  ASSERT_EQ(job.pins.size(), 3U);
  std::vector<std::vector<std::string>> apart, together;
  for (const auto& pin : job.pins) (pin.kind == job::Pin::Kind::apart ? apart : together).push_back(pin.runs);
  EXPECT_THAT(together, ElementsAre(ElementsAre("R-06", "R-06-2", "R-05")));
  EXPECT_THAT(apart, ElementsAre(ElementsAre("R-06", "R-07"), ElementsAre("R-06-2", "R-07")));
  EXPECT_EQ(run_of(job, "R-06").to, "J-R-06");
}

TEST(Split, RefusesALengthThatIsNotOnTheRun) {
  const JobText clinic = example("clinic");
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-03", "30 ft"}}), HasSubstr("the run is 24 ft long"));
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-03", "0 ft"}}), HasSubstr("cannot be split"));
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-03", "3"}}), HasSubstr("unit"));
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-03", "3 foot-candles"}}), HasSubstr("3 foot-candles"));
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-03", "3 ft", "T2"}}),
              HasSubstr("there is a joint \"T2\" already"));
  EXPECT_THAT(refusal(clinic, {SplitRun{"R-93", "3 ft"}}), HasSubstr("did you mean \"R-03\""));
}

TEST(Move, HangsATapOnAnotherJoint) {
  const JobText clinic = example("clinic");
  EXPECT_TRUE(made(clinic, {MoveOutlet{"O-02", "B3"}}) ==
              by_hand(clinic, "outlets.csv", "O-02,B2,", "O-02,B3,"));
  EXPECT_THAT(refusal(clinic, {MoveOutlet{"O-02", "B33"}}), HasSubstr("did you mean \"B3\""));
  EXPECT_THAT(refusal(clinic, {MoveOutlet{"O-22", "B3"}}), HasSubstr("did you mean \"O-02\""));
}

TEST(Riser, GoesUpLevelByLevel) {
  const JobText hotel = example("hotel");
  const auto job = job_of(made(hotel, {AddRiser{"M3", {"2", "3"}, "", "1"}}));
  const auto &first = run_of(job, "RISER-A-2"), &second = run_of(job, "RISER-A-3");
  EXPECT_EQ(first.from, "M3");
  EXPECT_EQ(first.to, "RISER-A-2");
  EXPECT_EQ(second.from, "RISER-A-2");
  EXPECT_NEAR(first.length_m, 15 * 0.3048, 1e-9);   // elevations 0 and 15 ft
  EXPECT_NEAR(second.length_m, 10 * 0.3048, 1e-9);  // 15 and 25 ft
  EXPECT_EQ(first.level, "2");
  EXPECT_EQ(second.level, "3");
  EXPECT_EQ(first.orientation, physics::Orientation::vertical);
  EXPECT_EQ(first.pipe.size, "1");
  EXPECT_EQ(first.group, "mains") << "as the run that feeds the joint";
  EXPECT_EQ(run_of(job_of(made(hotel, {AddRiser{"M3", {"2"}, "A-RISE-2", ""}})), "RISER-A-2").group,
            "riser-a");
}

TEST(Riser, RefusesWhatIsNotThere) {
  const JobText hotel = example("hotel");
  EXPECT_THAT(refusal(hotel, {AddRiser{"M33", {"2"}, "", ""}}), HasSubstr("did you mean \"M3\""));
  EXPECT_THAT(refusal(hotel, {AddRiser{"M3", {"22"}, "", ""}}), HasSubstr("there is no level \"22\""));
  EXPECT_THAT(refusal(hotel, {AddRiser{"M3", {"1"}, "", ""}}), HasSubstr("no other level"));
  EXPECT_THAT(refusal(hotel, {AddRiser{"M3", {"2"}, "A-RISE-22", ""}}),
              HasSubstr("did you mean \"A-RISE-2\""));
}

TEST(Copy, MakesALevelWithNamesOfItsOwn) {
  const JobText hotel = example("hotel");
  const auto before = job_of(hotel);
  const auto job = job_of(made(hotel, {CopyLevel{"5", "7", "Level 7", "65 ft", "A6; B6"}}));
  EXPECT_EQ(job.levels.back().id, "7");
  const auto on = [](const job::Job& all, const char* level) {
    return std::ranges::count(all.runs, level, &job::Run::level);
  };
  EXPECT_EQ(on(job, "7"), on(before, "5") - 2) << "but for the two lengths of riser that lead on to level 6";
  EXPECT_EQ(run_of(job, "7A-MAIN-00").from, "A6");
  EXPECT_EQ(run_of(job, "7B-MAIN-00").from, "B6");
  EXPECT_EQ(run_of(job, "7A-MAIN-01").from, "7A0");
  const auto shower = std::ranges::find(job.outlets, "701-SHOWER", &job::Outlet::id);
  ASSERT_NE(shower, job.outlets.end());
  EXPECT_EQ(shower->node, "D701");
  EXPECT_EQ(shower->room, "701");
}

TEST(Copy, RefusesWhatWouldMix) {
  const JobText hotel = example("hotel");
  EXPECT_THAT(refusal(hotel, {CopyLevel{"5", "6", "", "", "A6"}}), HasSubstr("has runs already"));
  EXPECT_THAT(refusal(hotel, {CopyLevel{"9", "7", "", "65 ft", "A6"}}), HasSubstr("there is no level \"9\""));
  EXPECT_THAT(refusal(hotel, {CopyLevel{"5", "7", "", "65 ft", "A66"}}), HasSubstr("did you mean \"A6\""));
  EXPECT_THAT(refusal(hotel, {CopyLevel{"5", "7", "", "high", "A6"}}), HasSubstr("high"));
  EXPECT_THAT(refusal(hotel, {CopyLevel{"5", "7", "", "65 ft", "A6; B6; M1"}}), HasSubstr("fed at 2 places"));
}

TEST(Clipboard, ReadsWhatSpreadsheetsWrite) {
  EXPECT_THAT(clipboard_cells("a\tb\r\nc\t\r\n"), ElementsAre(ElementsAre("a", "b"), ElementsAre("c", "")));
  EXPECT_THAT(clipboard_cells("\"one\ntwo\"\t\"say \"\"so\"\"\"\n4,5"),
              ElementsAre(ElementsAre("one\ntwo", "say \"so\""), ElementsAre("4,5")));
  EXPECT_THAT(clipboard_cells("2\" pipe\t\"open"), ElementsAre(ElementsAre("2\" pipe", "\"open")));
  EXPECT_THAT(clipboard_cells("a\n\nb\n"), ElementsAre(ElementsAre("a"), ElementsAre(""), ElementsAre("b")));
  EXPECT_TRUE(clipboard_cells("").empty());
}

TEST(Paste, FillsCellsAndAddsRows) {
  const JobText clinic = example("clinic");
  const std::string last = tables_of(clinic).at(25).rows.back().id;
  ASSERT_EQ(last, "O-05");
  const JobText text =
      made(clinic, {Paste{"outlets", last, "node", "B4\tservice-sink\t2\r\nB5\tlavatory\r\n"}});
  EXPECT_EQ(cell_of(text, "outlets", "O-05", "node"), "B4");
  EXPECT_EQ(cell_of(text, "outlets", "O-05", "count"), "2");
  EXPECT_EQ(cell_of(text, "outlets", "O-05", "room"), "Janitor") << "what was not pasted stays";
  EXPECT_EQ(cell_of(text, "outlets", "O-06", "fixture"), "lavatory");
  EXPECT_EQ(cell_of(text, "outlets", "O-06", "count"), "");
}

TEST(Paste, TakesIdsAndTextAsTheyAre) {
  const JobText clinic = example("clinic");
  const JobText text =
      made(clinic, {Paste{"runs", "", "id", "N-1\tB1\tN1\t1\tvoid\nN-2\tN1\tN2\t1\tvoid"},
                    Paste{"runs", "N-1", "note", "\"two\nlines\""}, Paste{"runs", "N-1", "length", "4,5"}});
  EXPECT_EQ(cell_of(text, "runs", "N-2", "from"), "N1");
  EXPECT_EQ(cell_of(text, "runs", "N-1", "note"), "two\nlines");
  EXPECT_EQ(cell_of(text, "runs", "N-1", "length"), "4,5") << "for the reader to say what is wrong";
  EXPECT_THAT(refusal(clinic, {Paste{"runs", "", "id", "R-03\tX"}}), HasSubstr("already"));
  EXPECT_THAT(refusal(clinic, {Paste{"runs", "R-03", "note", "a\tb"}}), HasSubstr("2 columns were pasted"));
  EXPECT_THAT(refusal(clinic, {Paste{"runs", "R-03", "nose", "a"}}), HasSubstr("did you mean \"note\""));
  EXPECT_THAT(refusal(clinic, {Paste{"site", "", "name", "a\nb"}}), HasSubstr("2 were pasted"));
}

TEST(Paste, FillsSectionsToo) {
  const JobText hotel = example("hotel");
  const JobText text = made(hotel, {Paste{"level", "5", "name", "Five\t46 ft\nSix\t56 ft\nSeven\t66 ft"}});
  const auto job = job_of(text);
  ASSERT_EQ(job.levels.size(), 7U);
  EXPECT_EQ(job.levels[6].id, "7");
  EXPECT_EQ(job.levels[6].name, "Seven");
  EXPECT_EQ(job.levels[4].name, "Five");
}

}  // namespace
}  // namespace firstdraw::desk
