#include "cli/loss_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/question.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;

physics::FilmLaw law_of(const std::string& name) {
  if (name == "churchill-chu") return physics::FilmLaw::churchill_chu;
  return name == "astm-c680-1989" ? physics::FilmLaw::astm_c680_1989 : physics::FilmLaw::iso_12241;
}

std::string name_of(physics::FilmLaw law) {
  if (law == physics::FilmLaw::churchill_chu) return "churchill-chu";
  return law == physics::FilmLaw::astm_c680_1989 ? "astm-c680-1989" : "iso-12241";
}

/// Preformed sizes people order for such a pipe: metric where the thickness was asked in millimetres.
physics::SizeSeries series_for(const LossQuestion& question, const physics::Pipe& pipe) {
  if (question.sizes == "inch-iron") return physics::SizeSeries::inch_iron;
  if (question.sizes == "inch-tube") return physics::SizeSeries::inch_tube;
  const bool in_mm =
      !question.insulation.empty() && question.insulation.front().find("mm") != std::string::npos;
  if (question.sizes == "metric" || in_mm) return physics::SizeSeries::metric;
  const bool iron = pipe.material == "steel" || pipe.material == "stainless";
  return iron ? physics::SizeSeries::inch_iron : physics::SizeSeries::inch_tube;
}

physics::Surroundings read_surroundings(Question& read, const LossQuestion& question) {
  physics::Surroundings around;
  around.air_c = read.temperature_c("--air", question.air);
  if (!question.emissivity.empty()) {
    around.emissivity =
        read.quantity_within("--emissivity", question.emissivity, Kind::fraction, 0.01, 1, "0.01 to 1");
  }
  if (!question.vertical.empty()) {
    around.orientation = physics::Orientation::vertical;
    around.height_m = read.quantity_within("--vertical", question.vertical, Kind::length, 0.05, 500,
                                           "a height of 0.05 to 500 m");
  }
  if (!question.air_speed.empty())
    around.air_speed_m_per_s = read.speed_m_per_s("--air-speed", question.air_speed);
  around.law = law_of(question.law);
  return around;
}

struct CableUnder {
  physics::CableSection section;
  int passes = 0;
};

CableUnder read_cable(Question& read, const LossQuestion& question) {
  const bool wide = !question.cable_width.empty(), thick = !question.cable_thickness.empty();
  if (!wide && !thick && question.passes == 0) return {};
  for (const auto& [option, given] :
       {std::pair{"--cable-width", wide}, std::pair{"--cable-thickness", thick}}) {
    if (!given)
      read.slip(option, "is missing; the room a cable needs takes both its width and its thickness");
  }
  if (!wide || !thick) return {};
  const auto size = [&read](std::string_view option, std::string_view text) {
    return read.quantity_within(option, text, Kind::size, 0.001, 0.1, "1 to 100 mm");
  };
  return {{size("--cable-width", question.cable_width), size("--cable-thickness", question.cable_thickness)},
          std::max(1, question.passes)};
}

physics::InsulationSize made_to_measure(double inside_m, double thickness_m, physics::SizeSeries series) {
  return {.series = series,
          .made_for = "made to measure",
          .bore_m = inside_m,
          .outer_diameter_m = inside_m + 2 * thickness_m,
          .nominal_thickness_m = thickness_m,
          .source = "as asked"};
}

std::vector<InsulationLayer> lay(const LossQuestion& question, const std::vector<Question::Insulated>& asked,
                                 const physics::Pipe& pipe, const CableUnder& cable) {
  std::vector<InsulationLayer> layers;
  const physics::SizeSeries series = series_for(question, pipe);
  double inside_m = pipe.outer_diameter_m;
  CableUnder under = cable;
  for (const auto& [insulation, thickness_m] : asked) {
    const auto size =
        question.exact ? made_to_measure(physics::clearance_bore_m(inside_m, under.section, under.passes),
                                         thickness_m, series)
                       : physics::fit_insulation(inside_m, under.section, under.passes, thickness_m, series);
    layers.push_back({insulation, size, 0});
    inside_m = size.outer_diameter_m;
    under = {};
  }
  return layers;
}

physics::PipeSection section_of(const physics::Pipe& pipe, const std::vector<InsulationLayer>& layers) {
  physics::PipeSection section = physics::bare(pipe);
  for (const InsulationLayer& layer : layers) {
    section.layers.push_back({layer.insulation, layer.size.bore_m, layer.size.outer_diameter_m, 1});
  }
  return section;
}

/// Mean temperature of each layer, from the resistances between the wall and the surface.
void add_means(LossAnswer& answer) {
  double face_c = answer.loss.wall_c;
  for (std::size_t i = 0; i < answer.layers.size(); ++i) {
    const double drop_k = answer.loss.loss_w_per_m * answer.loss.layer_resistance_m_k_per_w[i];
    answer.layers[i].mean_c = face_c - drop_k / 2;
    face_c -= drop_k;
  }
}

