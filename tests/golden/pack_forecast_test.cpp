// The network in time in the pack: what the sheets, the workbook and forecast.json say is what was simulated,
// and every sheet says what it rests on.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "pack_tools.hpp"
#include "paper/naming.hpp"

namespace firstdraw::golden {
namespace {

struct Case {
  std::string name, example;
  units::System units = units::System::us;
};
void PrintTo(const Case& each, std::ostream* out) { *out << each.name; }

class PackForecast : public testing::TestWithParam<Case> {
 protected:
  void SetUp() override {
    job_ = example(GetParam().example);
    job_.units = GetParam().units;
    plan_ = planned(job_);
    forecast_ = simulated(job_, plan_);
    folder_.emplace("forecast-" + GetParam().name);
    const auto written = paper::write_pack(job_, plan_, folder_->path(), {}, {.forecast = &forecast_});
    ASSERT_TRUE(written) << written.error().front().text();
  }

  /// Pages whose footer names a sheet First draw.
  std::vector<std::string> pages() const {
    std::vector<std::string> found;
    std::istringstream all(output_of("pdftotext -layout '" + folder_->file("hand-over.pdf") + "' -"));
    for (std::string page; std::getline(all, page, '\f');)
      if (page.find("Hand-over pack · First draw") != std::string::npos) found.push_back(page);
    return found;
  }

  /// Cells of a sheet of the workbook, first row the headings.
  nlohmann::json sheet(const std::string& name) const {
    const std::string program =
        "import json,sys,openpyxl; s=openpyxl.load_workbook(sys.argv[1])[sys.argv[2]]; "
        "print(json.dumps([[c.value for c in r] for r in s.iter_rows()]))";
    return nlohmann::json::parse(output_of(
        fmt::format("/usr/bin/python3 -c '{}' '{}' '{}'", program, folder_->file("schedules.xlsx"), name)));
  }

  job::Job job_;
  plan::Plan plan_;
  forecast::Forecast forecast_;
  std::optional<PackFolder> folder_;
};

TEST_P(PackForecast, EverySheetIsThereAndSaysWhatItRestsOn) {
  std::string all;
  for (const std::string& page : pages()) all += page;
  for (const char* title :
       {"First draw: the week", "First draw: time until hot", "First draw: energy by hour",
        "First draw: at the tap after opening", "First draw: riser drawing"})
    EXPECT_NE(all.find(title), std::string::npos) << title;
  for (const std::string& page : pages()) {
    const bool continued =
        page.find("sheet ") != std::string::npos || page.find("Peak flow") != std::string::npos;
    if (continued) continue;
    EXPECT_NE(page.find("2 days from Monday 00:00"), std::string::npos) << page;
    EXPECT_NE(page.find("seed 1"), std::string::npos) << page;
    EXPECT_NE(page.find("management plan"), std::string::npos) << page;
  }
}

TEST_P(PackForecast, TheSummaryPrintsTheSimulatedFigures) {
  const std::string page = pages().front();
  const forecast::BuildingAnswer& all = forecast_.building;
  for (const double share : {all.hot_at_once_frac, all.hot_in_10_s_frac, all.hot_in_30_s_frac})
    EXPECT_NE(page.find(paper::percent(share)), std::string::npos) << share;
  EXPECT_NE(page.find(fmt::format("{:.1f} kWh", all.cable_kwh_per_day)), std::string::npos);
  EXPECT_NE(page.find("Legionella"), std::string::npos);
  EXPECT_NE(page.find("scalds"), std::string::npos);
}

TEST_P(PackForecast, TheWorkbookHoldsEveryTapAndRun) {
  const auto taps = sheet("First draw taps");
  ASSERT_EQ(taps.size(), forecast_.outlets.size() + 1);
  const auto column = [](const nlohmann::json& rows, const std::string& title) {
    return static_cast<std::size_t>(std::find(rows[0].begin(), rows[0].end(), title) - rows[0].begin());
  };
  const std::size_t wait = column(taps, "Hot after, P50 (s; empty: never)"),
                    draws = column(taps, "Draws a day");
  for (std::size_t each = 0; each < forecast_.outlets.size(); ++each) {
    const forecast::OutletAnswer& tap = forecast_.outlets[each];
    EXPECT_EQ(taps[each + 1][0], tap.tap);
    EXPECT_NEAR(taps[each + 1][draws].get<double>(), tap.draws_per_day, 1e-9);
    if (std::isfinite(tap.hot_after_s.p50))
      EXPECT_NEAR(taps[each + 1][wait].get<double>(), tap.hot_after_s.p50, 1e-9);
    else
      EXPECT_TRUE(taps[each + 1][wait].is_null());
  }
  const auto runs = sheet("First draw runs");
  ASSERT_EQ(runs.size(), forecast_.runs.size() + 1);
  const std::string unit(units::display_unit(units::Kind::temperature, job_.units));
  const std::size_t coldest = column(runs, "Coldest (" + unit + ")");
  for (std::size_t each = 0; each < forecast_.runs.size(); ++each)
    EXPECT_NEAR(runs[each + 1][coldest].get<double>(),
                units::from_si(forecast_.runs[each].min_c, unit, units::Kind::temperature), 1e-9);
  EXPECT_EQ(sheet("First draw hours").size(), 169U);
}

TEST_P(PackForecast, TheHeatMapWritesTheHoursBesideEveryRun) {
  const std::string svg = bytes_of(folder_->path() / "riser-growth.svg");
  for (const forecast::RunAnswer& run : forecast_.runs)
    EXPECT_NE(svg.find(fmt::format(">{:.1f} h<", run.band_hours_per_day)), std::string::npos)
        << job_.runs[static_cast<std::size_t>(run.run)].id;
}

TEST_P(PackForecast, ForecastJsonIsTheForecast) {
  EXPECT_EQ(nlohmann::json::parse(bytes_of(folder_->path() / "forecast.json")),
            forecast::to_json(job_, forecast_));
}

INSTANTIATE_TEST_SUITE_P(Examples, PackForecast,
                         testing::Values(Case{"clinic_us", "clinic"},
                                         Case{"care_home_metric", "care-home", units::System::metric}),
                         [](const auto& each) { return each.param.name; });

TEST(PackForecastFiles, AreTheSameForAnyNumberOfThreads) {
  const job::Job job = example("clinic");
  const plan::Plan plan = planned(job);
  const forecast::Forecast one = simulated(job, plan, 1), two = simulated(job, plan, 2);
  const PackFolder first("threads-one"), second("threads-two");
  const auto written = paper::write_pack(job, plan, first.path(), {}, {.forecast = &one});
  ASSERT_TRUE(written);
  ASSERT_TRUE(paper::write_pack(job, plan, second.path(), {}, {.forecast = &two}));
  for (const auto& file : *written)
    EXPECT_EQ(bytes_of(file.path), bytes_of(second.path() / file.path.filename())) << file.path;
}

TEST(PackForecastFiles, AreNotThereWithoutAForecast) {
  const job::Job job = example("clinic");
  const PackFolder folder("no-forecast");
  ASSERT_TRUE(paper::write_pack(job, planned(job), folder.path()));
  EXPECT_FALSE(fs::exists(folder.path() / "forecast.json"));
  EXPECT_FALSE(fs::exists(folder.path() / "riser-growth.svg"));
  EXPECT_EQ(output_of("pdftotext '" + folder.file("hand-over.pdf") + "' -").find("First draw"),
            std::string::npos);
}

}  // namespace
}  // namespace firstdraw::golden
