// Readings of a portfolio into a store, a month and a building's days out of it, the bytes they take, beside
// a table of one row a reading in the same database. FIRSTDRAW_BENCH_READINGS says how many (1 000 000), on
// PostgreSQL where FIRSTDRAW_TEST_POSTGRES names a server (scripts/with-postgres), in FIRSTDRAW_BENCH_FOLDER.
// Files and operating system are warm: what is asked for was written in the same run.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <sys/resource.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <sstream>

#include "plain_rows.hpp"
#include "portfolio.hpp"
#include "store/address.hpp"
#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace firstdraw;
using store::Sample;

constexpr std::int64_t kMinutesASeries = 100'000;  // some 70 days
constexpr std::int64_t kMinutesAWrite = 44'640;    // a month's log
constexpr std::int64_t kMonthMs = kMinutesAWrite * bench::minute_ms;

std::int64_t wanted_readings() {
  const char* text = std::getenv("FIRSTDRAW_BENCH_READINGS");
  return text == nullptr ? 1'000'000 : std::atoll(text);
}
std::uint64_t series_for(std::int64_t readings) {
  return static_cast<std::uint64_t>(
      std::max<std::int64_t>(bench::series_a_building, readings / kMinutesASeries));
}

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double own_cpu_s() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
  };
  return seconds(use.ru_utime) + seconds(use.ru_stime);
}

std::string folder() {
  const char* text = std::getenv("FIRSTDRAW_BENCH_FOLDER");
  return text == nullptr ? fs::temp_directory_path().string() : text;
}
std::string file_of(const char* name) { return fmt::format("{}/firstdraw_bench_{}.db", folder(), name); }
std::string server() {
  const char* text = std::getenv("FIRSTDRAW_TEST_POSTGRES");
  return text == nullptr ? "" : text;
}
/// SOCI does not take addresses as libpq does.
std::string server_connection() { return store::parse_address(server()).value().connect; }

/// What the server on this machine has worked so far, all its processes together.
double server_cpu_s() {
  soci::session sql(soci::postgresql, server_connection());
  const soci::rowset<int> pids = (sql.prepare << "SELECT pid FROM pg_stat_activity");
  double ticks = 0;
  for (const int pid : pids) {
    std::ifstream stat(fmt::format("/proc/{}/stat", pid));
    std::string text((std::istreambuf_iterator<char>(stat)), {});
    std::istringstream words(text.substr(std::min(text.size(), text.rfind(')') + 1)));
    std::string word;
    for (int i = 0; i < 13 && words >> word; ++i)
      if (i >= 11) ticks += std::atof(word.c_str());  // utime, stime
  }
  return ticks / static_cast<double>(sysconf(_SC_CLK_TCK));
}

/// Processor time of program and server since it was made: on a busy machine the clock says little.
class Work {
 public:
  explicit Work(bool postgresql) : postgresql_(postgresql), server_s_(postgresql ? server_cpu_s() : 0) {}
  void begin() { own_begin_s_ = own_cpu_s(); }
  void end() { own_s_ += own_cpu_s() - own_begin_s_; }
  double seconds() const { return own_s_ + (postgresql_ ? server_cpu_s() - server_s_ : 0); }

 private:
  bool postgresql_;
  double server_s_, own_s_ = 0, own_begin_s_ = 0;
};
void set_cpu(benchmark::State& state, const Work& work) {
  state.counters["processor_ms"] = work.seconds() * 1000 / static_cast<double>(state.iterations());
}

void remove_file(const std::string& path) {
  for (const char* end : {"", "-wal", "-shm"}) fs::remove(path + end);
}

/// A store of the whole portfolio, filled by the first case and asked by the others.
struct Place {
  bool postgresql = false;
  std::unique_ptr<store::Store> store{};
  std::vector<std::int64_t> ids{};
  std::int64_t readings = 0;

  std::string where() const { return postgresql ? server() : file_of("store"); }
  std::int64_t bytes() const {
    soci::session sql;
    long long bytes = 0;
    if (postgresql) {
      sql.open(soci::postgresql, server_connection());
      sql << "SELECT pg_total_relation_size('reading_day') + pg_total_relation_size('series')",
          soci::into(bytes);
      return bytes;
    }
    sql.open(soci::sqlite3, "dbname=" + where());
    sql << "PRAGMA wal_checkpoint(TRUNCATE)";
    return static_cast<std::int64_t>(fs::file_size(where()));
  }
};
std::map<bool, Place> places;  // by postgresql

