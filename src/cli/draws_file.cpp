#include "cli/draws_file.hpp"

#include <algorithm>
#include <unordered_map>

#include "job/csv_reader.hpp"
#include "job/read_files.hpp"

namespace firstdraw::cli {
namespace {

using job::Target;
using units::Kind;

/// The columns as a visitor of the job's readers asks for them.
struct RecordedDraw {
  double time_s = 0, flow_m3_per_s = 0, duration_s = 0;
  std::string tap;

  template <class Visitor>
  void visit(Visitor& visitor) {
    visitor.quantity("time", time_s, Kind::duration, job::range::not_negative, job::needed);
    visitor.reference("tap", tap, Target::outlet, job::needed);
    visitor.quantity("flow", flow_m3_per_s, Kind::volume_flow, job::range::positive, job::needed);
    visitor.quantity("duration", duration_s, Kind::duration, job::range::positive, job::needed);
  }
};

job::Result<std::vector<draw::Draw>> trouble(job::Diagnostic problem) {
  return std::unexpected(std::vector{std::move(problem)});
}

std::vector<job::Key> draw_keys() {
  job::KeyLister lister;
  RecordedDraw{}.visit(lister);
  return lister.keys;
}

}  // namespace

job::Result<std::vector<draw::Draw>> read_draws(std::string_view text, std::string_view file,
                                                const draw::Scene& scene) {
  const auto csv = tables::read_csv(text);
  if (!csv)
    return trouble({std::string(file), csv.error().line, csv.error().column, "", csv.error().message, ""});
  job::Context context;
  std::unordered_map<std::string, int> tap_of;
  for (std::size_t i = 0; i < scene.taps.size(); ++i) {
    tap_of[scene.taps[i].id] = static_cast<int>(i);
    context.add_id(Target::outlet, scene.taps[i].id, {}, "");
  }
  job::CsvReader reader(*csv, file, "draw", draw_keys(), context);
  std::vector<draw::Draw> draws;
  while (reader.next()) {
    RecordedDraw row;
    row.visit(reader);
    const auto tap = tap_of.find(row.tap);
    draws.push_back(
        {tap == tap_of.end() ? draw::none : tap->second, row.time_s, row.duration_s, row.flow_m3_per_s});
  }
  if (!context.problems.empty()) return std::unexpected(context.problems);
  if (draws.empty())
    return trouble({std::string(file), 0, 0, "", "holds no draw", "one row per opening of a tap"});
  draw::sort_draws(draws);
  return draws;
}

job::Result<std::vector<draw::Draw>> read_draws_file(const std::string& path, const draw::Scene& scene) {
  job::Context context;
  const auto text = job::read_text("", path, context);
  if (!text) return std::unexpected(context.problems);
  return read_draws(*text, path, scene);
}

}  // namespace firstdraw::cli
