// What the network in time needs of a folder: how groups switch, the tank, periods of the week, who draws
// what.
#include <gmock/gmock.h>

#include <algorithm>
#include <functional>

#include "job/test_folder.hpp"

namespace firstdraw::job {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr double gpm_m3_per_s = 3.785411784e-3 / 60;  // US gallon 231 in3, exact (NIST SP 811 B, from memory)

const char* const period = R"(
[[period]]
group = "main"
days = "mon-fri"
from = "22:00"
to = "5 am"
hold = "setback"
)";
const char* const exam = R"(
[[use]]
id = "exam"
weekday = [0, 0, 0, 0, 0, 0, 1, 4, 8, 10, 10, 9, 5, 8, 10, 10, 8, 4, 1, 0, 0, 0, 0, 0]
occupancy = "80 %"
)";
const char* const exam_draws = R"(
[[draws]]
use = "exam"
fixture = "lavatory"
per_day = 30
duration = "20 s"
flow = "0.5 gpm"
temperature = "100 °F"
)";

void append(const TestFolder& folder, const std::string& sections) {
  folder.put("job.toml", folder.text("job.toml") + sections);
}

Job job_with(const TestFolder& folder, const std::string& sections) {
  append(folder, sections);
  const auto job = read_job(folder.path);
  EXPECT_TRUE(job) << texts(job.error());
  return job.value_or(Job{});
}

std::string replaced(std::string text, const std::string& old, const std::string& now) {
  const auto at = text.find(old);
  EXPECT_NE(at, std::string::npos) << old;
  return at == std::string::npos ? text : text.replace(at, old.size(), now);
}

std::vector<std::string> assumed(const Job& job, const std::string& field) {
  std::vector<std::string> values;
  for (const auto& assumption : job.assumptions) {
    if (assumption.field == field) values.push_back(assumption.value);
  }
  return values;
}

TEST(Periods, ReadDaysTimesAndWhatIsHeld) {
  const TestFolder folder;
  const Job job = job_with(folder, period + replaced(period, "\"setback\"", "\"110 °F\"") +
                                       replaced(period, "\"setback\"", "\"off\""));
  ASSERT_EQ(job.periods.size(), 3u);
  EXPECT_EQ(job.periods[0], (Period{"main", 0b0011111, 79200, 18000, Period::Setting::setback, 0}));
  EXPECT_EQ(job.periods[1].setting, Period::Setting::temperature);
  EXPECT_DOUBLE_EQ(job.periods[1].hold_c, (110 - 32) / 1.8);
  EXPECT_EQ(job.periods[2].setting, Period::Setting::off);
}

TEST(Periods, WithoutDaysAreEveryDay) {
  const TestFolder folder;
  const Job job = job_with(folder, replaced(period, "days = \"mon-fri\"\n", ""));
  ASSERT_EQ(job.periods.size(), 1u);
  EXPECT_EQ(job.periods[0].weekdays, 0x7f);
  EXPECT_THAT(assumed(job, "period.days"), testing::ElementsAre("all"));
}

TEST(Use, ReadsHoursAndDraws) {
  const TestFolder folder;
  const Job job = job_with(folder, std::string(exam) + exam_draws);
  ASSERT_EQ(job.profiles.size(), 1u);
  const UseProfile& use = job.profiles[0];
  EXPECT_EQ(use.weekday_hours[9], 10);
  EXPECT_EQ(use.draws_frac, 0.8);
  ASSERT_EQ(job.fixture_uses.size(), 1u);
  const FixtureUse& draws = job.fixture_uses[0];
  EXPECT_EQ(draws.profile, "exam");
  EXPECT_EQ(draws.per_day, 30);
  EXPECT_EQ(draws.duration_s, 20);
  EXPECT_NEAR(draws.flow_m3_per_s, 0.5 * gpm_m3_per_s, 1e-18);
  EXPECT_DOUBLE_EQ(*draws.use_c, (100 - 32) / 1.8);
}

