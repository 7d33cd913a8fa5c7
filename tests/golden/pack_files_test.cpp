// The pack's files: same bytes for the same job, a workbook that reads back as numbers, well-formed drawings,
// clear errors.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "pack_tools.hpp"

namespace firstdraw::golden {
namespace {

TEST(PackFiles, SameInputSameBytes) {
  for (const char* name : {"clinic", "care-home"}) {
    const job::Job job = example(name);
    const plan::Plan plan = planned(job);
    const PackFolder one("bytes-one"), two("bytes-two");
    const auto first = paper::write_pack(job, plan, one.path());
    const auto second = paper::write_pack(job, plan, two.path());
    ASSERT_TRUE(first && second);
    ASSERT_GE(first->size(), 5U);
    for (std::size_t each = 0; each < first->size(); ++each)
      EXPECT_EQ(bytes_of((*first)[each].path), bytes_of((*second)[each].path)) << (*first)[each].path;
  }
}

TEST(PackFiles, NothingTemporaryIsLeftBehind) {
  const job::Job job = example("clinic");
  const PackFolder folder("left-behind");
  const auto written = paper::write_pack(job, planned(job), folder.path());
  ASSERT_TRUE(written);
  std::size_t files = 0;
  for (const auto& entry : fs::directory_iterator(folder.path())) {
    ++files;
    EXPECT_NE(entry.path().extension(), ".part") << entry.path();
  }
  EXPECT_EQ(files, written->size());
}

TEST(PackFiles, ProgressRunsToTheEnd) {
  const job::Job job = example("clinic");
  const PackFolder folder("progress");
  std::vector<double> seen;
  ASSERT_TRUE(paper::write_pack(job, planned(job), folder.path(),
                                [&](const std::string&, double done) { seen.push_back(done); }));
  ASSERT_GE(seen.size(), 3U);
  EXPECT_TRUE(std::ranges::is_sorted(seen));
  EXPECT_EQ(seen.back(), 1);
}

// Prints, for every sheet: its headings, frozen pane, filter, row count, and the first data row with types.
constexpr const char* read_back = R"(
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
out = {}
for sheet in book:
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    out[sheet.title] = {"head": rows[0], "rows": rows[1:], "frozen": sheet.freeze_panes, "filter": sheet.auto_filter.ref,
                        "widths": [d.width for d in sheet.column_dimensions.values()]}
out["created"] = str(book.properties.created)
print(json.dumps(out))
)";

nlohmann::json workbook_of(const PackFolder& folder) {
  const fs::path script = folder.path() / "read_back.py";
  std::ofstream(script) << read_back;
  const std::string text =
      output_of(fmt::format("/usr/bin/python3 '{}' '{}'", script.string(), folder.file("schedules.xlsx")));
  return nlohmann::json::parse(text);
}

TEST(PackFiles, WorkbookHoldsRealNumbersInTheJobsUnits) {
  for (const auto system : {units::System::us, units::System::metric}) {
    job::Job job = example("clinic");
    job.units = system;
    const plan::Plan plan = planned(job);
    const PackFolder folder("workbook");
    ASSERT_TRUE(paper::write_pack(job, plan, folder.path()));
    const nlohmann::json book = workbook_of(folder);
    const auto& runs = book.at("Runs");
    ASSERT_EQ(runs.at("rows").size(), job.runs.size());
    const std::string unit(units::display_unit(units::Kind::length, system));
    const auto& head = runs.at("head");
    const auto column = std::find(head.begin(), head.end(), "Length (" + unit + ")") - head.begin();
    ASSERT_LT(column, std::ssize(head));
    for (std::size_t row = 0; row < job.runs.size(); ++row) {
      const auto& cell = runs.at("rows")[row][static_cast<std::size_t>(column)];
      ASSERT_TRUE(cell.is_number()) << cell;
      EXPECT_NEAR(cell.get<double>(), units::from_si(job.runs[row].length_m, unit, units::Kind::length),
                  1e-9);
    }
    EXPECT_EQ(book.at("Circuits").at("rows").size(), plan.circuits.size());
    EXPECT_EQ(book.at("Materials").at("rows").size(), plan.materials.size());
    EXPECT_EQ(book.at("Findings").at("rows").size(), plan.findings.size());
    EXPECT_EQ(book.at("Assumptions").at("rows").size(), plan.assumptions.size());
    EXPECT_EQ(book.at("Settings").at("rows").size(), plan.settings.size());
    for (const char* sheet :
         {"Runs", "Circuits", "Panels", "Materials", "Settings", "Findings", "Assumptions"}) {
      EXPECT_EQ(book.at(sheet).at("frozen"), "B2") << sheet;
      EXPECT_TRUE(book.at(sheet).at("filter").is_string()) << sheet;
      EXPECT_FALSE(book.at(sheet).at("widths").empty()) << sheet;
    }
    EXPECT_EQ(book.at("created").get<std::string>().substr(0, 10), job.site.date);
  }
}

TEST(PackFiles, DrawingsAreWellFormedAndNameTheirRuns) {
  job::Job job = example("care-home");
  lengthen_names(job);
  const PackFolder folder("drawings");
  const auto written = paper::write_pack(job, planned(job), folder.path());
  ASSERT_TRUE(written);
  int drawings = 0;
  for (const auto& file : *written) {
    if (file.path.extension() != ".svg") continue;
    ++drawings;
    output_of(fmt::format("/usr/bin/python3 -c 'import sys,xml.dom.minidom as m; m.parse(sys.argv[1])' '{}'",
                          file.path.string()));
  }
  EXPECT_GE(drawings, 3);
  const std::string riser = bytes_of(folder.path() / "riser.svg");
  for (const job::Run& run : job.runs) EXPECT_NE(riser.find(">" + run.id), std::string::npos) << run.id;
}

TEST(PackFiles, PlanIsTheSameAsTheProgramPrints) {
  const job::Job job = example("clinic");
  const plan::Plan plan = planned(job);
  const PackFolder folder("plan");
  ASSERT_TRUE(paper::write_pack(job, plan, folder.path()));
  EXPECT_EQ(nlohmann::json::parse(bytes_of(folder.path() / "plan.json")), plan::to_json(job, plan));
}

TEST(PackFiles, AFolderThatCannotBeMadeIsOneClearError) {
  const job::Job job = example("clinic");
  const PackFolder folder("not-a-folder");
  std::ofstream(folder.path()) << "a file, not a folder";
  const auto written = paper::write_pack(job, planned(job), folder.path() / "pack");
  ASSERT_FALSE(written);
  ASSERT_EQ(written.error().size(), 1U);
  EXPECT_NE(written.error().front().text().find("cannot be made"), std::string::npos)
      << written.error().front().text();
}

TEST(PackFiles, AFileThatCannotBeReplacedIsOneClearErrorAndLeavesNoHalf) {
  const job::Job job = example("clinic");
  const PackFolder folder("blocked");
  fs::create_directories(folder.path() / "hand-over.pdf" /
                         "something");  // a folder stands where the file should go
  const auto written = paper::write_pack(job, planned(job), folder.path());
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().size(), 1U);
  EXPECT_NE(written.error().front().text().find("hand-over.pdf"), std::string::npos);
  EXPECT_FALSE(fs::exists(folder.path() / "hand-over.pdf.part"));
}

}  // namespace
}  // namespace firstdraw::golden
