#include "cli/week_input.hpp"

#include "cli/interrupt.hpp"

namespace firstdraw::cli {

bool has_tariff(const job::Job& job) {
  const job::Tariff& tariff = job.tariff;
  return !tariff.zone.empty() || tariff.year != 0 || !tariff.file.empty() || !tariff.holidays.empty() ||
         !tariff.seasons.empty();
}

std::expected<settings::Inputs, ExitCode> read_inputs_or_complain(const job::Job& job,
                                                                  const Context& context) {
  auto inputs = settings::read_inputs(job);
  if (!inputs) return std::unexpected(context.fail(ExitCode::job_unreadable, inputs.error()));
  return *std::move(inputs);
}

settings::WeekAnswer make_week_shown(const job::Job& job, const plan::Plan& plan,
                                     const settings::Inputs& inputs, settings::WeekOptions options,
                                     ProgressLine& progress) {
  const Interrupt interrupt;
  options.progress = [&progress](const std::string& stage, double done_frac) {
    progress.update(stage, done_frac);
    return !Interrupt::asked();
  };
  return settings::make_week(job, plan, inputs, options);
}

}  // namespace firstdraw::cli