TEST(Use, WithoutWeekendAndDaysHasThemAlikeAndSaysSo) {
  const TestFolder folder;
  const Job job = job_with(folder, exam);
  ASSERT_EQ(job.profiles.size(), 1u);
  EXPECT_EQ(job.profiles[0].weekend_hours, job.profiles[0].weekday_hours);
  EXPECT_EQ(job.profiles[0].weekday_frac, std::vector<double>(7, 1.0));
  EXPECT_THAT(assumed(job, "use.exam.weekend"), testing::ElementsAre("as weekday"));
  EXPECT_THAT(assumed(job, "use.exam.days"), testing::ElementsAre("all alike"));
}

TEST(Use, LikeAPublishedProfileLeavesItsHoursToThat) {
  const TestFolder folder;
  const Job job = job_with(folder, "[[use]]\nid = \"exam\"\nlike = \"office\"\n");
  ASSERT_EQ(job.profiles.size(), 1u);
  EXPECT_EQ(job.profiles[0].like, "office");
  EXPECT_TRUE(job.profiles[0].weekday_hours.empty());
  EXPECT_TRUE(assumed(job, "use.exam.weekend").empty());
}

TEST(Supply, HasATankOnlyWhenItSaysSo) {
  const TestFolder folder;
  Job job = job_with(folder, "");
  EXPECT_EQ(job.supply.tank_m3, 0);
  EXPECT_TRUE(assumed(job, "supply.heater_differential").empty());
  folder.change("job.toml", "cold = \"50 °F\"", "cold = \"50 °F\"\ntank = \"120 gal\"\nheater = \"18 kW\"");
  job = job_with(folder, "");
  EXPECT_NEAR(job.supply.tank_m3, 120 * 3.785411784e-3, 1e-15);
  EXPECT_EQ(job.supply.heater_w, 18000);
  EXPECT_THAT(assumed(job, "supply.heater_differential"), testing::ElementsAre("7.2 °F"));
}

TEST(Groups, AreThermostatsUnlessTheySaySo) {
  const TestFolder folder;
  const Job job = job_with(folder, "");
  const ControlGroup& group = job.groups.at(0);
  EXPECT_EQ(group.method, ControlMethod::thermostat);
  EXPECT_EQ(group.differential_k, 2);
  EXPECT_EQ(group.sensor_lag_s, 60);
  EXPECT_EQ(group.cycle_s, 600);
  EXPECT_EQ(group.when_lost, SensorLost::off);
  EXPECT_THAT(assumed(job, "group.main.differential"), testing::ElementsAre("3.6 °F"));
  EXPECT_TRUE(assumed(job, "group.main.cycle").empty());  // a thermostat has none
}

TEST(Groups, ThatPulseHaveACycleAndNoDifferential) {
  const TestFolder folder;
  folder.change("job.toml", "maintain = \"126 °F\"",
                "maintain = \"126 °F\"\nmethod = \"pulsed\"\nsensor_lost = \"ambient\"\nmin_on = \"30 s\"");
  const Job job = job_with(folder, "");
  EXPECT_EQ(job.groups.at(0).method, ControlMethod::pulsed);
  EXPECT_EQ(job.groups.at(0).when_lost, SensorLost::entered_ambient);
  EXPECT_EQ(job.groups.at(0).min_on_s, 30);
  EXPECT_THAT(assumed(job, "group.main.cycle"), testing::ElementsAre("10 min"));
  EXPECT_TRUE(assumed(job, "group.main.differential").empty());
}

std::string another_group(const std::string& id, const std::string& more = "") {
  return "\n[[group]]\nid = \"" + id + "\"\nname = \"" + id +
         "\"\npanel = \"LP-1\"\ncontrol = \"pipe-sensor\"\nmaintain = \"126 °F\"\n" + more;
}

TEST(Groups, ThatShareAnAssumptionShareItsLine) {
  const TestFolder folder;
  const Job job = job_with(folder, another_group("east") + another_group("a.b", "differential = \"3 K\"\n"));
  EXPECT_THAT(assumed(job, "groups.method"), testing::ElementsAre("thermostat (all 3 groups)"));
  EXPECT_THAT(assumed(job, "groups.differential"), testing::ElementsAre("3.6 °F (main, east)"));
  EXPECT_THAT(assumed(job, "groups.setback"), testing::ElementsAre("126 °F (east, a.b)"));
  EXPECT_TRUE(std::ranges::none_of(
      job.assumptions, [](const auto& made) { return made.field.starts_with("group.main.method"); }));
}

