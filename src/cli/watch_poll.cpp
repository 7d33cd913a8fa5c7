// `firstdraw watch poll`: reads the devices of a register map into the series of a job's records.
#include <fmt/format.h>
#include <signal.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>
#include <ostream>

#include "cli/job_input.hpp"
#include "cli/poll_text.hpp"
#include "cli/store_input.hpp"
#include "cli/watch_forms.hpp"
#include "job/read_files.hpp"
#include "watch/poller.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch poll riverside --map devices.toml --check-map",
     "what would be asked of which device; nothing is asked"},
    {"firstdraw watch poll riverside --map devices.toml --once --dry-run",
     "ask once and show the answers, store nothing"},
    {"firstdraw watch poll riverside --map devices.toml",
     "read and store round after round, until Ctrl-C or SIGTERM"},
};

struct PollCommand {
  std::string folder, map;
  bool check_map = false, once = false, dry_run = false;
  std::int64_t rounds = -1;
  StoreOptions store;
};

/// Ctrl-C and SIGTERM end the waiting instead of the program, so that what was read is stored first.
class StopSignals {
 public:
  StopSignals() {
    sigemptyset(&signals_);
    sigaddset(&signals_, SIGINT);
    sigaddset(&signals_, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &signals_, &before_);
  }
  ~StopSignals() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  StopSignals(const StopSignals&) = delete;
  StopSignals& operator=(const StopSignals&) = delete;

  /// False: one of them has come, at once.
  bool wait(double seconds) {
    if (came_ != 0) return false;
    timespec left{};
    left.tv_sec = static_cast<time_t>(seconds);
    left.tv_nsec = static_cast<long>((seconds - std::floor(seconds)) * 1e9);
    const int signal = sigtimedwait(&signals_, nullptr, &left);
    if (signal > 0) came_ = signal;
    return came_ == 0;
  }
  bool interrupted() const { return came_ == SIGINT; }

 private:
  sigset_t signals_{}, before_{};
  int came_ = 0;
};

/// Puts readings into the series of a book, made as they are first needed.
class StoreSink {
 public:
  StoreSink(store::Store store, std::string book, const watch::RegisterMap& map)
      : store_(std::move(store)), book_(std::move(book)) {
    for (const auto& device : map.devices)
      for (const auto& value : device.values)
        infos_[value.series] = {0, value.series, value.quantity, value.place};
  }
  std::expected<void, std::string> take(const std::vector<watch::Polled>& readings) {
    std::map<std::string, std::vector<store::Sample>> by_series;
    for (const auto& one : readings) by_series[one.series].push_back(one.sample);
    for (const auto& [name, samples] : by_series) {
      if (auto written = write(infos_.at(name), samples); !written) return written;
    }
    return {};
  }

 private:
  std::expected<void, std::string> write(store::SeriesInfo& info, const std::vector<store::Sample>& samples) {
    const auto sentence = [](const store::Failure& failure) { return failure.what + " " + failure.remedy; };
    if (info.id == 0) {
      const auto id = store_.series(book_, info);
      if (!id) return std::unexpected(sentence(id.error()));
      info.id = *id;
    }
    const auto written = store_.write(info.id, samples);
    if (!written) return std::unexpected(sentence(written.error()));
    return {};
  }

  store::Store store_;
  std::string book_;
  std::map<std::string, store::SeriesInfo> infos_;
};

std::expected<watch::RegisterMap, ExitCode> read_map(const PollCommand& command, const job::Job& job,
                                                     const Context& context) {
  job::Context problems;
  if (!std::filesystem::exists(command.map))
    return std::unexpected(
        context.fail(ExitCode::job_unreadable,
                     {{command.map, 0, 0, "", "there is no such register map", "check the path"}}));
  const auto text = job::read_text("", command.map, problems);
  if (!text) return std::unexpected(context.fail(ExitCode::job_unreadable, problems.problems));
  std::vector<std::string> circuits;
  for (const auto& circuit : plan::make_plan(job, plan::Options{0, 1, 1}).circuits)
    circuits.push_back(circuit.id);
  auto map = watch::read_register_map(*text, command.map, job, circuits);
  if (!map) return std::unexpected(context.fail(ExitCode::job_unreadable, map.error()));
  return *std::move(map);
}

std::int64_t now_ms() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
}

watch::PollOptions poll_options(const PollCommand& command, StopSignals& signals, const Context& context) {
  watch::PollOptions options;
  options.now_ms = now_ms;
  options.wait = [&signals](double seconds) { return signals.wait(seconds); };
  options.event = [&context](const watch::PollEvent& event) {
    context.err() << line_of(event) << '\n' << std::flush;
  };
  options.rounds = command.once ? 1 : command.rounds;
  options.first_at_once = command.once;
  return options;
}

ExitCode code_of(const PollAnswer& answer, const StopSignals& signals) {
  if (answer.counts.dropped > 0) return ExitCode::cannot_write;
  if (signals.interrupted()) return ExitCode::interrupted;
  return answer.counts.rounds > 0 && answer.counts.readings == 0 ? ExitCode::job_unreadable : ExitCode::ok;
}

ExitCode poll(const PollCommand& command, const watch::RegisterMap& map, std::optional<StoreSink> sink,
              std::string stored_in, const Context& context, units::System system) {
  PollAnswer answer;
  answer.stored_in = std::move(stored_in);
  StopSignals signals;
  auto options = poll_options(command, signals, context);
  options.sink = [&](const std::vector<watch::Polled>& readings) -> std::expected<void, std::string> {
    for (const auto& one : readings) answer.latest[one.series] = one.sample;
    if (sink) return sink->take(readings);
    return {};
  };
  answer.counts = watch::poll(map, options);
  if (context.json()) {
    context.print(poll_json(map, answer));
  } else {
    Page page = context.page();
    add_poll(page, map, answer, system);
    context.print(page);
  }
  return code_of(answer, signals);
}

ExitCode check(const watch::RegisterMap& map, const Context& context) {
  if (context.json()) {
    context.print(questions_json(map));
  } else {
    Page page = context.page();
    add_questions(page, map);
    context.print(page);
  }
  return ExitCode::ok;
}

ExitCode run(const PollCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  const auto map = read_map(command, *job, context);
  if (!map) return map.error();
  if (command.check_map) return check(*map, context);
  if (command.dry_run) return poll(command, *map, std::nullopt, "", context, job->units);
  auto opened = open_store_or_complain(command.store, command.folder, true, context);
  if (!opened) return opened.error();
  const std::string where = opened->where();
  StoreSink sink(*std::move(opened), book_of(command.store, command.folder), *map);
  return poll(command, *map, std::move(sink), where, context, job->units);
}

}  // namespace

void add_watch_poll(Program& program, CLI::App* watch) {
  CLI::App* command = program.add_command(
      watch, "poll", "read devices over Modbus into the job's records; nothing is ever written to them",
      examples);
  const auto poll = std::make_shared<PollCommand>();
  add_job_argument(command, poll->folder);
  command->add_option("--map", poll->map, "register map: which device, which registers, what they mean")
      ->type_name("FILE")
      ->required();
  command->add_flag("--check-map", poll->check_map, "show what would be asked, and ask nothing");
  auto* once = command->add_flag("--once", poll->once, "one round, now");
  command->add_option("--rounds", poll->rounds, "stop after so many rounds; until Ctrl-C if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 1'000'000'000))
      ->excludes(once);
  command->add_flag("--dry-run", poll->dry_run, "ask, but store nothing");
  add_store_options(command, poll->store);
  program.when_called(command, [poll](Context& context) { return run(*poll, context); });
}

}  // namespace firstdraw::cli
