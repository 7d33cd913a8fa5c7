// Records here are invented.
#include "week/tariff_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <nlohmann/json.hpp>

namespace firstdraw::week {
namespace {

using Json = nlohmann::json;
using testing::ElementsAre;
using testing::HasSubstr;

const Json grid_of_zeros = Json(std::vector<std::vector<int>>(12, std::vector<int>(24, 0)));

Json sound_record() {
  Json weekday = grid_of_zeros;
  for (int hour = 7; hour < 11; ++hour) weekday[0][static_cast<std::size_t>(hour)] = 1;
  return {
      {"label", "invented"},
      {"utility", "Invented Power"},
      {"name", "Time of use"},
      {"energyratestructure",
       Json::parse(R"([[{"rate": 0.1, "adj": 0.01, "max": 400, "unit": "kWh"}, {"rate": 0.2, "unit": "kWh"}],
                           [{"rate": 0.3, "sell": 0.02}]])")},
      {"energyweekdayschedule", weekday},
      {"energyweekendschedule", grid_of_zeros},
      {"flatdemandstructure", Json::parse(R"([[{"rate": 5}], [{"rate": 7.5}]])")},
      {"flatdemandmonths", {1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1}},
      {"flatdemandunit", "kW"},
      {"demandwindow", 30},
      {"demandratchetpercentage", std::vector<double>(12, 0.5)},
      {"fixedmonthlycharge", 12},
      {"minmonthlycharge", 20},
      {"annualmincharge", 300}};
}
const TariffAsked asked{"USD", true, {}, 11};

Tariff read(const Json& record) {
  auto import = read_tariff_json(record.dump(), "rate.json", asked);
  if (!import) throw std::runtime_error(import.error().front().text());
  return import->tariff;
}
std::vector<std::string> errors_of_text(std::string_view text, const TariffAsked& with = asked) {
  const auto import = read_tariff_json(text, "rate.json", with);
  std::vector<std::string> texts;
  if (!import) {
    for (const auto& problem : import.error()) texts.push_back(problem.text());
  }
  return texts;
}
/// Spoils the sound record in one place.
std::vector<std::string> errors_after(const std::function<void(Json&)>& spoil) {
  Json record = sound_record();
  spoil(record);
  return errors_of_text(record.dump());
}

TEST(TariffJson, EveryFieldArrives) {
  const Tariff tariff = read(sound_record());
  EXPECT_EQ(tariff.name, "Time of use");
  EXPECT_EQ(tariff.currency, "USD");
  ASSERT_EQ(tariff.energy.periods.size(), 2u);
  EXPECT_EQ(tariff.energy.periods[0].tiers[0].up_to, 400);
  EXPECT_DOUBLE_EQ(tariff.energy.periods[0].tiers[0].price, 0.11);
  EXPECT_DOUBLE_EQ(tariff.energy.periods[0].tiers[1].price, 0.2);
  EXPECT_EQ(tariff.energy.weekday[0][7], 1);
  EXPECT_EQ(tariff.energy.weekday[1][7], 0);
  EXPECT_FALSE(tariff.demand);
  EXPECT_EQ(tariff.flat_demand->period_of_month[11], 1);
  EXPECT_EQ(tariff.demand_window_s, 1800);
  EXPECT_EQ(tariff.ratchet_frac[5], 0.5);
  EXPECT_EQ(tariff.fixed_per_month, 12);
  EXPECT_EQ(tariff.minimum_per_month, 20);
  EXPECT_EQ(tariff.minimum_per_year, 300);
  EXPECT_TRUE(tariff.holidays_as_weekend);
}

// Names that stored records use beside those of the documentation.
TEST(TariffJson, OtherNamesOfTheSame) {
  Json record = sound_record();
  record.erase("flatdemandunit");
  record.update({{"flatDemandUnits", "kW daily"},
                 {"energytoulabels", {"Off-peak", "Peak"}},
                 {"dgRules", "none"},
                 {"supersedes", "older"},
                 {"revisions", {1, 2}}});
  const Tariff tariff = read(record);
  EXPECT_TRUE(tariff.flat_demand->daily);
  EXPECT_EQ(tariff.energy.periods[1].name, "Peak");
  EXPECT_THAT(
      errors_after([](Json& r) { r["energytoulabels"] = {"one"}; }),
      ElementsAre("rate.json: energytoulabels: a list of 2 names of periods was expected, not a list of 1"));
}

TEST(TariffJson, OneRecordInItemsIsTheSame) {
  EXPECT_EQ(read({{"items", {sound_record()}}}).energy.weekday, read(sound_record()).energy.weekday);
  EXPECT_THAT(errors_of_text(Json{{"items", {sound_record(), sound_record()}}}.dump()),
              ElementsAre("rate.json: items: exactly one record was expected, and nothing beside items"));
}

TEST(TariffJson, WhatWasUnderstoodIsSaid) {
  const auto import = read_tariff_json(sound_record().dump(), "rate.json", asked);
  std::vector<std::string> fields;
  for (const auto& assumption : import->assumptions) fields.push_back(assumption.field);
  EXPECT_THAT(fields, ElementsAre("tariff.tiers", "tariff.ratchet", "tariff.holidays", "tariff.clock",
                                  "tariff.sell"));
}

TEST(TariffJson, PricePerKwh) {
  const Tariff tariff = read(sound_record());
  const Calendar calendar =
      make_calendar(read_zone("America/Chicago", 2025, 2025).value(), {parse_date("2025-01-01").value()}, {})
          .value();
  const auto at = [&](const char* date, int hour) {
    return moments_of(calendar.zone, parse_date(date).value(), hour * 3600).front();
  };
  EXPECT_DOUBLE_EQ(price_per_kwh(tariff, calendar, at("2025-01-02", 7)), 0.3);
  EXPECT_DOUBLE_EQ(price_per_kwh(tariff, calendar, at("2025-01-02", 11)), 0.11);
  EXPECT_DOUBLE_EQ(price_per_kwh(tariff, calendar, at("2025-01-02", 11), 400), 0.2);
  EXPECT_DOUBLE_EQ(price_per_kwh(tariff, calendar, at("2025-01-01", 7)), 0.11) << "a holiday, as weekend";
  EXPECT_DOUBLE_EQ(price_per_kwh(tariff, calendar, at("2025-01-04", 7)), 0.11) << "a Saturday";
}

TEST(TariffJson, ShapesOfSchedules) {
  EXPECT_THAT(
      errors_after([](Json& r) { r["energyweekdayschedule"].erase(3); }),
      ElementsAre("rate.json: energyweekdayschedule: a list of 12 months was expected, not a list of 11"));
  EXPECT_THAT(
      errors_after([](Json& r) { r["energyweekendschedule"][4].push_back(0); }),
      ElementsAre("rate.json: energyweekendschedule[4]: a list of 24 hours was expected, not a list of 25"));
  EXPECT_THAT(errors_after([](Json& r) { r["energyweekendschedule"][4] = "x"; }),
              ElementsAre("rate.json: energyweekendschedule[4]: a list of 24 hours was expected, not text"));
  EXPECT_THAT(
      errors_after([](Json& r) { r["energyweekdayschedule"][11][23] = 2; }),
      ElementsAre("rate.json: energyweekdayschedule[11][23]: there is no period 2; there are 2, counted "
                  "from 0"));
  EXPECT_THAT(errors_after([](Json& r) { r["energyweekdayschedule"][0][0] = -1; }),
              ElementsAre(HasSubstr("[0][0]: there is no period -1")));
  EXPECT_THAT(errors_after([](Json& r) { r["energyweekdayschedule"][0][0] = 18446744073709551615u; }),
              ElementsAre(HasSubstr("there is no period 18446744073709551615")));
  EXPECT_THAT(errors_after([](Json& r) { r["flatdemandmonths"][2] = 0.5; }),
              ElementsAre("rate.json: flatdemandmonths[2]: the whole number of a period was expected, not a "
                          "number"));
  EXPECT_THAT(errors_after([](Json& r) { r.erase("energyweekendschedule"); }),
              ElementsAre("rate.json: energyweekendschedule: is missing; energyratestructure needs it"));
  EXPECT_THAT(errors_after([](Json& r) { r["demandweekdayschedule"] = grid_of_zeros; }),
              ElementsAre("rate.json: demandratestructure: is missing; demandweekdayschedule needs it"));
}

TEST(TariffJson, Tiers) {
  const auto spoilt = [](const char* tiers) {
    return errors_after([&](Json& r) { r["energyratestructure"][0] = Json::parse(tiers); });
  };
  EXPECT_THAT(spoilt(R"([{"rate": "0.1"}])"),
              ElementsAre("rate.json: energyratestructure[0][0].rate: a number was expected, not text"));
  EXPECT_THAT(spoilt(R"([{"adj": 0.1}])"), ElementsAre(HasSubstr("energyratestructure[0][0]: has no rate")));
  EXPECT_THAT(spoilt(R"([{"rate": 1}, {"rate": 2}])"),
              ElementsAre(HasSubstr("[0][0]: has no max, but tiers")));
  EXPECT_THAT(spoilt(R"([{"rate": 1, "max": 5}])"),
              ElementsAre(HasSubstr("[0][0].max: the last tier has no end")));
  EXPECT_THAT(spoilt(R"([{"rate": 1, "max": 5}, {"rate": 1, "max": 5}, {"rate": 2}])"),
              ElementsAre(HasSubstr("[0][1].max: must be more than the 5")));
  EXPECT_THAT(spoilt(R"([{"rate": 1, "unit": "kWh/kW"}])"),
              ElementsAre(HasSubstr("tiers in \"kWh/kW\" are not billed by this program")));
  EXPECT_THAT(spoilt(R"([{"rate": 1, "max": 5}, {"rate": 2, "unit": "kWh daily"}])"),
              ElementsAre(HasSubstr("[0][1].unit: all tiers must have the same unit"),
                          HasSubstr("[1][0].unit: all tiers must have the same unit")));
  EXPECT_THAT(
      spoilt(R"([{"rate": 1, "rat": 5}])"),
      ElementsAre(HasSubstr("[0][0].rat: is not known here; expected rate, adj, max, unit or sell (did "
                            "you mean \"rate\"?)")));
  EXPECT_THAT(spoilt("[]"), ElementsAre("rate.json: energyratestructure[0]: the list of tiers is empty"));
  EXPECT_THAT(spoilt("{}"),
              ElementsAre("rate.json: energyratestructure[0]: a list of tiers was expected, not "
                          "an object"));
}

TEST(TariffJson, FieldsThatAreNotUnderstood) {
  EXPECT_THAT(
      errors_after([](Json& r) { r["demandwindw"] = 15; }),
      ElementsAre("rate.json: demandwindw: is not a known field of the open utility-rate schema (did you "
                  "mean \"demandwindow\"?)"));
  EXPECT_THAT(errors_after([](Json& r) { r["gridpenalty"] = 4; }),
              ElementsAre(HasSubstr("(remove it if it is no charge)")));
  EXPECT_THAT(errors_after([](Json& r) { r["demandreactivepowercharge"] = 0.4; }),
              ElementsAre(HasSubstr("this charge is not billed by this program")));
  EXPECT_THAT(errors_after([](Json& r) { r["demandreactivepowercharge"] = 0; }), testing::IsEmpty());
  EXPECT_THAT(
      errors_after([](Json& r) { r["flatdemandunit"] = "kVA"; }),
      ElementsAre(HasSubstr("demand in \"kVA\" is not billed by this program; expected kW or kW daily")));
  EXPECT_THAT(errors_after([](Json& r) { r["fixedchargefirstmeter"] = 1; }),
              ElementsAre(HasSubstr("fixedmonthlycharge: the fixed charge is given twice"),
                          HasSubstr("fixedchargeunits: is missing; expected $/month, $/day or $/year")));
}

TEST(TariffJson, WindowRatchetAndCurrency) {
  EXPECT_THAT(errors_after([](Json& r) { r.erase("demandwindow"); }),
              ElementsAre(HasSubstr("demandwindow: is missing")));
  EXPECT_THAT(errors_after([](Json& r) { r["demandwindow"] = 7; }),
              ElementsAre(HasSubstr("minutes that divide an hour")));
  EXPECT_THAT(
      errors_after([](Json& r) { r["demandratchetpercentage"][2] = 80; }),
      ElementsAre(
          "rate.json: demandratchetpercentage[2]: a fraction from 0 to 1 was expected (80 % is 0.8)"));
  EXPECT_THAT(errors_of_text(sound_record().dump(), {"", false, {}, 11}),
              ElementsAre(HasSubstr("currency: the record does not say it")));
  Json silent = sound_record();
  silent.erase("demandwindow");
  const auto import = read_tariff_json(silent.dump(), "rate.json", {"USD", false, 900, 11});
  ASSERT_TRUE(import);
  EXPECT_EQ(import->tariff.demand_window_s, 900);
}

TEST(TariffJson, TextThatIsNoRecord) {
  EXPECT_THAT(errors_of_text("{\n  \"name\": tou\n}"),
              ElementsAre(HasSubstr("rate.json:2:12: this is not JSON")));
  EXPECT_THAT(errors_of_text(""), ElementsAre(HasSubstr("this is not JSON")));
  EXPECT_THAT(errors_of_text("[]"),
              ElementsAre(HasSubstr("an object with the fields of a rate was expected")));
  EXPECT_THAT(errors_of_text("{\"name\": \"a\", \"name\": \"b\"}"),
              ElementsAre("rate.json: name: this field is there twice"));
  EXPECT_THAT(errors_of_text("{\"demandwindow\": 1e999}"), ElementsAre(HasSubstr("number too large")));
  EXPECT_THAT(errors_of_text("{}"), ElementsAre(HasSubstr("energyratestructure: is missing")));
  EXPECT_THAT(errors_of_text("{\"name\": \"\xff\"}"), testing::SizeIs(1));
  EXPECT_THAT(errors_of_text(std::string(100000, '[')), testing::SizeIs(1));
}

}  // namespace
}  // namespace firstdraw::week
