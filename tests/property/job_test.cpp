// Job folders of invented buildings and spoilt files: what is written comes back, and nothing that is read
// can crash.
#include "job/folder.hpp"
#include "places.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <rapidcheck/gtest.h>

#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <tuple>

#include "generate_job.hpp"

namespace firstdraw {
namespace {

namespace fs = std::filesystem;
using job::Job;

fs::path scratch(const std::string& name) {
  return fs::path(testing::TempDir()) / ("firstdraw_property_" + std::to_string(getpid()) + "_" + name);
}

std::string texts(const std::vector<job::Diagnostic>& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.text() + "\n";
  return out;
}

/// Written and read again, the job is the same, doubles to the last bit; empty when so.
std::string trouble_coming_back(const Job& job, const std::string& name) {
  const fs::path folder = scratch(name);
  fs::remove_all(folder);
  if (const auto written = write_job(job, folder); !written) return texts(written.error());
  const auto again = job::read_job(folder);
  fs::remove_all(folder);
  if (!again) return texts(again.error());
  return *again == job ? "" : "the job that came back differs";
}

Job small_building() { return bench::generate_job(3, 20, 1); }

double any_between(double low, double high) {
  const double share = static_cast<double>(*rc::gen::inRange(0, 1 << 30)) / (1 << 30);
  return low + (high - low) * share;
}

double any_second() { return *rc::gen::inRange(0, 86400); }

std::vector<double> any_figures(int count) {
  std::vector<double> figures;
  for (int i = 0; i < count; ++i) figures.push_back(any_between(0.001, 20));
  return figures;
}

job::Period any_period(const std::string& group) {
  using Setting = job::Period::Setting;
  job::Period period{
      group, static_cast<std::uint8_t>(*rc::gen::inRange(1, 128)), any_second(), any_second(),
      *rc::gen::element(Setting::maintain, Setting::setback, Setting::off, Setting::temperature)};
  if (period.setting == Setting::temperature) period.hold_c = any_between(0, 65);
  return period;
}

job::UseProfile any_use(const std::string& id) {
  return {id, "", any_figures(24), any_figures(24), any_figures(7), any_between(0, 1)};
}

/// Everything that the network in time adds to a job.
void live_through_the_week(Job& job) {
  job.supply.tank_m3 = any_between(0.01, 10);
  job.supply.heater_w = any_between(1, 1e6);
  job.supply.tank_differential_k = any_between(0.1, 20);
  for (auto& group : job.groups) {
    group.method = *rc::gen::element(job::ControlMethod::thermostat, job::ControlMethod::pulsed);
    group.when_lost =
        *rc::gen::element(job::SensorLost::off, job::SensorLost::on, job::SensorLost::entered_ambient);
    group.differential_k = any_between(0.01, 10);
    group.cycle_s = any_between(1, 7200);
    group.sensor_lag_s = any_between(0, 600);
    group.min_on_s = any_between(0, 600);
    group.min_off_s = *rc::gen::element(0.0, 45.0);
    job.periods.push_back(any_period(group.id));
  }
  job.profiles = {any_use("guest"), any_use("staff of the night")};
  job.fixture_uses = {
      {"guest", "shower", any_between(0, 100), any_between(1, 1e4), any_between(1e-6, 1e-2), 41.5},
      {"guest", "bath", 0, 600, any_between(1e-6, 1e-2), std::nullopt}};
  for (auto& outlet : job.outlets) {
    outlet.profile = *rc::gen::element<std::string>("", "guest", "staff of the night");
    if (!*rc::gen::arbitrary<bool>()) continue;
    outlet.runout_insulation = "elastomeric";
    outlet.runout_thickness_m = any_between(0.001, 0.1);
  }
}

job::ControllerLimits any_controller() {
  using Limits = job::ControllerLimits;
  Limits limits;
  limits.clock = *rc::gen::element(Limits::Clock::none, Limits::Clock::on_off, Limits::Clock::set_points);
  limits.programs = *rc::gen::element(Limits::Programs::one, Limits::Programs::workdays_weekend,
                                      Limits::Programs::each_day);
  limits.periods_a_day = *rc::gen::inRange(1, 13);
  limits.set_points = *rc::gen::inRange(1, 13);
  limits.step_k = any_between(0.01, 10);
  limits.least_setback_k = any_between(0, 20);
  limits.clock_step_s = *rc::gen::element(300.0, 720.0, 900.0, 1800.0, 3600.0);
  limits.lowest_c = any_between(0, 50);
  limits.highest_c = any_between(51, 100);
  limits.off = limits.clock == Limits::Clock::on_off || *rc::gen::arbitrary<bool>();
  limits.current = *rc::gen::arbitrary<bool>();
  return limits;
}

/// Prices, seasons, the controller and the wishes of a week of settings.
void ask_for_a_week(Job& job) {
  job.tariff = {"Any/Zone",
                *rc::gen::element(0, 1970, 2026, 2037),
                "",
                "",
                {"2026-01-01"},
                *rc::gen::arbitrary<bool>(),
                {},
                *rc::gen::inRange(1, 37),
                any_between(0, 1e6),
                {{"wet", 4, 30}, {"dry; \"hot\"", 2, 28}}};
  if (job.tariff.year != 2026) job.tariff.holidays.clear();
  if (*rc::gen::arbitrary<bool>()) {
    job.tariff.file = "prices.csv";
    job.tariff.text = *rc::gen::element<std::string>("any\r\ntext at all", std::string("a\0b", 3), "\n");
  }
  if (*rc::gen::arbitrary<bool>()) job.tariff.demand_window_s = *rc::gen::element(60.0, 450.0, 3600.0);
  if (*rc::gen::arbitrary<bool>()) job.controller = any_controller();
  job.week.confidence_frac = any_between(0.5, 0.99);
  if (*rc::gen::arbitrary<bool>()) job.week.band_h = any_between(0.001, 168);
  job.week.hot_hold = *rc::gen::arbitrary<bool>();
  job.week.hot_hold_c = any_between(50, 80);
  job.week.hot_hold_log = any_between(0.1, 12);
  job.week.false_alarms_per_year = any_between(0, 365);
  job.week.catch_within_s = any_between(1, 1e6);
  job.week.comfort = {{"shower", any_between(0.01, 1), any_between(0.1, 600)}, {"*", 0.9, 30}};
  for (auto& space : job.spaces) space.use = *rc::gen::element<std::string>("", "office", "hotel");
}

std::string any_text() {
  // Trimmed by the CSV reader, hence no blanks at the ends.
  static const std::vector<std::string> parts{"a", "Z", "7", "\"", ",", ";", "#",
                                              "é", "°", "½", "\\", "'", "="};
  std::string text = "x";
  for (const auto index :
       *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, static_cast<int>(parts.size())))) {
    text += parts[static_cast<std::size_t>(index)];
  }
  return text;
}