TEST(Runouts, MayBeInsulated) {
  const TestFolder folder;
  folder.put("outlets.csv",
             "id,node,fixture,runout_material,runout_size,runout_length,runout_insulation,runout_thickness\n"
             "O-1,B1,lavatory,pex,1/2,5 ft,glass fibre,1/2 in\nO-2,B2,lavatory,pex,1/2,5 ft,,\n");
  const Job job = job_with(folder, "");
  ASSERT_EQ(job.outlets.size(), 2u);
  EXPECT_EQ(job.outlets[0].runout_insulation, "glass-fibre");
  EXPECT_DOUBLE_EQ(*job.outlets[0].runout_thickness_m, 0.0127);
  EXPECT_EQ(job.outlets[1].runout_insulation, "");
  EXPECT_FALSE(job.outlets[1].runout_thickness_m);
}

TEST(Runouts, NeedBothMaterialAndThickness) {
  const TestFolder folder;
  folder.put("outlets.csv",
             "id,node,fixture,runout_material,runout_size,runout_length,runout_insulation,runout_thickness\n"
             "O-1,B1,lavatory,pex,1/2,5 ft,glass fibre,\nO-2,B2,lavatory,pex,1/2,5 ft,,1/2 in\n"
             "O-3,B3,lavatory,pex,1/2,5 ft,grass fibre,1/2 in\n");
  EXPECT_THAT(folder.problems(),
              AllOf(HasSubstr("outlets.csv:2:42: outlet O-1 · runout_thickness: runout_insulation and"),
                    HasSubstr("outlet O-2 · runout_insulation: runout_insulation and runout_thickness go"),
                    HasSubstr("outlet O-3 · runout_insulation: unknown insulation \"grass fibre\""),
                    Not(HasSubstr("outlet O-3 · runout_thickness"))));
}

// ---- Profiles of outlets

void name_profiles(const TestFolder& folder) {
  folder.put("outlets.csv",
             "id,node,fixture,runout_material,runout_size,runout_length,profile\n"
             "O-1,B1,lavatory,pex,1/2,5 ft,exam\nO-2,B2,lavatory,pex,1/2,5 ft,\n"
             "O-3,B3,lavatory,pex,1/2,5 ft,exam\n");
}

TEST(OutletProfiles, AreNotesInAJobThatDefinesNone) {
  const TestFolder folder;
  name_profiles(folder);
  const Job job = job_with(folder, "");
  ASSERT_EQ(job.outlets.size(), 3u);
  EXPECT_EQ(job.outlets[0].profile, "exam");
  EXPECT_THAT(assumed(job, "outlets.profile"),
              testing::ElementsAre("\"exam\" as usual for the building (2 outlets)"));
}

TEST(OutletProfiles, AreListedAsAssumedOnlyOnceWhenWrittenAndRead) {
  const TestFolder folder;
  name_profiles(folder);
  const Job job = job_with(folder, "");
  ASSERT_TRUE(write_job(job, folder.path));
  const auto again = read_job(folder.path);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_TRUE(*again == job);
}

TEST(OutletProfiles, NameAUseOnceThereIsOne) {
  const TestFolder folder;
  name_profiles(folder);
  EXPECT_TRUE(assumed(job_with(folder, exam), "outlets.profile").empty());
  folder.change("outlets.csv", "ft,exam", "ft,exma");
  EXPECT_EQ(folder.problems(),
            "outlets.csv:2:30: outlet O-1 · profile: there is no use profile \"exma\" (did you mean "
            "\"exam\"?)\n");
}

TEST(OutletProfiles, MayBePublishedOnes) {
  const TestFolder folder;
  name_profiles(folder);
  folder.change("outlets.csv", "ft,exam", "ft,hospital");
  folder.change("outlets.csv", "ft,exam", "ft,office");
  EXPECT_TRUE(assumed(job_with(folder, ""), "outlets.profile").empty());
  append(folder, exam);
  EXPECT_EQ(folder.problems(), "");
  folder.change("outlets.csv", "ft,hospital", "ft,hopsital");
  EXPECT_THAT(folder.problems(), HasSubstr("did you mean \"hospital\"?"));
}

// ---- The template