void set_sizes(benchmark::State& state, std::int64_t readings, std::int64_t bytes) {
  state.counters["readings"] = static_cast<double>(readings);
  state.counters["bytes"] = static_cast<double>(bytes);
  state.counters["bytes_per_reading"] = static_cast<double>(bytes) / static_cast<double>(readings);
}

void import_days(benchmark::State& state, bool postgresql) {
  Place& place = places[postgresql];
  place.postgresql = postgresql;
  if (!postgresql) remove_file(place.where());
  auto opened = store::Store::open(place.where());
  if (!opened) return state.SkipWithError(opened.error().what.c_str());
  place.store = std::make_unique<store::Store>(*std::move(opened));
  Work work(postgresql);
  for ([[maybe_unused]] auto _ : state) {
    double seconds = 0;
    for (std::uint64_t number = 0; number < series_for(wanted_readings()); ++number) {
      bench::InventedSeries series(number);
      place.ids.push_back(place.store
                              ->series(bench::InventedSeries::building(number),
                                       {0, bench::InventedSeries::name(number), series.kind().quantity, ""})
                              .value());
      for (std::int64_t from = 0; from < kMinutesASeries; from += kMinutesAWrite) {
        const auto samples = series.minutes(from, std::min(from + kMinutesAWrite, kMinutesASeries));
        const auto start = std::chrono::steady_clock::now();
        work.begin();
        const auto count = place.store->write(place.ids.back(), samples);
        work.end();
        seconds += seconds_since(start);
        if (!count) return state.SkipWithError(count.error().what.c_str());
        place.readings += count->added;
      }
    }
    state.SetIterationTime(seconds);
    state.counters["readings_per_second"] = static_cast<double>(place.readings) / seconds;
    state.counters["readings_per_processor_second"] = static_cast<double>(place.readings) / work.seconds();
  }
  set_sizes(state, place.readings, place.bytes());
}

/// Some series, each another one.
std::int64_t next_id(const Place& place, std::size_t& turn) {
  return place.ids[(turn += 37) % place.ids.size()];
}

void month_of_one_series(benchmark::State& state, bool postgresql) {
  Place& place = places[postgresql];
  if (place.ids.empty()) return state.SkipWithError("the import must run first");
  std::size_t turn = 0, count = 0;
  Work work(postgresql);
  work.begin();
  for ([[maybe_unused]] auto _ : state) {
    const std::int64_t from = bench::portfolio_start_ms + kMonthMs / 2;
    const auto samples = place.store->samples(next_id(place, turn), from, from + kMonthMs);
    if (!samples) return state.SkipWithError(samples.error().what.c_str());
    count = samples->size();
  }
  work.end();
  set_cpu(state, work);
  state.counters["samples"] = static_cast<double>(count);
}

void days_of_one_building(benchmark::State& state, bool postgresql) {
  Place& place = places[postgresql];
  if (place.ids.empty()) return state.SkipWithError("the import must run first");
  std::size_t turn = 0, rows = 0;
  Work work(postgresql);
  work.begin();
  for ([[maybe_unused]] auto _ : state) {
    rows = 0;
    turn = (turn + 370) % place.ids.size() / bench::series_a_building * bench::series_a_building;
    for (std::size_t i = 0; i < bench::series_a_building; ++i) {
      const auto days = place.store->days(place.ids[turn + i], 0, 4'000'000'000'000);
      if (!days) return state.SkipWithError(days.error().what.c_str());
      rows += days->size();
    }
  }
  work.end();
  set_cpu(state, work);
  state.counters["days"] = static_cast<double>(rows);
}

/// A poller's round: one reading of each series of a building, into the day that has begun.
void round_of_one_building(benchmark::State& state, bool postgresql) {
  Place& place = places[postgresql];
  if (place.ids.empty()) return state.SkipWithError("the import must run first");
  std::int64_t at_ms = bench::portfolio_start_ms + kMinutesASeries * bench::minute_ms;
  Work work(postgresql);
  work.begin();
  for ([[maybe_unused]] auto _ : state) {
    at_ms += bench::minute_ms;
    const Sample sample{at_ms, 50.5};
    std::vector<store::SeriesBatch> round;
    for (std::size_t i = 0; i < bench::series_a_building; ++i)
      round.push_back({place.ids[i], std::span(&sample, 1)});
    if (!place.store->write(round)) return state.SkipWithError("a round cannot be written");
  }
  work.end();
  set_cpu(state, work);
}

