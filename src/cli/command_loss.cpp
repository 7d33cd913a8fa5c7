// `firstdraw loss`: heat lost by a pipe, for the phone call in the ceiling void.
#include <fmt/format.h>

#include <memory>

#include "cli/loss_answer.hpp"
#include "cli/program.hpp"
#include "cli/question.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;
using units::System;

const std::vector<Example> examples{
    {"firstdraw loss --pipe \"copper L 1\" --insulation \"glass fibre 1 in\" --water 115F --air 70F",
     "an insulated riser in a ceiling void, answered in US and metric units"},
    {"firstdraw loss --pipe \"copper 28x1.5\" --insulation \"elastomeric 25 mm\" --water 55C --air 20C "
     "--length 40m",
     "the same question in metric, and for 40 m of it"},
    {"firstdraw loss --pipe \"steel 40 2\" --insulation none --water 60C --air 5C --air-speed \"1 m/s\" "
     "--json",
     "bare pipe in a draught, as JSON: the loss is loss_w_per_m"},
};

std::string in_both(double value_si, Kind kind, System first) {
  const System second = first == System::us ? System::metric : System::us;
  return fmt::format("{} ({})", units::show(value_si, kind, first), units::show(value_si, kind, second));
}

/// Heat per length in the three units people quote, theirs first.
std::string loss_in_all(double loss_w_per_m, System first) {
  const auto in = [loss_w_per_m](std::string_view unit) {
    return fmt::format("{:.2f} {}", units::from_si(loss_w_per_m, unit, Kind::power_per_length), unit);
  };
  if (first == System::us) return fmt::format("{} = {} = {}", in("Btu/(h·ft)"), in("W/ft"), in("W/m"));
  return fmt::format("{} = {} = {}", in("W/m"), in("Btu/(h·ft)"), in("W/ft"));
}

std::string describe(const physics::Pipe& pipe, System system) {
  return fmt::format("{} {} {}, outside {}, wall {}", pipe.material, pipe.type, pipe.size,
                     units::show(pipe.outer_diameter_m, Kind::size, system),
                     units::show(pipe.wall_m, Kind::size, system));
}

std::string describe(const InsulationLayer& layer, System system) {
  const auto size = [system](double value_m) { return units::show(value_m, Kind::size, system); };
  return fmt::format("{}: {} for {}, bore {}, outside {}; {} at its mean of {}", layer.insulation.name,
                     size(layer.size.nominal_thickness_m), layer.size.made_for, size(layer.size.bore_m),
                     size(layer.size.outer_diameter_m),
                     units::show(layer.insulation.conductivity_at(layer.mean_c), Kind::conductivity, system),
                     units::show(layer.mean_c, Kind::temperature, system));
}

std::string describe(const physics::Surroundings& around, System system) {
  std::string text = in_both(around.air_c, Kind::temperature, system);
  if (around.air_speed_m_per_s > 0) {
    text += fmt::format(", moving at {:.2g} m/s", around.air_speed_m_per_s);
  } else {
    text += ", still";
  }
  if (around.orientation == physics::Orientation::vertical) {
    text += fmt::format(", vertical pipe {} high", units::show(around.height_m, Kind::length, system));
  }
  return text + fmt::format(", emissivity of the surface {:.2g}", around.emissivity);
}

Page show(const LossAnswer& answer, Page page, System system) {
  std::vector<std::pair<std::string, std::string>> facts{{"Pipe", describe(answer.pipe, system)}};
  if (answer.layers.empty()) facts.emplace_back("Insulation", "none");
  for (const InsulationLayer& layer : answer.layers)
    facts.emplace_back("Insulation", describe(layer, system));
  facts.emplace_back("Water", in_both(answer.water_c, Kind::temperature, system));
  facts.emplace_back("Air", describe(answer.around, system));
  facts.emplace_back("Heat loss", loss_in_all(answer.loss.loss_w_per_m, system));
  facts.emplace_back("Surface", in_both(answer.loss.surface_c, Kind::temperature, system));
  if (!answer.layers.empty())
    facts.emplace_back("Bare, it loses", loss_in_all(answer.bare.loss_w_per_m, system));
  if (answer.length_m) {
    facts.emplace_back(fmt::format("Over {}", units::show(*answer.length_m, Kind::length, system)),
                       units::show(answer.loss.loss_w_per_m * *answer.length_m, Kind::power, system));
  }
  page.facts(facts);
  page.blank();
  for (const std::string& note : answer.notes) page.paragraph(note, "Note: ", Style::dim);
  return page;
}

ExitCode run(const LossQuestion& question, const Context& context) {
  const auto found = answer(question);
  if (!found) return context.fail(ExitCode::wrong_command_line, found.error());
  if (context.json()) {
    context.print(to_json(*found));
  } else {
    const System system = chosen_units(context.options()).value_or(system_of_temperature(question.water));
    context.print(show(*found, context.page(), system));
  }
  return ExitCode::ok;
}

void ask_what(CLI::App* command, LossQuestion& question) {
  command->add_option("--pipe", question.pipe, "material, type and size: \"copper L 1\", \"copper 22x1\"")
      ->type_name("PIPE")
      ->required();
  command
      ->add_option(
          "--insulation", question.insulation,
          "material and thickness: \"glass fibre 1 in\", or none; repeat it for layers, inside to outside")
      ->type_name("TEXT")
      ->required()
      ->allow_extra_args(false);
  command->add_option("--water", question.water, "of the water: 115F, 46C")->type_name("TEMP")->required();
  command->add_option("--air", question.air, "of the air around: 70F, 21C")->type_name("TEMP")->required();
  command->add_option("--length", question.length, "the loss of so much pipe, too")->type_name("LENGTH");
}

void ask_surface(CLI::App* command, LossQuestion& question) {
  command->option_defaults()->group("Surface and air");
  command
      ->add_option("--emissivity", question.emissivity, "of the outer surface, 0.01 to 1; 0.9 if not given")
      ->type_name("E");
  command->add_option("--vertical", question.vertical, "the pipe stands so high; horizontal if not given")
      ->type_name("HEIGHT");
  command->add_option("--air-speed", question.air_speed, "0.5 m/s, 100 ft/min; still if not given")
      ->type_name("SPEED");
  question.law = "iso-12241";
  add_choice(command, "--law", question.law, "film law of the surface, the first if not given",
             {"iso-12241", "churchill-chu", "astm-c680-1989"});
}

void ask_sizes(CLI::App* command, LossQuestion& question) {
  command->option_defaults()->group("Size of the insulation");
  command
      ->add_option("--cable-width", question.cable_width,
                   "of heating cable on the pipe: the insulation must clear it")
      ->type_name("SIZE");
  command->add_option("--cable-thickness", question.cable_thickness, "of that cable")->type_name("SIZE");
  command->add_option("--passes", question.passes, "cables side by side; 1 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 8));
  CLI::Option* sizes = add_choice(command, "--sizes", question.sizes,
                                  "preformed insulation sizes, chosen by the pipe if not given",
                                  {"inch-iron", "inch-tube", "metric"});
  command
      ->add_flag("--exact", question.exact,
                 "insulation made to measure: bore of the pipe, thickness as given")
      ->excludes(sizes);
}

}  // namespace

void add_loss(Program& program) {
  CLI::App* command =
      program.add_command("loss", "heat that a pipe loses to the air, and its surface temperature", examples);
  const auto question = std::make_shared<LossQuestion>();
  ask_what(command, *question);
  ask_surface(command, *question);
  ask_sizes(command, *question);
  program.when_called(command, [question](Context& context) { return run(*question, context); });
}

}  // namespace firstdraw::cli
