#include "solvers/epanet.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <stdexcept>

#include "places.hpp"
#include "solvers/grid.hpp"

namespace firstdraw::solvers {
namespace {

constexpr double per_day = draw::day_s, litres_per_m3 = 1000, mm_per_m = 1000;
constexpr double head_m = 1000;  // ample: only flows matter here
const std::string script = places::sources() + "/tests/npm/epanet_quality.mjs";

std::string node_name(const draw::Scene& scene, int run) {
  for (std::size_t i = 0; i < scene.taps.size(); ++i)
    if (scene.taps[i].run == run) return fmt::format("tap{}", i);
  return run == draw::none ? "supply" : fmt::format("end{}", run);
}

double decay_per_s(const RunConstants& run) {
  return 1 / (1 / run.standing_w_per_m_k + 1 / run.ladder_w_per_m_k) /
         (run.water_j_per_m_k + run.wall_j_per_m_k);
}

void write_pipes(std::ostream& out, const draw::Scene& scene, const Grid& grid) {
  out << "[PIPES]\n";
  for (std::size_t i = 0; i < scene.runs.size(); ++i)
    out << fmt::format("run{} {} {} {} {} 100 0 Open\n", i, node_name(scene, scene.runs[i].upstream),
                       node_name(scene, static_cast<int>(i)), scene.runs[i].length_m,
                       scene.runs[i].inner_diameter_m * mm_per_m);
  out << "[REACTIONS]\nORDER BULK 1\n";
  for (std::size_t i = 0; i < grid.runs.size(); ++i)
    out << fmt::format("BULK run{} {:.9g}\n", i, -decay_per_s(grid.runs[i]) * per_day);
}

/// Demand in every step, litres per second, as multipliers of 1.
void write_pattern(std::ostream& out, const Case& what, int tap, int step_s) {
  const int steps = static_cast<int>(what.end_s) / step_s;
  std::vector<double> demand(draw::at(steps), 0.0);
  for (const draw::Draw& draw : what.draws) {
    if (draw.tap != tap) continue;
    const int first = static_cast<int>(draw.open_s) / step_s;
    const int last = static_cast<int>(draw.open_s + draw.duration_s) / step_s;
    if (first * step_s != draw.open_s || last * step_s != draw.open_s + draw.duration_s)
      throw std::logic_error("a draw off the steps of the demand pattern");
    for (int i = first; i < last && i < steps; ++i) demand[draw::at(i)] += draw.flow_m3_per_s * litres_per_m3;
  }
  for (const double value : demand) out << fmt::format("use{} {}\n", tap, value);
}

std::vector<double> numbers(const std::string& line) {
  std::vector<double> result;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) result.push_back(std::stod(cell));
  return result;
}

std::vector<std::string> output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"),
                                                   [](FILE* file) { return pclose(file); });
  if (!pipe) throw std::runtime_error("cannot run " + command);
  std::string text;
  for (int c = std::fgetc(pipe.get()); c != EOF; c = std::fgetc(pipe.get())) text += static_cast<char>(c);
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  if (lines.empty())
    throw std::runtime_error(command + " said nothing; scripts/setup installs what it needs");
  return lines;
}

}  // namespace

std::string epanet_input(const Case& what, int step_s) {
  const draw::Scene& scene = what.scene;
  const Grid grid(scene, 0);
  std::ostringstream out;
  out << fmt::format("[RESERVOIRS]\nsupply {}\n[JUNCTIONS]\n", head_m);
  for (std::size_t i = 0; i < scene.runs.size(); ++i)
    if (node_name(scene, static_cast<int>(i)).starts_with("end")) out << fmt::format("end{} 0 0\n", i);
  for (std::size_t i = 0; i < scene.taps.size(); ++i) out << fmt::format("tap{} 0 1 use{}\n", i, i);
  write_pipes(out, scene, grid);
  out << fmt::format("[QUALITY]\nsupply {}\n[PATTERNS]\n", grid.supply_c - grid.runs.front().air_c);
  for (std::size_t i = 0; i < scene.taps.size(); ++i) write_pattern(out, what, static_cast<int>(i), step_s);
  out << fmt::format(
      "[TIMES]\nDuration {0}:00\nHydraulic Timestep 0:00:{1:02}\nPattern Timestep 0:00:{1:02}\n"
      "Quality Timestep 0:00:01\nReport Timestep 0:01\n"
      "[OPTIONS]\nUnits LPS\nHeadloss H-W\nAccuracy 0.000001\nQuality heat mg/L\nTolerance 0.001\n"
      "Diffusivity 0\n[END]\n",
      static_cast<int>(what.end_s / draw::hour_s), step_s);
  return out.str();
}

std::vector<std::vector<double>> epanet_taps_c(const Case& what, int step_s) {
  const auto file = std::filesystem::temp_directory_path() / fmt::format("firstdraw_epanet_{}.inp", getpid());
  std::ofstream(file) << epanet_input(what, step_s);
  std::string command = fmt::format("node '{}' '{}'", script, file.string());
  for (std::size_t i = 0; i < what.scene.taps.size(); ++i) command += fmt::format(" tap{}", i);
  const double air_c = what.scene.runs.front().air_c.at(0);
  std::vector<std::vector<double>> result;
  for (const std::string& line : output_of(command)) {
    std::vector<double> row = numbers(line);
    row.erase(row.begin());
    for (double& value : row) value += air_c;
    result.push_back(std::move(row));
  }
  std::filesystem::remove(file);
  return result;
}

}  // namespace firstdraw::solvers