RC_GTEST_PROP(JobFolder, GeneratedBuildingsComeBack, ()) {
  const int levels = *rc::gen::inRange(1, 12), runs = *rc::gen::inRange(2, 300);
  const auto seed = *rc::gen::arbitrary<std::uint64_t>();
  RC_ASSERT(trouble_coming_back(bench::generate_job(levels, runs, seed), "generated") == "");
}

RC_GTEST_PROP(JobFolder, AnyQuantitiesComeBack, ()) {
  Job job = small_building();
  job.units = *rc::gen::element(units::System::us, units::System::metric);
  job.supply.stored_c = any_between(60, 100);
  job.supply.delivered_c = any_between(50, 60);
  job.requirements.margin_frac = any_between(0, 1);
  job.requirements.start_c = any_between(-60, 100);
  job.economics.energy_price_per_kwh = any_between(0, 3);
  job.economics.cable_labour_per_m = any_between(0, 100);
  job.economics.insulation_price_per_m3 = any_between(0, 1e5);
  job.design.thicknesses_m = {any_between(0.001, 0.02), any_between(0.02, 0.2)};
  for (auto& space : job.spaces) space.air = {any_between(-60, 0), any_between(0, 20), any_between(20, 100)};
  for (auto& panel : job.panels) panel.voltage_v = any_between(1, 480);
  for (auto& group : job.groups) {
    group.sensor_angle_rad = any_between(0, 3.1415926);
    group.maintain_c = any_between(45, 60);
    group.setback_c = any_between(0, 45);
    group.hold_tolerance_k = any_between(0, 10);
  }
  for (auto& run : job.runs) {
    run.length_m = any_between(0, 1000);
    run.emissivity = any_between(0.01, 1);
    if (*rc::gen::arbitrary<bool>())
      run.air = {any_between(-60, 0), any_between(0, 20), any_between(20, 100)};
    if (*rc::gen::arbitrary<bool>()) run.thickness_m = any_between(0.001, 0.2);
    if (*rc::gen::arbitrary<bool>()) run.passes = *rc::gen::inRange(1, 6);
    if (*rc::gen::arbitrary<bool>()) run.cable = "lt-12";
  }
  for (auto& sheet : job.cables) {
    sheet.bus_loop_ohm_per_m = any_between(0.001, 0.1);
    sheet.capacitance_f_per_m = any_between(1e-12, 1e-8);
    if (*rc::gen::arbitrary<bool>()) sheet.price_per_m = std::numeric_limits<double>::quiet_NaN();
  }
  RC_ASSERT(trouble_coming_back(job, "quantities") == "");
}