// --- the alternative: a row a reading ----------------------------------------------------------------------

std::map<bool, std::unique_ptr<bench::PlainRows>> plain;

void import_rows(benchmark::State& state, bool postgresql) {
  auto& rows = plain[postgresql];
  if (!postgresql) remove_file(file_of("rows"));
  rows = std::make_unique<bench::PlainRows>(postgresql, postgresql ? server_connection() : file_of("rows"));
  std::int64_t readings = 0;
  Work work(postgresql);
  for ([[maybe_unused]] auto _ : state) {
    double seconds = 0;
    for (std::uint64_t number = 0; number < series_for(wanted_readings() / 20); ++number) {
      bench::InventedSeries series(number);
      for (std::int64_t from = 0; from < kMinutesASeries; from += kMinutesAWrite) {
        const auto samples = series.minutes(from, std::min(from + kMinutesAWrite, kMinutesASeries));
        const auto start = std::chrono::steady_clock::now();
        work.begin();
        rows->write(static_cast<std::int64_t>(number), samples);
        work.end();
        seconds += seconds_since(start);
        readings += static_cast<std::int64_t>(samples.size());
      }
    }
    state.SetIterationTime(seconds);
    state.counters["readings_per_second"] = static_cast<double>(readings) / seconds;
    state.counters["readings_per_processor_second"] = static_cast<double>(readings) / work.seconds();
  }
  set_sizes(state, readings, rows->bytes());
}

void month_of_rows(benchmark::State& state, bool postgresql) {
  if (!plain[postgresql]) return state.SkipWithError("the import must run first");
  std::int64_t turn = 0;
  std::size_t count = 0;
  Work work(postgresql);
  work.begin();
  for ([[maybe_unused]] auto _ : state) {
    const std::int64_t from = bench::portfolio_start_ms + kMonthMs / 2;
    count = plain[postgresql]->samples(turn++ % bench::series_a_building, from, from + kMonthMs).size();
  }
  work.end();
  set_cpu(state, work);
  state.counters["samples"] = static_cast<double>(count);
}

void days_of_rows(benchmark::State& state, bool postgresql) {
  if (!plain[postgresql]) return state.SkipWithError("the import must run first");
  std::size_t rows = 0;
  Work work(postgresql);
  work.begin();
  for ([[maybe_unused]] auto _ : state) rows = plain[postgresql]->days(0, bench::series_a_building);
  work.end();
  set_cpu(state, work);
  state.counters["days"] = static_cast<double>(rows);
}

void add_cases(bool postgresql) {
  const std::string on = postgresql ? "postgresql" : "sqlite";
  const auto add = [&](const char* name, auto function) {
    return benchmark::RegisterBenchmark(
               fmt::format("{}/{}", name, on).c_str(),
               [function, postgresql](benchmark::State& state) { function(state, postgresql); })
        ->Unit(benchmark::kMillisecond);
  };
  add("import_days", import_days)->UseManualTime()->Iterations(1);
  add("month_of_one_series/days", month_of_one_series)->UseRealTime();
  add("days_of_one_building/days", days_of_one_building)->UseRealTime();
  add("import_rows", import_rows)->UseManualTime()->Iterations(1);
  add("month_of_one_series/rows", month_of_rows)->UseRealTime();
  add("days_of_one_building/rows", days_of_rows)->UseRealTime();
  add("round_of_one_building/days", round_of_one_building)->UseRealTime();
}

void tidy_up() {
  for (const char* name : {"store", "rows"}) remove_file(file_of(name));
}

}  // namespace

int main(int count, char** arguments) {
  benchmark::Initialize(&count, arguments);
  add_cases(false);
  if (!server().empty()) add_cases(true);
  benchmark::RunSpecifiedBenchmarks();
  places.clear();
  plain.clear();
  tidy_up();
  benchmark::Shutdown();
}
