// What each kind of long work does.
#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "paper/pack.hpp"
#include "plan/checks.hpp"
#include "serve/house.hpp"
#include "serve/temporary_folder.hpp"
#include "serve/zip.hpp"
#include "settings/inputs.hpp"

namespace firstdraw::serve {
namespace {

using forecast::Forecast;
using settings::WeekAnswer;

constexpr int samples_of_a_plan = 2000;
constexpr double record_every_s = 600;

forecast::ForecastOptions options_of(const NewTask& asked, const Looked& looked, int threads) {
  forecast::ForecastOptions options;
  options.days = asked.days;
  options.seed = asked.seed;
  options.threads = threads;
  options.record_every_s = record_every_s;
  for (const std::string& text : asked.faults)
    if (const auto fault = forecast::read_fault(text, looked.job(), looked.plan()))
      options.faults.push_back(*fault);
  return options;
}

/// Shows what is recorded so far, at most five times a second, and all of it as soon as it is there: what is
/// compared and advised takes longer.
void show_as_it_grows(Task& task, const job::Job& job, forecast::ForecastOptions& options) {
  options.look = [&task, &job, shown_at = std::chrono::steady_clock::time_point{}](
                     const draw::Scene& scene, const draw::Records& so_far) mutable {
    const auto now = std::chrono::steady_clock::now();
    if (so_far.time_s.empty() || now - shown_at < std::chrono::milliseconds{200}) return;
    shown_at = now;
    task.show(series_of(job, scene, so_far, record_every_s));
  };
  options.each_member = [&task, &job](std::size_t member, const draw::Scene& scene,
                                      const draw::Result& lived) {
    if (member == 0) task.show(series_of(job, scene, lived.records, record_every_s));
  };
}

void simulate(House& house, Task& task, const Looked& looked) {
  forecast::ForecastOptions options = options_of(task.asked, looked, house.options.threads);
  show_as_it_grows(task, looked.job(), options);
  constexpr double lived_frac = 0.75;  // the rest: one more week, where the sensors are to be tried elsewhere
  options.progress = [&task](double done) { return task.step("simulating", lived_frac * done); };
  options.advising = [&task](double done) {
    return task.step("trying the sensors elsewhere", lived_frac + (1 - lived_frac) * done);
  };
  auto forecast = std::make_shared<Forecast>(forecast::forecast(looked.job(), looked.plan(), options));
  if (forecast->stopped && !forecast->records.time_s.empty())
    task.show(series_of(looked.job(), forecast->scene, forecast->records, record_every_s));
  nlohmann::json json = forecast::to_json(looked.job(), *forecast);
  json.erase("series");
  TaskResult result;
  result.json = text_of(json);
  result.forecast = forecast;
  const bool stopped = forecast->stopped || task.cancelled();
  task.finish(std::move(result), stopped);
}

std::string in_a_sentence(const std::vector<job::Diagnostic>& problems) {
  std::string text;
  for (const job::Diagnostic& problem : problems) text += (text.empty() ? "" : "; ") + problem.text();
  return text;
}

/// The week of a planned job; null after the task was told why not.
std::shared_ptr<WeekAnswer> week_of(House& house, Task& task, const job::Job& job, const plan::Plan& plan,
                                    double from_frac, double to_frac) {
  const auto inputs = settings::read_inputs(job);
  if (!inputs) {
    task.fail(in_a_sentence(inputs.error()));
    return nullptr;
  }
  settings::WeekOptions options;
  options.proof.seed = task.asked.seed;
  options.proof.threads = options.search.threads = options.search.effort.threads = house.options.threads;
  options.progress = [&](const std::string& stage, double done) {
    return task.step(stage, from_frac + (to_frac - from_frac) * done);
  };
  return std::make_shared<WeekAnswer>(settings::make_week(job, plan, *inputs, options));
}

/// Only the season that was asked for.
bool keep_season(WeekAnswer& week, const std::string& name, Task& task) {
  if (name.empty() || week.seasons.empty()) return true;
  std::string known;
  for (const settings::SeasonAnswer& season : week.seasons)
    known += (known.empty() ? "" : ", ") + season.season.name;
  std::erase_if(week.seasons, [&](const auto& season) { return season.season.name != name; });
  if (!week.seasons.empty()) return true;
  task.fail(fmt::format("there is no season \"{}\", only {}", name, known));
  return false;
}

void find_week(House& house, Task& task, OpenJob& job, const Looked& looked) {
  const auto planned = job.look(looked.snapshot, {{}, samples_of_a_plan});
  if (!planned) return task.fail(in_a_sentence(planned.error().problems));
  const auto week = week_of(house, task, planned->job(), planned->plan(), 0, 1);
  if (!week || !keep_season(*week, task.asked.season, task)) return;
  TaskResult result;
  result.json = text_of(settings::to_json(planned->job(), *week));
  result.week = week;
  const bool stopped = week->stopped;
  task.finish(std::move(result), stopped);
}

/// What goes into a pack beside the plan.
struct Beside {
  std::shared_ptr<const Forecast> forecast;
  std::shared_ptr<const WeekAnswer> week;
  std::optional<paper::FieldBook> field;
};

bool wants_week(const Task& task, const job::Job& job) {
  return task.asked.week.value_or(!job.tariff.zone.empty());
}

/// Simulated and searched, or taken from what was done for this revision already. False: stopped or failed.
bool gather(House& house, Task& task, const Planned& planned, Beside& beside) {
  const bool with_week = wants_week(task, planned.job);
  const double simulated_frac = with_week ? 0.15 : 0.7;
  const auto simulated = house.tasks.latest(task.job, task.revision, "simulate");
  if (simulated && simulated->forecast && simulated->forecast->options.faults.empty() &&
      simulated->forecast->options.days == task.asked.days)
    beside.forecast = simulated->forecast;
  if (!beside.forecast) {
    forecast::ForecastOptions options;
    options.days = task.asked.days;
    options.seed = task.asked.seed;
    options.threads = house.options.threads;
    options.progress = [&](double done) { return task.step("simulating", simulated_frac * done); };
    auto forecast = std::make_shared<Forecast>(forecast::forecast(planned.job, planned.plan, options));
    beside.forecast = forecast;
    if (forecast->stopped) return task.fail("it was stopped"), false;
  }
  if (!with_week) return true;
  const auto searched = house.tasks.latest(task.job, task.revision, "week");
  if (searched && searched->week) beside.week = searched->week;
  if (!beside.week) beside.week = week_of(house, task, planned.job, planned.plan, simulated_frac, 0.8);
  if (beside.week && beside.week->stopped) return task.fail("it was stopped"), false;
  return beside.week != nullptr;
}

/// The job with what is accepted on record, planned, and what was measured.
bool plan_recorded(House& house, Task& task, OpenJob& job, const Looked& looked, Planned& planned,
                   Beside& beside) {
  auto recorded = house.books.recorded(job);
  if (!recorded) return task.fail(in_a_sentence(recorded.error().problems)), false;
  planned.job = looked.job();
  if (*recorded) paper::accept_as_recorded((*recorded)->records, planned.job);
  plan::Options options = looked.plan().options;
  options.samples = samples_of_a_plan;
  planned.plan = plan::make_plan(planned.job, options);
  if (!*recorded) return true;
  auto field = paper::field_book_of(**std::move(recorded), planned.job, planned.plan);
  if (!field) return task.fail(in_a_sentence(field.error())), false;
  beside.field = *std::move(field);
  return true;
}

void write_pack(House& house, Task& task, OpenJob& job, const Looked& looked) {
  Planned planned;
  Beside beside;
  if (!plan_recorded(house, task, job, looked, planned, beside) || !gather(house, task, planned, beside))
    return;
  const TemporaryFolder folder;
  const auto told = [&task](const std::string& stage, double done) { task.step(stage, 0.8 + 0.2 * done); };
  const auto files =
      paper::write_pack(planned.job, planned.plan, folder.path(), told,
                        {beside.forecast.get(), beside.week.get(), beside.field ? &*beside.field : nullptr});
  if (!files) return task.fail(in_a_sentence(files.error()));
  auto bytes = folder.files();
  if (!bytes) return task.fail(bytes.error());
  TaskResult result;
  result.files = *std::move(bytes);
  const bool stopped = task.cancelled();
  task.finish(std::move(result), stopped);
}

}  // namespace

void work_on(House& house, Task& task, OpenJob& job, const Looked& looked) {
  if (task.asked.what == "simulate") return simulate(house, task, looked);
  if (task.asked.what == "week") return find_week(house, task, job, looked);
  write_pack(house, task, job, looked);
}

}  // namespace firstdraw::serve