RC_GTEST_PROP(JobFolder, AnyWeekComesBack, ()) {
  Job job = small_building();
  job.units = *rc::gen::element(units::System::us, units::System::metric);
  live_through_the_week(job);
  RC_ASSERT(trouble_coming_back(job, "week") == "");
}

RC_GTEST_PROP(JobFolder, AnyWishesForAWeekComeBack, ()) {
  Job job = small_building();
  job.units = *rc::gen::element(units::System::us, units::System::metric);
  ask_for_a_week(job);
  RC_ASSERT(trouble_coming_back(job, "wishes") == "");
}

RC_GTEST_PROP(JobFolder, AnyTextsComeBack, ()) {
  Job job = small_building();
  job::Site& site = job.site;
  for (std::string* text : {&site.name, &site.address, &site.owner, &site.contractor, &site.prepared_by,
                            &site.project_number, &site.revision, &site.date, &site.notes})
    *text = any_text();
  site.page =
      *rc::gen::element<std::string>("", "https://pipes.example/j/hotel", "http://10.0.0.7:8080/j/a%20b");
  for (auto& run : job.runs) run.note = any_text();
  for (auto& outlet : job.outlets) outlet.room = any_text();
  job.accepted = {{any_text(), any_text(), any_text(), any_text(), any_text()}};
  job.assumptions = {{any_text(), any_text(), any_text()}};
  RC_ASSERT(trouble_coming_back(job, "texts") == "");
}

TEST(JobFolder, EveryPipeAndInsulationComesBack) {
  Job job = small_building();
  const job::Run sample = job.runs.back();
  const auto add = [&](const physics::Pipe& pipe, const std::string& insulation) {
    job::Run run = sample;
    run.id = "X" + std::to_string(job.runs.size());
    run.pipe = pipe;
    run.insulation = insulation;
    job.runs.push_back(run);
  };
  for (const auto& pipe : physics::all_pipes()) add(pipe, sample.insulation);
  for (const auto& insulation : physics::all_insulations()) add(sample.pipe, insulation.id);
  EXPECT_EQ(trouble_coming_back(job, "pipes"), "");
}

/// Written files, compared as text: a second writing must not differ from the first.
TEST(JobFolder, SameBuildingSameBytes) {
  std::map<std::string, std::string> texts_of[2];
  for (auto& files : texts_of) {
    const fs::path folder = scratch("bytes");
    fs::remove_all(folder);
    ASSERT_TRUE(write_job(bench::generate_job(5, 200, 42), folder));
    for (const auto& item : fs::recursive_directory_iterator(folder)) {
      if (!item.is_regular_file()) continue;
      std::ifstream stream(item.path(), std::ios::binary);
      files[item.path().string()] = {std::istreambuf_iterator<char>(stream), {}};
    }
    fs::remove_all(folder);
  }
  EXPECT_EQ(texts_of[0].size(), 6u);
  EXPECT_EQ(texts_of[0], texts_of[1]);
}

