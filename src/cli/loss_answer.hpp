// The quick answer of `firstdraw loss`: the question as typed, and what the physics says to it.
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "physics/pipe_loss.hpp"

namespace firstdraw::cli {

/// As typed; empty where nothing was given.
struct LossQuestion {
  std::string pipe, water, air, length;
  std::vector<std::string> insulation;  // inside to outside
  std::string emissivity, vertical, air_speed, law, sizes;
  std::string cable_width, cable_thickness;
  int passes = 0;  // 0: not given
  bool exact = false;
};

struct InsulationLayer {
  physics::Insulation insulation;
  physics::InsulationSize size;
  double mean_c = 0;
};

struct LossAnswer {
  physics::Pipe pipe;
  std::vector<InsulationLayer> layers;
  physics::Surroundings around;
  double water_c = 0;
  physics::PipeLoss loss, bare;  // bare: without insulation, same emissivity
  std::optional<double> length_m;
  std::vector<std::string> notes;
};

std::expected<LossAnswer, Diagnostics> answer(const LossQuestion& question);

/// SI keys (`loss_w_per_m`, `surface_c`) and the US ones people quote (`loss_btu_per_h_ft`, `surface_f`);
/// schemas/loss.schema.json.
nlohmann::json to_json(const LossAnswer& answer);

}  // namespace firstdraw::cli
