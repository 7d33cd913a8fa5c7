// What the reader says about slips, each in its own words with the place. Line and column are those of the
// clinic.
#include <gmock/gmock.h>

#include "job/test_folder.hpp"

namespace firstdraw::job {
namespace {

using testing::HasSubstr;

struct Slip {
  const char* name;
  const char* file;
  const char* old;
  const char* now;
  const char* says;
};

class OneSlip : public testing::TestWithParam<Slip> {};

TEST_P(OneSlip, IsTheOnlyProblemAndSaysWhere) {
  const TestFolder folder;
  const Slip& slip = GetParam();
  folder.change(slip.file, slip.old, slip.now);
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 1u) << texts(job.error());
  EXPECT_THAT(texts(job.error()), HasSubstr(slip.says));
}

INSTANTIATE_TEST_SUITE_P(
    JobToml, OneSlip,
    testing::Values(
        Slip{"UnknownKey", "job.toml",
             "owner =", "ownr =", "job.toml:12:1: site.ownr: is not a known key (did you mean \"owner\"?)"},
        Slip{"UnknownSection", "job.toml", "[economics]", "[economy]", "economy: is not a known section"},
        Slip{"NoUnit", "job.toml", "stored = \"140 °F\"", "stored = 140",
             "supply.stored: has no unit: write it in quotes, such as \"140 °F\""},
        Slip{"BadUnit", "job.toml", "stored = \"140 °F\"", "stored = \"140 °G\"",
             "job.toml:32:10: supply.stored: "},
        Slip{"NotAQuantity", "job.toml", "stored = \"140 °F\"", "stored = true",
             "supply.stored: a quantity in quotes was expected"},
        Slip{"TooHot", "job.toml", "stored = \"140 °F\"", "stored = \"240 °F\"",
             "must be between 0 °C and 100 °C"},
        Slip{"Missing", "job.toml", "stored = \"140 °F\"", "", "supply.stored: is missing (add stored = …)"},
        Slip{"NotText", "job.toml", "project_number = \"2026-014\"", "project_number = 2026",
             "site.project_number: text in quotes was expected"},
        Slip{"PageOfNoJob", "job.toml",
             "project_number =", "page = \"https://pipes.example\"\nproject_number =",
             "site.page: must be the web address of the job's page, without # and ?"},
        Slip{"PageWithMore", "job.toml",
             "project_number =", "page = \"https://pipes.example/j/hotel#x\"\nproject_number =",
             "site.page: must be the web address of the job's page, without # and ?"},
        Slip{"EmptyName", "job.toml", "name = \"Mill Lane Clinic\"", "name = \"\"",
             "site.name: must not be empty"},
        Slip{"UnknownBuilding", "job.toml", "building = \"clinic\"", "building = \"clinik\"",
             "did you mean \"clinic\"?"},
        Slip{"UnknownGuideline", "job.toml", "hygiene = \"ashrae-12\"", "hygiene = \"ashrae-13\"",
             "did you mean \"ashrae-12\"?"},
        Slip{"UnknownEnergyCode", "job.toml", "\"ashrae-90.1-2016\"", "\"ashrae-90.1-2061\"",
             "did you mean \"ashrae-90.1-2016\"?"},
        Slip{"UnknownRuleSet", "job.toml", "set = \"us\"", "set = \"uk\"", "rules.set: \"uk\" is not known"},
        Slip{"UnknownPanel", "job.toml", "panel = \"LP-1\"", "panel = \"LP-2\"",
             "group.main.panel: there is no panel \"LP-2\" (did you mean \"LP-1\"?)"},
        Slip{"UnknownSensorRun", "job.toml", "sensor_run = \"R-04\"", "sensor_run = \"R-40\"",
             "group.main.sensor_run: there is no run \"R-40\""},
        Slip{"UnknownSupplyNode", "job.toml", "node = \"HEATER\"", "node = \"HEATR\"",
             "supply.node: there is no node \"HEATR\" (did you mean \"HEATER\"?)"},
        Slip{"UnknownMixingValveNode", "job.toml", "mixing_valve_node = \"MIX\"",
             "mixing_valve_node = \"MX\"", "there is no node \"MX\""},
        Slip{"UnknownGroupCable", "job.toml", "maintain = \"126 °F\"",
             "maintain = \"126 °F\"\ncable = \"lt-9\"", "group.main.cable: there is no cable \"lt-9\""},
        Slip{"SpaceTwice", "job.toml", "[[panel]]", "[[space]]\nid = \"plant\"\n\n[[panel]]",
             "the space \"plant\" is there twice, first used on line "},
        Slip{"NegativeFeeder", "job.toml", "feeder_length = \"40 ft\"", "feeder_length = \"-40 ft\"",
             "panel.LP-1.feeder_length: must be zero or more"},
        Slip{"Fraction", "job.toml", "margin = \"10 %\"", "margin = \"1000 %\"",
             "design.margin: must be between 0"},
        Slip{"NotWhole", "job.toml", "phases = 3", "phases = 3.5", "panel.LP-1.phases: a whole number"},
        Slip{"NotAFlag", "job.toml", "ground_fault = true", "ground_fault = \"yes\"",
             "panel.LP-1.ground_fault: true or false without quotes was expected"},
        Slip{"SetbackAbove", "job.toml", "setback = \"126 °F\"", "setback = \"136 °F\"",
             "group.main.setback: must not be above maintain"},
        Slip{"UnknownMethod", "job.toml", "maintain = \"126 °F\"",
             "maintain = \"126 °F\"\nmethod = \"thermostate\"",
             "group.main.method: \"thermostate\" is not known; expected thermostat or pulsed (did you mean "
             "\"thermostat\"?)"},
        Slip{"NoDifferential", "job.toml", "maintain = \"126 °F\"",
             "maintain = \"126 °F\"\ndifferential = \"0 K\"",
             "group.main.differential: must be more than zero"},
        Slip{"LostWithoutAmbient", "job.toml", "ambient = \"70 °F\"", "sensor_lost = \"ambient\"",
             "group.main.ambient: is missing (sensor_lost = \"ambient\" needs the ambient)"},
        Slip{"TankWithoutHeater", "job.toml", "cold = \"50 °F\"", "cold = \"50 °F\"\ntank = \"120 gal\"",
             "supply.heater: is missing (a tank needs the power of its heater)"},
        Slip{"HeaterWithoutTank", "job.toml", "cold = \"50 °F\"", "cold = \"50 °F\"\nheater = \"9 kW\"",
             "supply.tank: is missing"},
        Slip{"AirOrder", "job.toml", "air_usual = \"80 °F\"", "air_usual = \"100 °F\"",
             "space.plant.air_high: must not be below air_usual"},
        Slip{"Price", "job.toml", "\"4.00 per ft\"", "\"4.00\"",
             "economics.cable_labour: \"4.00\" is no price"},
        Slip{"PriceUnit", "job.toml", "\"4.00 per ft\"", "\"4.00 per foof\"", "economics.cable_labour: "},
        Slip{"ThicknessOrder", "job.toml", "[\"1 in\", \"1-1/2 in\"", "[\"2 in\", \"1-1/2 in\"",
             "design.thicknesses: must rise"},
        Slip{"NotAList", "job.toml", "[[panel]]", "[panel]", "panel: a list of sections was expected"},
        Slip{"Syntax", "job.toml", "stored = \"140 °F\"", "stored = \"140 °F", "job.toml:32:"}),
    [](const auto& slip) { return std::string(slip.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Csv, OneSlip,
    testing::Values(
        Slip{"UnknownColumn", "runs.csv", ",valves,", ",valvs,",
             "runs.csv:3:94: valvs: is not a known column (did you mean \"valves\"?)"},
        Slip{"ColumnTwice", "runs.csv", ",elbows,", ",valves,", "valves: this column is there twice"},
        Slip{"ColumnMisspelt", "outlets.csv", ",runout_length (ft),", ",runout_lenght (ft),",
             "outlets.csv:2:68: runout_lenght (ft): is not a known column (did you mean \"runout_length\"?)"},
        Slip{"UnitOfNothing", "runs.csv", ",valves,", ",valves (ft),", "valves: this column takes no unit"},
        Slip{"UnknownUnit", "runs.csv", "length (ft)", "length (volt)", "runs.csv:3:49: length: "},
        Slip{"NoPipe", "runs.csv", "copper,L,1,22", "copper,L,1-1/3,22", "runs.csv:6:33: run R-03 · size: "},
        Slip{"NoMaterial", "runs.csv", "copper,L,1,22", "coper,L,1,22",
             "runs.csv:6:24: run R-03 · material: unknown pipe material \"coper\"; did you mean \"copper\"?"},
        Slip{"NoType", "runs.csv", "copper,L,1,22", "copper,Q,1,22",
             "runs.csv:6:31: run R-03 · type: unknown type"},
        Slip{"NoLength", "runs.csv", "copper,L,1,22", "copper,L,1,",
             "runs.csv:6:35: run R-03 · length: is missing"},
        Slip{"NegativeLength", "runs.csv", "copper,L,1,22", "copper,L,1,-22",
             "run R-03 · length: must be zero or more"},
        Slip{"NotANumber", "runs.csv", "copper,L,1,22", "copper,L,1,about 22", "run R-03 · length: "},
        Slip{"UnknownSpace", "runs.csv", "R-03,T1,T2,1,void,", "R-03,T1,T2,1,voids,",
             "run R-03 · space: there is no space \"voids\" (did you mean \"void\"?)"},
        Slip{"UnknownLevel", "runs.csv", "R-03,T1,T2,1,void,", "R-03,T1,T2,7,void,",
             "there is no level \"7\""},
        Slip{"UnknownGroup", "runs.csv", "void,main,copper,L,1,22", "void,mian,copper,L,1,22",
             "there is no control group \"mian\""},
        Slip{"RunTwice", "runs.csv", "R-03,", "R-04,",
             "the run \"R-04\" is there twice, first used on line 6"},
        Slip{"Insulation", "runs.csv", "22,glass fibre,", "22,grass fibre,", "run R-03 · insulation: "},
        Slip{"Flag", "runs.csv", "22,glass fibre,1,yes", "22,glass fibre,1,maybe",
             "run R-03 · traced: yes or no was expected, not \"maybe\""},
        Slip{"Count", "runs.csv", "22,glass fibre,1,yes,0,1", "22,glass fibre,1,yes,0.5,1",
             "run R-03 · valves: \"0.5\" is no whole number"},
        Slip{"NegativeCount", "runs.csv", "22,glass fibre,1,yes,0,1", "22,glass fibre,1,yes,-1,1",
             "run R-03 · valves: must be between 0"},
        Slip{"ShortRow", "runs.csv", ",1,2,1,1,down to the staff kitchen", ",1,2,1",
             "runs.csv:8: run: 16 cells, but the first line names 18"},
        Slip{"LongRow", "runs.csv", "down to the staff kitchen", "down, to the staff kitchen",
             "run: 19 cells, but the first line names 18"},
        Slip{"Quote", "runs.csv", "down to the staff", "\"down to the staff", "runs.csv:8:"},
        Slip{"Node", "outlets.csv", "O-03,B3,", "O-03,B33,", "outlet O-03 · node: there is no node \"B33\""},
        Slip{"Fixture", "outlets.csv", "O-03,B3,lavatory", "O-03,B3,lavatry", "did you mean \"lavatory\"?"}),
    [](const auto& slip) { return std::string(slip.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Catalog, OneSlip,
    testing::Values(Slip{"UnknownKey", "catalog/lt-8.toml", "maker =", "makr =", "did you mean \"maker\"?"},
                    Slip{"UnknownKeyOfARow", "catalog/lt-8.toml", "{ voltage = \"187 V\", factor",
                         "{ volt = \"187 V\", factor", "catalog/lt-8.toml:"},
                    Slip{"RisingOutput", "catalog/lt-8.toml", "power = \"3.05 W/ft\"",
                         "power = \"1.35 W/ft\"", "a self-regulating cable gives less on a warmer pipe"},
                    Slip{"Order", "catalog/lt-8.toml", "voltage = \"198 V\"", "voltage = \"98 V\"",
                         "voltage: the rows must rise"},
                    Slip{"RatedOutside", "catalog/lt-8.toml", "rated_voltage = \"208 V\"",
                         "rated_voltage = \"277 V\"", "must reach from below to above rated_voltage"},
                    Slip{"Syntax", "catalog/lt-8.toml", "maker = ", "maker = = ", "is not TOML here"}),
    [](const auto& slip) { return std::string(slip.param.name); });

TEST(Slips, AreAllReportedTogether) {
  const TestFolder folder;
  folder.change("job.toml", "stored = \"140 °F\"", "stored = \"140\"");
  folder.change("job.toml", "hygiene = \"ashrae-12\"", "hygiene = \"ashrae\"");
  folder.change("runs.csv", "copper,L,1,22", "copper,Q,1,x");
  folder.change("outlets.csv", "O-01,B1", "O-01,B9");
  folder.change("catalog/lt-8.toml", "maker = ", "marker = ");
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 6u) << texts(job.error());
}

TEST(Slips, AMissingColumnIsOneSlipNotOnePerRow) {
  const TestFolder folder;
  folder.put(
      "outlets.csv",
      "id,node,fixture,runout_material,runout_size\nO-1,B1,lavatory,pex,1/2\nO-2,B2,lavatory,pex,1/2\n");
  EXPECT_EQ(folder.problems(),
            "outlets.csv:1: runout_length: this column is missing (add it to the first line)\n");
}

TEST(Slips, OfJobTomlDoNotBlameTheRuns) {
  const TestFolder folder;
  folder.put("job.toml", "[site\n");
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 1u) << texts(job.error());
}

TEST(Slips, ManyOfThemStayQuick) {
  const TestFolder folder;
  std::string runs = folder.text("runs.csv");
  for (int i = 0; i < 20000; ++i) {
    runs += "X" + std::to_string(i) + ",a" + std::to_string(i) + ",b,1,nowhere" + std::to_string(i) +
            ",main,copper,L,9,3,glass fibre,1,yes,,,,,\n";
  }
  folder.put("runs.csv", runs);
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 40000u);
}

TEST(Diagnostic, LeavesOutWhatItDoesNotKnow) {
  EXPECT_EQ((Diagnostic{"runs.csv", 12, 8, "run R1 · size", "no such pipe", "try 1-1/4"}).text(),
            "runs.csv:12:8: run R1 · size: no such pipe (try 1-1/4)");
  EXPECT_EQ((Diagnostic{"runs.csv", 12, 0, "", "cut off", ""}).text(), "runs.csv:12: cut off");
  EXPECT_EQ((Diagnostic{"runs.csv", 0, 0, "", "missing", ""}).text(), "runs.csv: missing");
}

}  // namespace
}  // namespace firstdraw::job