RC_GTEST_PROP(GeneratedJob, IsATreeWhosePipesNeverGrowDownstream, ()) {
  const int levels = *rc::gen::inRange(1, 40), runs = *rc::gen::inRange(2, 2000);
  const Job job = bench::generate_job(levels, runs, *rc::gen::arbitrary<std::uint64_t>());
  RC_ASSERT(static_cast<int>(job.runs.size()) == runs);
  std::map<std::string, double> bore_m{{job.supply.node, 1.0}};
  std::set<std::string> ids;
  for (const auto& run : job.runs) {
    RC_ASSERT(ids.insert(run.id).second);
    const auto upstream = bore_m.find(run.from);
    RC_ASSERT(upstream != bore_m.end());  // parents come first
    RC_ASSERT(run.pipe.inner_diameter_m() <= upstream->second);
    RC_ASSERT(bore_m.emplace(run.to, run.pipe.inner_diameter_m()).second);  // every node is fed once
    RC_ASSERT(run.length_m > 0);
  }
  for (const auto& outlet : job.outlets) RC_ASSERT(bore_m.contains(outlet.node));
}

// ---- Spoilt files
// -----------------------------------------------------------------------------------------------

/// Deterministic and the same everywhere; the seed is in the test's name when it fails.
class Spoiler {
 public:
  explicit Spoiler(std::uint64_t seed) : state_(seed * 2654435761u + 88172645463325252u) {}

  std::size_t below(std::size_t count) {
    state_ ^= state_ << 13;
    state_ ^= state_ >> 7;
    state_ ^= state_ << 17;
    return count == 0 ? 0 : static_cast<std::size_t>(state_ % count);
  }
  std::string spoil(std::string text) {
    for (std::size_t slips = 1 + below(4); slips-- > 0;) one(text);
    return text;
  }

 private:
  void one(std::string& text) {
    const std::size_t at = below(text.size() + 1);
    switch (below(8)) {
      case 0:
        text.resize(at);  // cut off
        break;
      case 1:
        if (at < text.size()) text[at] = static_cast<char>(below(256));
        break;
      case 2:
        text.erase(at, 1 + below(20));
        break;
      case 3:
        text.insert(at, token());
        break;
      case 4:
        text.insert(at, text.substr(below(text.size() + 1), below(200)));  // a piece of itself
        break;
      case 5:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
        break;
      case 6:
        drop_line(text, at);
        break;
      default:
        replace_number(text, at);
    }
  }
  std::string token() {
    static const std::vector<std::string> tokens{"\"",
                                                 ",",
                                                 ";",
                                                 "\n",
                                                 "\r\n",
                                                 "[[",
                                                 "]]",
                                                 "[",
                                                 "{",
                                                 "}",
                                                 "=",
                                                 "#",
                                                 "1e309",
                                                 "-1e308",
                                                 "nan",
                                                 "inf",
                                                 "1/0",
                                                 "0/0",
                                                 "99999999999999999999",
                                                 "°",
                                                 "\xff",
                                                 std::string(1, '\0'),
                                                 "\xef\xbb\xbf",
                                                 "''",
                                                 "\"\"\"",
                                                 "-",
                                                 "%",
                                                 "[[group]]\n",
                                                 "per",
                                                 "\\u0000",
                                                 "1-1/2 in",
                                                 "x",
                                                 "true",
                                                 "2026-01-01",
                                                 "0x7fffffffffffffff"};
    return tokens[below(tokens.size())];
  }
  static void drop_line(std::string& text, std::size_t at) {
    const auto from = text.rfind('\n', at == 0 ? 0 : at - 1);
    const auto to = text.find('\n', at);
    if (from != std::string::npos && to != std::string::npos && to > from) text.erase(from, to - from);
  }
  void replace_number(std::string& text, std::size_t at) {
    const auto from = text.find_first_of("0123456789", at);
    if (from == std::string::npos) return;
    auto to = text.find_first_not_of("0123456789.", from);
    if (to == std::string::npos) to = text.size();
    text.replace(from, to - from, token());
  }