/// The keys that the template shows as comments are right, too.
TEST(Template, HoldsWhenItsCommentsAreTaken) {
  const TestFolder folder("examples/clinic");
  std::string text = folder.text("job.toml"), taken;
  bool in_section = false;
  for (std::size_t begin = 0; begin < text.size();) {
    const auto end = text.find('\n', begin);
    std::string line = text.substr(begin, end - begin);
    const bool heading = line.starts_with("# [[");
    in_section = heading || (in_section && line.starts_with("# ") && line.contains(" = "));
    const bool tank = line.starts_with("# tank") || line.starts_with("# heater");
    taken += (in_section || tank ? line.substr(2) : line) + "\n";
    begin = end + 1;
  }
  folder.put("job.toml", taken);
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_EQ(job->periods.size(), 1u);
  EXPECT_EQ(job->profiles.size(), 1u);
  EXPECT_EQ(job->fixture_uses.size(), 1u);
  EXPECT_EQ(job->accepted.size(), 1u);
  EXPECT_GT(job->supply.tank_m3, 0);
}

// ---- The hotel of the examples

TEST(Hotel, SetsOnlyItsLaundryBack) {
  const TestFolder folder("examples/hotel");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  EXPECT_EQ(job->periods,
            (std::vector<Period>{{"laundry", 0x7f, 79200, 18000, Period::Setting::setback, 0}}));
  EXPECT_TRUE(assumed(*job, "outlets.profile").empty());
}

/// Hot water of an average weekday through the outlets whose draws the job itself describes.
double hot_m3_per_day(const Job& job, const std::function<bool(const Outlet&)>& wanted) {
  double hot_m3 = 0;
  for (const auto& outlet : job.outlets) {
    const auto use = std::ranges::find(job.profiles, outlet.profile, &UseProfile::id);
    const auto draws = std::ranges::find_if(job.fixture_uses, [&](const FixtureUse& d) {
      return d.profile == outlet.profile && d.fixture == outlet.fixture;
    });
    if (draws == job.fixture_uses.end() || !wanted(outlet)) continue;
    const double cold_c = job.supply.cold_c, hot_c = job.supply.delivered_c;
    const double share = (draws->use_c.value_or(hot_c) - cold_c) / (hot_c - cold_c);
    hot_m3 +=
        use->draws_frac * outlet.count * draws->per_day * draws->duration_s * draws->flow_m3_per_s * share;
  }
  return hot_m3;
}

/// Motels of 60 units draw 14 gal a day and unit, of 100 units and more 10 gal (ASHRAE Handbook HVAC
/// Applications, hot-water demands and use, from memory); the hotel has 84 rooms.
TEST(Hotel, GuestsDrawAboutWhatIsUsual) {
  const TestFolder folder("examples/hotel");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  const double hot_m3 = hot_m3_per_day(*job, [](const Outlet& outlet) { return outlet.profile == "guest"; });
  const double gal_per_room = hot_m3 / 3.785411784e-3 / 84;
  EXPECT_GT(gal_per_room, 10);
  EXPECT_LT(gal_per_room, 14);
}

/// Nursing homes draw 18.4 gal (69.6 L) a day and bed (as above, from memory), in a building of its own kind:
/// a fifth up and down is our choice.
TEST(CareHome, DrawsAboutWhatIsUsual) {
  const TestFolder folder("examples/care-home");
  const auto job = read_job(folder.path);
  ASSERT_TRUE(job) << texts(job.error());
  const double hot_m3 = hot_m3_per_day(*job, [](const Outlet&) { return true; });
  EXPECT_NEAR(1000 * hot_m3 / 30, 69.6, 0.2 * 69.6);
}

// ---- Slips

struct Slip {
  const char* name;
  std::string sections;
  const char* says;
};
void PrintTo(const Slip& slip, std::ostream* out) { *out << slip.name; }

class SlipInTime : public testing::TestWithParam<Slip> {};

TEST_P(SlipInTime, IsTheOnlyProblemAndSaysWhere) {
  const TestFolder folder;
  append(folder, GetParam().sections);
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 1u) << texts(job.error());
  EXPECT_THAT(texts(job.error()), AllOf(HasSubstr("job.toml:1"), HasSubstr(GetParam().says)));
}

