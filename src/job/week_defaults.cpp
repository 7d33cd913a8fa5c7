#include "job/week_defaults.hpp"

#include "job/describe_week.hpp"
#include "job/toml_sections.hpp"

namespace firstdraw::job {

std::vector<Assumption> week_defaults(const Job& job) {
  const toml::table nothing;
  Context context;
  context.system = job.units;
  ControllerLimits controller;
  WeekWishes usual, week;
  usual.comfort = job.week.comfort;
  if (job.controller == usual_controller(job.units))
    section(nothing, "controller", context,
            [&](TomlReader& reader) { describe(reader, controller, job.units); });
  if (job.week == usual)
    section(nothing, "week", context, [&](TomlReader& reader) { describe(reader, week); });
  std::erase_if(context.assumptions, [&](const Assumption& made) {
    return std::ranges::find(job.assumptions, made.field, &Assumption::field) != job.assumptions.end();
  });
  return std::move(context.assumptions);
}

}  // namespace firstdraw::job