void add_notes(LossAnswer& answer) {
  const std::string_view check = "check with the maker";
  if (answer.water_c > answer.pipe.max_c) {
    answer.notes.push_back(
        fmt::format("the water is hotter than {} pipe is listed for ({:.0f} °C, {:.0f} °F): {}",
                    answer.pipe.material, answer.pipe.max_c, answer.pipe.max_c * 1.8 + 32, check));
  }
  for (const InsulationLayer& layer : answer.layers) {
    const double max_c = layer.insulation.max_c;
    if (answer.water_c <= max_c) continue;
    answer.notes.push_back(fmt::format("the water is hotter than {} is listed for ({:.0f} °C, {:.0f} °F): {}",
                                       layer.insulation.name, max_c, max_c * 1.8 + 32, check));
  }
  answer.notes.emplace_back(
      "straight pipe with dry, whole insulation: valves, supports and fittings lose more");
}

}  // namespace

std::expected<LossAnswer, Diagnostics> answer(const LossQuestion& question) {
  Question read;
  LossAnswer answer;
  answer.pipe = read.pipe("--pipe", question.pipe);
  std::vector<Question::Insulated> asked;
  for (const std::string& text : question.insulation) {
    if (const auto layer = read.insulation("--insulation", text)) asked.push_back(*layer);
  }
  answer.water_c = read.temperature_c("--water", question.water);
  answer.around = read_surroundings(read, question);
  const CableUnder cable = read_cable(read, question);
  if (!question.length.empty()) {
    answer.length_m = read.quantity_within("--length", question.length, Kind::length, 0, 1e5, "0 to 100 km");
  }
  if (!read.slips().empty()) return std::unexpected(read.slips());
  answer.layers = lay(question, asked, answer.pipe, cable);
  answer.loss = physics::pipe_loss(section_of(answer.pipe, answer.layers), answer.water_c, answer.around);
  answer.bare = physics::pipe_loss(physics::bare(answer.pipe), answer.water_c, answer.around);
  add_means(answer);
  add_notes(answer);
  return answer;
}

namespace {

nlohmann::json to_json(const physics::Pipe& pipe) {
  return {{"material", pipe.material}, {"type", pipe.type},
          {"size", pipe.size},         {"outer_diameter_m", pipe.outer_diameter_m},
          {"wall_m", pipe.wall_m},     {"source", pipe.source}};
}

nlohmann::json to_json(const InsulationLayer& layer) {
  return {{"id", layer.insulation.id},
          {"name", layer.insulation.name},
          {"made_for", layer.size.made_for},
          {"nominal_thickness_m", layer.size.nominal_thickness_m},
          {"thickness_m", layer.size.thickness_m()},
          {"bore_m", layer.size.bore_m},
          {"outer_diameter_m", layer.size.outer_diameter_m},
          {"mean_c", layer.mean_c},
          {"conductivity_w_per_m_k", layer.insulation.conductivity_at(layer.mean_c)},
          {"source", layer.insulation.source}};
}

void add_surroundings(nlohmann::json& json, const physics::Surroundings& around) {
  const bool vertical = around.orientation == physics::Orientation::vertical;
  json["air_c"] = around.air_c;
  json["emissivity"] = around.emissivity;
  json["orientation"] = vertical ? "vertical" : "horizontal";
  if (vertical) json["height_m"] = around.height_m;
  json["air_speed_m_per_s"] = around.air_speed_m_per_s;
  json["law"] = name_of(around.law);
}

}  // namespace

nlohmann::json to_json(const LossAnswer& answer) {
  const physics::PipeLoss& loss = answer.loss;
  nlohmann::json json{
      {"loss_w_per_m", loss.loss_w_per_m},
      {"loss_btu_per_h_ft", units::from_si(loss.loss_w_per_m, "Btu/(h·ft)", Kind::power_per_length)},
      {"surface_c", loss.surface_c},
      {"surface_f", units::from_si(loss.surface_c, "°F", Kind::temperature)},
      {"wall_c", loss.wall_c},
      {"resistance_m_k_per_w", loss.resistance_m_k_per_w},
      {"surface_film_w_per_m2_k", loss.surface_film_w_per_m2_k},
      {"bare_loss_w_per_m", answer.bare.loss_w_per_m},
      {"water_c", answer.water_c},
      {"pipe", to_json(answer.pipe)},
      {"insulation", nlohmann::json::array()},
      {"notes", answer.notes},
  };
  for (const InsulationLayer& layer : answer.layers) json["insulation"].push_back(to_json(layer));
  add_surroundings(json, answer.around);
  if (answer.length_m) {
    json["length_m"] = *answer.length_m;
    json["loss_w"] = loss.loss_w_per_m * *answer.length_m;
  }
  return json;
}

}  // namespace firstdraw::cli