Slip in_period(const char* name, const char* old, const char* now, const char* says) {
  return {name, replaced(period, old, now), says};
}
Slip in_use(const char* name, const char* old, const char* now, const char* says) {
  return {name, replaced(exam, old, now), says};
}
Slip in_draws(const char* name, const char* old, const char* now, const char* says) {
  return {name, std::string(exam) + replaced(exam_draws, old, now), says};
}

INSTANTIATE_TEST_SUITE_P(
    Periods, SlipInTime,
    testing::Values(in_period("Group", "\"main\"", "\"mian\"",
                              "period.group: there is no control group \"mian\" (did you mean \"main\"?)"),
                    in_period("Days", "mon-fri", "mon-frei", "period.days: \"frei\" is no day of the week"),
                    in_period("Time", "22:00", "25:00", "period.from: \"25:00\" is no time of the day"),
                    in_period("NoEnd", "to = \"5 am\"\n", "", "period.to: is missing"),
                    in_period("EndOfDay", "22:00", "24:00", "period.from: must be before 24:00"),
                    in_period("Hold", "setback", "setbak",
                              "period.hold: \"setbak\" is not known; expected maintain, setback or off, or a "
                              "temperature such as \"118 °F\""),
                    in_period("HoldUnit", "setback", "118", "period.hold: \"118\" has no unit"),
                    in_period("HoldRange", "setback", "240 °F", "period.hold: must be between 0 °C"),
                    in_period("AboveCutout", "setback", "155 °F",
                              "period.hold: must be below the group's cutout"),
                    in_period("NotText", "\"22:00\"", "22", "period.from: text in quotes was expected"),
                    in_period("UnknownKey", "hold =", "held =", "did you mean \"hold\"?")),
    [](const auto& slip) { return std::string(slip.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Use, SlipInTime,
    testing::Values(
        in_use("Hours", "[0, 0,", "[0,", "use.exam.weekday: needs 24 numbers, not 23"),
        in_use("Negative", "[0, 0,", "[-1, 0,", "plain numbers of zero or more were expected"),
        in_use("Words", "[0, 0,", "[\"a\", 0,", "plain numbers of zero or more were expected"),
        in_use("Nothing",
               "weekday = [0, 0, 0, 0, 0, 0, 1, 4, 8, 10, 10, 9, 5, 8, 10, 10, 8, 4, 1, 0, 0, 0, 0, 0]", "",
               "use.exam.weekday: is missing (give 24 figures, or say what published"),
        in_use("Like", "weekday = [", "like = \"hotle\"\nweekday = [",
               "use.exam.like: \"hotle\" is not known; expected hotel, "),
        in_use("Days", "occupancy", "days = [0, 0, 0, 0, 0, 0, 0]\noccupancy",
               "use.exam.days: must not be zero throughout"),
        in_use("Occupancy", "80 %", "180 %", "use.exam.occupancy: must be between 0 and 1"),
        Slip{"Twice", std::string(exam) + exam, "the use profile \"exam\" is there twice"},
        Slip{"AList", "\n[use]\nid = \"exam\"\n", "use: a list of sections was expected"}),
    [](const auto& slip) { return std::string(slip.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Draws, SlipInTime,
    testing::Values(in_draws("Use", "\"exam\"", "\"exma\"",
                             "draws.use: there is no use profile \"exma\" (did you mean \"exam\"?)"),
                    in_draws("Fixture", "lavatory", "lavatry", "did you mean \"lavatory\"?"),
                    in_draws("Flow", "0.5 gpm", "0.5 gal", "draws.flow: \"0.5 gal\": unknown unit"),
                    in_draws("NoFlow", "0.5 gpm", "0 gpm", "draws.flow: must be more than zero"),
                    in_draws("Cold", "100 °F", "40 °F", "draws.temperature: must be above the cold water"),
                    in_draws("PerDay", "per_day = 30", "per_day = \"30\"", "draws.per_day: a plain number"),
                    Slip{"Twice", std::string(exam) + exam_draws + exam_draws,
                         "draws.fixture: the draws of \"exam\" at lavatory are there twice"}),
    [](const auto& slip) { return std::string(slip.param.name); });

}  // namespace
}  // namespace firstdraw::job
