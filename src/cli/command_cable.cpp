// `firstdraw cable`: what a heating cable gives and draws at one pipe temperature and voltage.
#include <fmt/format.h>

#include <memory>

#include "cli/cable_answer.hpp"
#include "cli/program.hpp"
#include "cli/question.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;
using units::System;

const std::vector<Example> examples{
    {"firstdraw cable riverside:my-cable --pipe-temp 115F --voltage 208V",
     "a data sheet of a job, by its id"},
    {"firstdraw cable sheet.toml --pipe-temp 115F --voltage 208V --length 100ft",
     "a data sheet by itself; also what 100 ft of it draw, working and from cold"},
    {"firstdraw cable sheet.toml --pipe-temp 46C --voltage 230V --start-temp 10C --json",
     "as JSON: power_w_per_m, current_a_per_m, and the start from 10 °C"},
};

std::string both(double value_si, Kind kind, System first) {
  const System second = first == System::us ? System::metric : System::us;
  return fmt::format("{} ({})", units::show(value_si, kind, first), units::show(value_si, kind, second));
}

std::string amperes(double per_m, const std::optional<double>& length_m, System system) {
  std::string text = both(per_m, Kind::current_per_length, system);
  if (length_m) text += fmt::format(", {} in all", units::show(per_m * *length_m, Kind::current, system));
  return text;
}

std::string longest(const std::vector<BreakerLength>& lengths, System system) {
  std::string text;
  for (const auto& [breaker_a, max_length_m] : lengths) {
    text += fmt::format("{}{:g} A: {}", text.empty() ? "" : ", ", breaker_a,
                        units::show(max_length_m, Kind::length, system));
  }
  return text.empty() ? "the data sheet gives none for this voltage and start" : text;
}

std::string gives(const CableAnswer& answer, System system) {
  const double power_w_per_m = answer.output.power_w_per_m;
  std::string text = both(power_w_per_m, Kind::power_per_length, system);
  if (answer.length_m) {
    text += fmt::format(", {} in all", units::show(power_w_per_m * *answer.length_m, Kind::power, system));
  }
  return text + fmt::format(", ±{:.0f} %", 100 * answer.sheet.output_tolerance_frac);
}

std::vector<std::pair<std::string, std::string>> facts_of(const CableAnswer& answer, System system) {
  const physics::CableSheet& sheet = answer.sheet;
  std::vector<std::pair<std::string, std::string>> facts{
      {"Cable", fmt::format("{} ({}, {})", sheet.id, sheet.name, sheet.maker)},
      {"At", fmt::format("pipe {}, {:g} V (rated {:g} V)", both(answer.pipe_c, Kind::temperature, system),
                         answer.voltage_v, sheet.rated_voltage_v)},
      {"Gives", gives(answer, system)},
      {"Draws", amperes(answer.current_a_per_m, answer.length_m, system)},
      {"From cold", fmt::format("pipe {}{}", both(answer.start_c, Kind::temperature, system),
                                answer.start_assumed ? " (assumed; --start-temp changes it)" : "")},
      {"  at once", amperes(answer.start.peak_a_per_m, answer.length_m, system)},
      {"  after 5 min", amperes(answer.start.settled_a_per_m, answer.length_m, system)},
      {"Longest circuit", longest(answer.max_lengths, system)},
      {"Source", sheet.source},
  };
  if (answer.length_m) {
    facts.insert(facts.begin() + 2, {"Length", both(*answer.length_m, Kind::length, system)});
  }
  return facts;
}

Page show(const CableAnswer& answer, Page page, System system) {
  page.facts(facts_of(answer, system));
  if (!answer.warnings.empty()) page.blank();
  for (const std::string& warning : answer.warnings) {
    page.paragraph(warning, "Beyond the data sheet: ", Style::red);
  }
  if (answer.length_m) {
    page.blank();
    page.paragraph(
        "in all: full voltage along the whole length; voltage drop makes the working figures a little "
        "smaller",
        "Note: ", Style::dim);
  }
  page.caution(
      "the cable maker's instructions and the local electrical code govern; a licensed electrician connects "
      "it, "
      "with ground-fault protection of equipment.");
  return page;
}

ExitCode run(const CableQuestion& question, const Context& context) {
  const auto found = answer(question);
  if (!found) return context.fail(found.error().code, found.error().errors);
  if (context.json()) {
    context.print(to_json(*found));
  } else {
    const System system = chosen_units(context.options()).value_or(system_of_temperature(question.pipe_temp));
    context.print(show(*found, context.page(), system));
  }
  return found->voltage_allowed ? ExitCode::ok : ExitCode::stop_finding;
}

}  // namespace

void add_cable(Program& program) {
  CLI::App* command =
      program.add_command("cable", "what a heating cable gives and draws, from its data sheet", examples);
  const auto question = std::make_shared<CableQuestion>();
  command
      ->add_option("CABLE", question->cable,
                   "a data sheet (sheet.toml), or a job and an id of its catalogue (JOB:id)")
      ->required();
  command->add_option("--pipe-temp", question->pipe_temp, "of the pipe under the cable: 115F, 46C")
      ->type_name("TEMP")
      ->required();
  command->add_option("--voltage", question->voltage, "across the cable: 208V")
      ->type_name("VOLTS")
      ->required();
  command->add_option("--length", question->length, "power and current of so much cable, too")
      ->type_name("LENGTH");
  command
      ->add_option("--start-temp", question->start_temp,
                   "of the pipe at a cold start; the job's, or 5 °C, if not given")
      ->type_name("TEMP");
  program.when_called(command, [question](Context& context) { return run(*question, context); });
}

}  // namespace firstdraw::cli
