// Tables here are invented.
#include "week/tariff_csv.hpp"
#include "places.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace firstdraw::week {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr std::string_view sound =
    "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
    ",night,all,22:00,6:00,all,,0.10,,\n"
    ",day,mon-fri,6:00,22:00,all,300,0.20,4,\n"
    ",day,,,,,,0.30,,\n"
    ",weekend,sat-sun,6:00,22:00,all,,0.15,,\n"
    "flat_demand,winter,,,,nov-mar,,5,,80 %\n"
    "flat_demand,summer,,,,apr-oct,,3,,\n"
    "fixed_per_day,,,,,,,0.40,,\n"
    "minimum_per_month,,,,,,,15,,\n";
const TariffAsked asked{"EUR", false, 900, 11};

std::vector<std::string> errors_of(std::string_view text) {
  const auto import = read_tariff_csv(text, "tariff.csv", asked);
  std::vector<std::string> texts;
  if (!import) {
    for (const auto& problem : import.error()) texts.push_back(problem.text());
  }
  return texts;
}
/// The sound table with the first `from` replaced.
std::vector<std::string> errors_with(std::string_view from, std::string_view to) {
  std::string text(sound);
  const auto at = text.find(from);
  if (at == std::string::npos) throw std::logic_error("not in the table");
  return errors_of(text.replace(at, from.size(), to));
}

TEST(TariffCsv, EveryColumnArrives) {
  const auto import = read_tariff_csv(sound, "tariff.csv", asked);
  ASSERT_TRUE(import) << import.error().front().text();
  const Tariff& tariff = import->tariff;
  ASSERT_EQ(tariff.energy.periods.size(), 3u);
  EXPECT_EQ(tariff.energy.weekday[4][5], 0);
  EXPECT_EQ(tariff.energy.weekday[4][6], 1);
  EXPECT_EQ(tariff.energy.weekend[4][6], 2);
  EXPECT_EQ(tariff.energy.weekend[4][22], 0);
  EXPECT_EQ(tariff.energy.periods[1].tiers[0].up_to, 300);
  EXPECT_EQ(tariff.energy.periods[1].tiers[1].price, 0.30);
  EXPECT_EQ(tariff.demand->periods[1].tiers[0].price, 4);
  EXPECT_EQ(tariff.demand->periods[0].tiers[0].price, 0);
  EXPECT_EQ(tariff.flat_demand->period_of_month[2], 0);
  EXPECT_EQ(tariff.flat_demand->period_of_month[3], 1);
  EXPECT_EQ(tariff.ratchet_frac[10], 0.8);
  EXPECT_EQ(tariff.ratchet_frac[4], 0);
  EXPECT_EQ(tariff.fixed_per_day, 0.40);
  EXPECT_EQ(tariff.minimum_per_month, 15);
  EXPECT_EQ(tariff.currency, "EUR");
}

TEST(TariffCsv, GapsAndOverlaps) {
  EXPECT_THAT(
      errors_with("sat-sun,6:00,22:00", "sat-sun,6:00,21:00"),
      ElementsAre("tariff.csv: energy: January, sat-sun, 21:00 has no price (12 of 576 hours of the months "
                  "have none)"));
  EXPECT_THAT(errors_with("sat-sun,6:00,22:00", "sat-sun,5:00,22:00"),
              ElementsAre("tariff.csv:5:18: row · from: January, sat-sun, 05:00 has a price already, that of "
                          "\"night\""));
  EXPECT_THAT(errors_with("apr-oct", "apr-sep"),
              ElementsAre(HasSubstr("flat_demand: October has no flat demand price")));
  EXPECT_THAT(errors_with("apr-oct", "mar-oct"),
              ElementsAre(HasSubstr("March has a flat demand price already")));
}

TEST(TariffCsv, CellsThatAreWrong) {
  EXPECT_THAT(errors_with("mon-fri", "mon-thu"),
              testing::Contains(HasSubstr("expected mon-fri, sat-sun or all")));
  EXPECT_THAT(errors_with("mon-fri", "mon-fry"), testing::Contains(HasSubstr("is no day of the week")));
  EXPECT_THAT(errors_with("22:00,6:00", "22:30,6:00"),
              testing::Contains(HasSubstr("prices change on the full hour")));
  EXPECT_THAT(errors_with("nov-mar", "nov-mrz"), testing::Contains(HasSubstr("\"mrz\" is no month")));
  EXPECT_THAT(errors_with("0.10", "0,10"),
              testing::Contains(HasSubstr(
                  "tariff.csv:2: row: 11 cells, but the first line names 10 (write decimals with a point")));
  EXPECT_THAT(errors_with("0.10", "ten"),
              testing::Contains(HasSubstr("tariff.csv:2:28: row · price: \"ten\" is no plain number")));
  EXPECT_THAT(errors_with("80 %", "120 %"), testing::Contains(HasSubstr("ratchet: must be between 0 and 1")));
  EXPECT_THAT(errors_with("fixed_per_day", "fixed_per_da"),
              ElementsAre(HasSubstr("(did you mean \"fixed_per_day\"?)")));
  EXPECT_THAT(errors_with("fixed_per_day,,", "fixed_per_day,,all"),
              ElementsAre(HasSubstr("a row of fixed_per_day takes none")));
  EXPECT_THAT(errors_with("price,", "prize,"), testing::Contains(HasSubstr("did you mean \"price\"?")));
  EXPECT_THAT(errors_with(",day,,,,,,0.30", ",dya,,,,,,0.30"),
              testing::Contains(HasSubstr("there is no \"dya\" above")));
  EXPECT_THAT(errors_with(",day,,,,,,0.30", ",day,,,,,200,0.30"),
              testing::Contains(HasSubstr("must be more than the 300")));
  EXPECT_THAT(errors_with(",day,,,,,,0.30", ",day,,,,,500,0.30"),
              testing::Contains(HasSubstr("day: the last tier has no end")));
}

TEST(TariffCsv, DemandAsksForTheWindow) {
  const auto import = read_tariff_csv(sound, "tariff.csv", {"EUR", false, {}, 11});
  ASSERT_FALSE(import);
  EXPECT_THAT(import.error().front().text(), HasSubstr("demand window: demand is charged"));
  EXPECT_THAT(errors_of(""), testing::Not(IsEmpty()));
}

/// What stands in the page between the fences of ```csv.
std::string example_of(const std::string& page) {
  std::ifstream file(page);
  std::ostringstream text;
  text << file.rdbuf();
  const std::string all = text.str(), fence = "```csv\n";
  const auto begin = all.find(fence) + fence.size();
  return all.substr(begin, all.find("```", begin) - begin);
}

TEST(TariffCsv, TheExampleOfThePageIsSound) {
  const std::string example = example_of(places::sources() + "/docs/week.md");
  EXPECT_THAT(errors_of(example), IsEmpty()) << example;
}

}  // namespace
}  // namespace firstdraw::week