  std::uint64_t state_;
};

std::map<std::string, std::string> files_of(const fs::path& folder) {
  std::map<std::string, std::string> files;
  for (const auto& item : fs::recursive_directory_iterator(folder)) {
    if (!item.is_regular_file()) continue;
    std::ifstream stream(item.path(), std::ios::binary);
    files[fs::relative(item.path(), folder).string()] = {std::istreambuf_iterator<char>(stream), {}};
  }
  return files;
}

void put(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

/// Reads the example again and again, each time with one or two files spoilt: there must be problems, each
/// with a file and a message, or a job, which must then come back when it is written.
void read_spoilt(const std::string& example, int begin, int times) {
  const auto good = files_of(fs::path(places::sources()) / "examples" / example);
  const fs::path folder = scratch("spoilt_" + example + "_" + std::to_string(begin));
  fs::remove_all(folder);
  fs::create_directories(folder / "catalog");
  for (const auto& [name, text] : good) put(folder / name, text);
  int read_well = 0;
  for (int seed = begin; seed < begin + times; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Spoiler spoiler(static_cast<std::uint64_t>(seed));
    std::set<std::string> spoilt;
    for (std::size_t count = 1 + spoiler.below(2); count-- > 0;) {
      const auto file = std::next(good.begin(), static_cast<std::ptrdiff_t>(spoiler.below(good.size())));
      put(folder / file->first, spoiler.spoil(file->second));
      spoilt.insert(file->first);
    }
    std::expected<Job, std::vector<job::Diagnostic>> read;
    ASSERT_NO_THROW(read = job::read_job(folder));
    if (read) {
      ++read_well;
      if (seed % 8 == 0) {
        ASSERT_EQ(trouble_coming_back(*read, "spoilt"), "");
      }
    } else {
      ASSERT_FALSE(read.error().empty());
      for (const auto& problem : read.error()) {
        ASSERT_FALSE(problem.file.empty()) << problem.text();
        ASSERT_FALSE(problem.message.empty()) << problem.text();
        ASSERT_GE(problem.line, 0);
      }
    }
    for (const auto& name : spoilt) put(folder / name, good.at(name));
  }
  fs::remove_all(folder);
  // Some slips fall on comments and notes: if none ever did, or all did, the spoiler would test nothing.
  EXPECT_GT(read_well, times / 50);
  EXPECT_LT(read_well, times * 3 / 4);
}

// 2500, 1000 and 300 spoilt folders in parts of their own, so that they run side by side.
class SpoiltFiles : public testing::TestWithParam<std::tuple<std::string, int, int>> {};

std::string first_of(const testing::TestParamInfo<SpoiltFiles::ParamType>& test) {
  return "From" + std::to_string(std::get<1>(test.param));
}

TEST_P(SpoiltFiles, NeverCrash) {
  const auto& [example, begin, times] = GetParam();
  read_spoilt(example, begin, times);
}
INSTANTIATE_TEST_SUITE_P(OfTheClinic, SpoiltFiles,
                         testing::Combine(testing::Values("clinic"), testing::Range(0, 2500, 500),
                                          testing::Values(500)),
                         first_of);
INSTANTIATE_TEST_SUITE_P(OfTheCareHome, SpoiltFiles,
                         testing::Combine(testing::Values("care-home"), testing::Range(0, 1000, 500),
                                          testing::Values(500)),
                         first_of);
INSTANTIATE_TEST_SUITE_P(OfTheHotel, SpoiltFiles,
                         testing::Combine(testing::Values("hotel"), testing::Values(0), testing::Values(300)),
                         first_of);

}  // namespace
}  // namespace firstdraw
