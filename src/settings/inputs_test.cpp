// What a job says of its clock and its prices, and every slip in it.
#include "settings/inputs.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "settings/test_prices.hpp"

namespace firstdraw::settings {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

/// Every problem, one a line; empty when the job reads.
std::string problems(const job::Job& job) {
  const auto inputs = read_inputs(job);
  return inputs ? std::string() : texts(inputs.error());
}

std::string assumed(const Inputs& inputs, const std::string& field) {
  for (const job::Assumption& assumption : inputs.assumptions)
    if (assumption.field == field) return assumption.value;
  return {};
}

TEST(Inputs, WithoutATariffTheFlatPriceOfTheEconomicsIsAssumed) {
  const Inputs inputs = inputs_of(priced_job());
  EXPECT_EQ(inputs.year, 2026);
  EXPECT_EQ(inputs.calendar.zone.name, "America/Chicago");
  EXPECT_LE(inputs.calendar.zone.first_year, 2025);
  EXPECT_GE(inputs.calendar.zone.last_year, 2027);
  EXPECT_THAT(week::problems_of(inputs.tariff), IsEmpty());
  EXPECT_FALSE(inputs.tariff.demand || inputs.tariff.flat_demand);
  EXPECT_EQ(inputs.tariff.currency, "USD");
  const auto noon = week::moments_of(inputs.calendar.zone, week::parse_date("2026-07-04").value(), 43200);
  EXPECT_EQ(week::price_per_kwh(inputs.tariff, inputs.calendar, noon.at(0)), 0.15);
  EXPECT_EQ(assumed(inputs, "tariff.file"), "0.15 USD per kWh at all hours");
}

TEST(Inputs, TheYearOfTheSitesDateIsAssumed) {
  job::Job job = priced_job();
  job.tariff.year = 0;
  const Inputs inputs = inputs_of(job);
  EXPECT_EQ(inputs.year, 2026);
  EXPECT_EQ(assumed(inputs, "tariff.year"), "2026");
  EXPECT_EQ(assumed(inputs_of(priced_job()), "tariff.year"), "") << "given, not assumed";
  job.site.date = "March 2026";
  EXPECT_THAT(problems(job), AllOf(StartsWith("job.toml: tariff.year: is missing"), HasSubstr("site.date")));
}

TEST(Inputs, AMissingZoneSaysWhatIsExpected) {
  EXPECT_THAT(problems(priced_job("")), AllOf(StartsWith("job.toml: tariff.zone: is missing"),
                                              HasSubstr("America/Chicago"), HasSubstr("[tariff]")));
}

TEST(Inputs, AnUnknownZoneNamesTheNearest) {
  EXPECT_THAT(problems(priced_job("America/Chicgo")),
              AllOf(StartsWith("job.toml: tariff.zone: \"America/Chicgo\""),
                    HasSubstr("did you mean \"America/Chicago\"?")));
}

TEST(Inputs, YearsAtTheEndsOfTheTimeZoneData) {
  job::Job job = priced_job();
  for (const int year : {1970, 2037}) {
    job.tariff.year = year;
    EXPECT_EQ(problems(job), "") << year;
    EXPECT_NEAR(year_cost(inputs_of(job), job, {std::vector<double>(quarter_hours, 1000)}).kwh, 8760, 1e-9);
  }
  for (const int year : {1969, 2038, -1, 20260}) {
    job.tariff.year = year;
    EXPECT_THAT(problems(job), AllOf(StartsWith("job.toml: tariff.year: "), HasSubstr("1970 to 2037")));
  }
}

TEST(Inputs, HolidaysOfSeveralYearsMayBeListed) {
  job::Job job = table_job(day_night_csv);
  job.tariff.holidays = {"2031-01-01", "2026-12-25", "2020-07-03"};
  const Inputs inputs = inputs_of(job);
  EXPECT_EQ(inputs.calendar.holidays.size(), 3u);
  EXPECT_TRUE(week::is_holiday(inputs.calendar, week::parse_date("2026-12-25").value()));
  EXPECT_EQ(assumed(inputs, "tariff.holidays"), "priced as weekend");
}

TEST(Inputs, ATariffWithoutAHolidayOfItsYearSaysSo) {
  job::Job job = table_job(day_night_csv);
  job.tariff.holidays = {"2025-12-25"};
  const auto assumptions = inputs_of(job).assumptions;
  const auto none = std::ranges::find(assumptions, "none in 2026", &job::Assumption::value);
  ASSERT_NE(none, assumptions.end());
  EXPECT_EQ(none->field, "tariff.holidays");
}

TEST(Inputs, SlipsInHolidaysAndSeasons) {
  job::Job job = priced_job();
  job.tariff.holidays = {"2026-02-29", "2026-12-25"};
  EXPECT_THAT(problems(job), AllOf(StartsWith("job.toml: tariff.holidays: \"2026-02-29\" is no date"),
                                   HasSubstr("\"2025-12-25\"")));
  job.tariff.holidays = {"2926-12-25"};
  EXPECT_THAT(problems(job),
              AllOf(StartsWith("job.toml: tariff.holidays[0]"), HasSubstr("outside the years")));
  job.tariff.holidays.clear();
  job.tariff.seasons = {{"winter", 10, 1}, {"winter", 4, 1}, {"odd", 2, 30}};
  EXPECT_THAT(problems(job),
              AllOf(HasSubstr("job.toml: tariff.seasons[1]: the season \"winter\" is there twice"),
                    HasSubstr("tariff.seasons[2]: a season begins on a day of every year")));
}

TEST(Inputs, ATableIsReadByItsName) {
  job::Job job = table_job(day_night_csv);
  job.tariff.file = "Rates 2026.CSV";
  EXPECT_EQ(inputs_of(job).tariff.energy.periods.size(), 3u);
  EXPECT_EQ(inputs_of(job).tariff.demand_window_s, 900);
  job.tariff.file = "rates.txt";
  EXPECT_THAT(problems(job), AllOf(StartsWith("job.toml: tariff.file: \"rates.txt\""),
                                   HasSubstr("expected a name that ends in .csv or .json")));
  job.tariff.file = "rates";
  EXPECT_THAT(problems(job), HasSubstr("tariff.file"));
}

TEST(Inputs, ARecordOfTheOpenSchemaIsReadByItsName) {
  const nlohmann::json grid(std::vector<std::vector<int>>(12, std::vector<int>(24, 0)));
  nlohmann::json record{{"name", "Invented"},
                        {"energyratestructure", nlohmann::json::parse(R"([[{"rate": 0.11}]])")},
                        {"energyweekdayschedule", grid},
                        {"energyweekendschedule", grid},
                        {"flatdemandstructure", nlohmann::json::parse(R"([[{"rate": 6}]])")},
                        {"flatdemandmonths", std::vector<int>(12, 0)}};
  job::Job job = table_job(record.dump());
  job.tariff.file = "rate.json";
  job.tariff.demand_window_s = 1800;
  const Inputs inputs = inputs_of(job);
  EXPECT_EQ(inputs.tariff.name, "Invented");
  EXPECT_EQ(inputs.tariff.demand_window_s, 1800);
  record["energyweekdayschedule"][0][7] = 3;
  job.tariff.text = record.dump();
  EXPECT_THAT(problems(job), AllOf(StartsWith("rate.json: "), HasSubstr("energyweekdayschedule[0][7]")));
}

TEST(Inputs, ErrorsInATableCarryItsNameAndLine) {
  job::Job job = table_job(day_night_csv);
  job.tariff.text.replace(job.tariff.text.find("0.20"), 4, "high");
  EXPECT_THAT(problems(job), StartsWith("tariff.csv:2:"));
  job.tariff.text.clear();
  EXPECT_THAT(problems(job), StartsWith("tariff.csv"));
}

TEST(Inputs, AllProblemsAreToldAtOnce) {
  job::Job job = priced_job("Europe/Berlim");
  job.tariff.year = 0;
  job.site.date = "";
  job.tariff.holidays = {"Christmas"};
  job.tariff.file = "rates.pdf";
  EXPECT_THAT(problems(job), AllOf(HasSubstr("tariff.year"), HasSubstr("Europe/Berlin"),
                                   HasSubstr("tariff.holidays"), HasSubstr("tariff.file")));
}

}  // namespace
}  // namespace firstdraw::settings
