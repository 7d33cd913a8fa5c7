// Whole job folders: the examples, what is assumed, writing, the template.
#include "job/folder.hpp"

#include <gmock/gmock.h>

#include <numbers>

#include "job/test_folder.hpp"

namespace firstdraw::job {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class Example : public testing::TestWithParam<const char*> {};

TEST_P(Example, ReadsWithoutAProblem) {
  const TestFolder folder("examples/" + std::string(GetParam()));
  EXPECT_EQ(folder.problems(), "");
}

TEST_P(Example, ComesBackEqualWhenWrittenAndReadAgain) {
  const TestFolder folder("examples/" + std::string(GetParam()));
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  const fs::path copy = folder.path / "copy";
  const auto written = write_job(*job, copy);
  ASSERT_TRUE(written) << texts(written.error());
  const auto again = read_job(copy);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_TRUE(*again == *job);
  // Nothing is left to assume: every default has been written out.
  EXPECT_EQ(again->assumptions, job->assumptions);
}

TEST_P(Example, HasItsSheetsInThreeOutputs) {
  const TestFolder folder("examples/" + std::string(GetParam()));
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  ASSERT_EQ(job->cables.size(), 3u);
  for (const auto& sheet : job->cables) {
    EXPECT_THAT(sheet.maker, HasSubstr("invented"));
    // Computed from the two-parameter model, but with one voltage factor for all pipe temperatures, while the
    // model's exponent runs from 1.2 to 1.6 over the table: 0.2 * ln(230/196) = 3.2 %, and rounding.
    EXPECT_LT(physics::fit_cable(sheet).worst_output_error_frac, 0.04) << sheet.id;
    for (const auto& start : sheet.cold_start) {
      const double inrush = start.peak_a_per_m / start.settled_a_per_m;
      EXPECT_GT(inrush, 1.5) << sheet.id;
      EXPECT_LT(inrush, 3.0) << sheet.id;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Examples, Example, testing::Values("clinic", "hotel", "care-home"),
                         [](const auto& example) {
                           std::string name = example.param;
                           std::erase(name, '-');
                           return name;
                         });

TEST(ReadJob, ConvertsToSi) {
  const TestFolder folder;
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_DOUBLE_EQ(job->groups[0].maintain_c, (126 - 32) / 1.8);
  EXPECT_NEAR(job->groups[0].hold_tolerance_k, 2 / 1.8, 1e-15);
  EXPECT_EQ(job->groups[0].sensor_angle_rad, std::numbers::pi);
  EXPECT_DOUBLE_EQ(job->runs[2].length_m, 22 * 0.3048);
  EXPECT_DOUBLE_EQ(*job->runs[2].thickness_m, 0.0254);
  EXPECT_FALSE(job->runs[4].thickness_m);
  EXPECT_EQ(job->runs[2].pipe.size, "1");
  EXPECT_EQ(job->runs[2].insulation, "glass-fibre");
  EXPECT_DOUBLE_EQ(job->economics.cable_labour_per_m, 4 / 0.3048);
  EXPECT_DOUBLE_EQ(job->panels[0].low_frac, 0.95);
  EXPECT_DOUBLE_EQ(job->requirements.margin_frac, 0.10);
}

TEST(ReadJob, RemembersWhereRunsAndOutletsStand) {
  const TestFolder folder;
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  EXPECT_EQ(job->runs[0].place, (Place{"runs.csv", 4}));
  EXPECT_EQ(job->outlets[2].place, (Place{"outlets.csv", 5}));
}

std::string assumed(const Job& job, const std::string& field) {
  for (const auto& assumption : job.assumptions) {
    if (assumption.field == field) return assumption.value;
  }
  return "";
}

TEST(ReadJob, AssumesTheUsualAirOfASpaceAndSaysSo) {
  const TestFolder folder;
  folder.change("job.toml", "id = \"walls\"\nname = \"Pipe spaces behind the basins\"\nair_low = \"60 °F\"\n",
                "id = \"walls\"\n");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_DOUBLE_EQ(job->spaces[2].air.low_c, (60 - 32) / 1.8);
  EXPECT_EQ(assumed(*job, "space.walls.air_low"), "60 °F");
  EXPECT_EQ(assumed(*job, "space.walls.air_high"), "");  // it was given
}

TEST(ReadJob, AssumesOncePerColumnAndCountsTheRows) {
  const TestFolder folder;
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  EXPECT_EQ(assumed(*job, "runs.orientation"), "horizontal (10 runs)");
  EXPECT_EQ(assumed(*job, "runs.traced"), "");
}

TEST(ReadJob, GivesTracedRunsTheOnlyGroup) {
  const TestFolder folder;
  folder.change("runs.csv", "walls,main,copper,L,3/4,9", "walls,,copper,L,3/4,9");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_EQ(job->runs[4].group, "main");
  EXPECT_EQ(assumed(*job, "runs.group"), "main (1 run)");
}

TEST(ReadJob, TakesUntracedRunsOutOfTheirGroupAndSaysSo) {
  const TestFolder folder;
  folder.change("runs.csv", "R-01,HEATER,MIX,1,plant,,", "R-01,HEATER,MIX,1,plant,main,");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_EQ(job->runs[0].group, "");
  EXPECT_EQ(assumed(*job, "runs.group"), "none (1 run)");
}

TEST(ReadJob, LeavesSurveySlipsToThePlan) {
  const TestFolder folder;
  // A zero length, a loop onto itself and a run that hangs on nothing can be drawn: findings, not reading
  // errors.
  folder.change("runs.csv", "R-03,T1,T2,1,void,main,copper,L,1,22", "R-03,T1,T2,1,void,main,copper,L,1,0");
  folder.put("runs.csv", folder.text("runs.csv") +
                             "R-11,X1,X1,1,void,main,copper,L,1,3,glass fibre,1,yes,,,,,\n"
                             "R-12,Y1,Y2,1,void,main,copper,L,1,3,glass fibre,1,yes,,,,,\n");
  EXPECT_EQ(folder.problems(), "");
}

TEST(ReadJob, TakesSemicolonsAndUnitsInCells) {
  const TestFolder folder;
  std::string runs = folder.text("runs.csv");
  runs = runs.substr(runs.find("id,from"));
  for (char& c : runs) c = c == ',' ? ';' : c;
  folder.put("runs.csv", runs);
  folder.change("runs.csv", "length (ft)", "Length");
  for (const char* cell : {"1-1/4;6;", "1-1/4;14;", "1;22;", "3/4;26;", "3/4;9;", "3/4;8;", "3/4;8;",
                           "3/4;15;", "3/4;9;", "3/4;11;"}) {
    const std::string bare = cell;
    folder.change("runs.csv", bare, bare.substr(0, bare.size() - 1) + " ft;");
  }
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_DOUBLE_EQ(job->runs[1].length_m, 14 * 0.3048);
}

TEST(WriteJob, KeepsTextThatNeedsEscaping) {
  const TestFolder folder;
  auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  job->site.notes = "line one\nline \"two\"\ttab \\ back \x01 é";
  job->runs[3].note = "comma, \"quotes\", semicolon; and ünïcode";
  job->outlets[0].room = "#12";
  const fs::path copy = folder.path / "copy";
  ASSERT_TRUE(write_job(*job, copy));
  const auto again = read_job(copy);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_TRUE(*again == *job);
}

TEST(WriteJob, WritesOverAnOlderFolder) {
  const TestFolder folder;
  auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  job->site.revision = "C";
  ASSERT_TRUE(write_job(*job, folder.path));
  const auto again = read_job(folder.path);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_TRUE(*again == *job);
  EXPECT_FALSE(fs::exists(folder.path / "job.toml.new"));
}

TEST(WriteJob, WillNotMixItsSheetsWithStrangers) {
  const TestFolder folder;
  auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  const std::string before = folder.text("job.toml");
  job->cables.pop_back();
  const auto written = write_job(*job, folder.path);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("catalog/lt-8.toml"));
  EXPECT_EQ(folder.text("job.toml"), before);
}

TEST(WriteTemplate, IsTheClinicAndReads) {
  const TestFolder folder("examples/clinic");
  const fs::path fresh = folder.path / "fresh";
  const auto written = write_template(fresh);
  ASSERT_TRUE(written) << texts(written.error());
  const auto job = read_job(fresh), clinic = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  ASSERT_TRUE(clinic);
  EXPECT_TRUE(*job == *clinic);
}

TEST(WriteTemplate, RefusesAFolderThatIsNotEmpty) {
  const TestFolder folder;
  const auto written = write_template(folder.path);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("not empty"));
}

TEST(WriteTemplate, TakesAnEmptyFolder) {
  const TestFolder folder;
  fs::create_directory(folder.path / "empty");
  EXPECT_TRUE(write_template(folder.path / "empty"));
}

TEST(AirAround, IsTheRunsOwnElseItsSpaces) {
  const TestFolder folder;
  auto job = read_job(folder.path);
  ASSERT_TRUE(job);
  EXPECT_DOUBLE_EQ(air_around(*job, job->runs[2]).usual_c, (70 - 32) / 1.8);
  job->runs[2].air = AirTemperatures{1, 2, 3};
  EXPECT_DOUBLE_EQ(air_around(*job, job->runs[2]).usual_c, 2);
}

}  // namespace
}  // namespace firstdraw::job
