// catalog/*.toml: one cable data sheet each.
#include <algorithm>

#include <fmt/format.h>

#include "job/describe.hpp"
#include "job/folder.hpp"
#include "job/read_files.hpp"
#include "job/toml_file.hpp"
#include "job/toml_reader.hpp"

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

/// Strictly rising in `key`.
template <class T>
void check_rising(TomlReader& reader, std::string_view table, const std::vector<T>& rows, double T::* key) {
  const auto stuck =
      std::ranges::adjacent_find(rows, [&](const T& a, const T& b) { return b.*key <= a.*key; });
  if (stuck != rows.end()) reader.problem(table, "the rows must rise in their first column, without repeats");
}

void check_output(TomlReader& reader, const std::vector<physics::OutputPoint>& output) {
  check_rising(reader, "output", output, &physics::OutputPoint::pipe_c);
  const auto rises = std::ranges::adjacent_find(
      output, [](const auto& a, const auto& b) { return b.power_w_per_m > a.power_w_per_m; });
  if (rises == output.end()) return;
  reader.problem("output", "a self-regulating cable gives less on a warmer pipe, never more");
}

void check_voltage(TomlReader& reader, const physics::CableSheet& sheet) {
  check_rising(reader, "voltage", sheet.voltage, &physics::VoltagePoint::voltage_v);
  if (sheet.voltage.empty()) return;
  const double low = sheet.voltage.front().voltage_v, high = sheet.voltage.back().voltage_v;
  if (sheet.rated_voltage_v >= low && sheet.rated_voltage_v <= high) return;
  reader.problem("voltage", "the table must reach from below to above rated_voltage");
}

void check_cold_start(TomlReader& reader, const std::vector<physics::ColdStartPoint>& rows) {
  check_rising(reader, "cold_start", rows, &physics::ColdStartPoint::start_c);
  const auto settles_higher = [](const auto& row) { return row.settled_a_per_m > row.peak_a_per_m; };
  if (std::ranges::none_of(rows, settles_higher)) return;
  reader.problem("cold_start", "settled must not be above peak: the current falls as the cable warms");
}

bool good_id(std::string_view id) {
  const auto good = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
           c == '_' || c == '.';
  };
  return !id.empty() && id.front() != '.' && std::ranges::all_of(id, good);
}

void read_sheet(const Source& source, const std::string& name, Job& job, Context& context) {
  const std::string id = fs::path(name).stem().string();
  // The name counts even when the sheet is faulty: whoever refers to it is not to blame.
  context.add_id(Target::cable, id, {name, 0, 0}, "");
  if (!good_id(id)) {
    context.problem({name, 0, 0}, "", "the name of a sheet may hold letters, digits, dots, - and _ only");
  }
  const auto table = parse_toml(source, name, context);
  if (!table) return;
  auto& sheet = job.cables.emplace_back();
  sheet.id = id;
  TomlReader reader(*table, name, "", context);
  describe(reader, sheet);
  if (reader.clean()) {
    check_output(reader, sheet.output);
    check_voltage(reader, sheet);
    check_cold_start(reader, sheet.cold_start);
  }
  reader.finish();
}

}  // namespace

void read_catalog(const Source& source, Job& job, Context& context) {
  const auto names = source.names("catalog");
  if (!names) return context.problem({"catalog", 0, 0}, "", "cannot be read: " + names.error());
  for (const auto& name : *names)
    if (fs::path(name).extension() == ".toml") read_sheet(source, name, job, context);
}

Result<physics::CableSheet> read_cable_sheet(const fs::path& file) {
  Context context;
  Job job;
  read_sheet(FolderSource(file.parent_path()), file.filename().string(), job, context);
  if (!context.problems.empty()) return std::unexpected(std::move(context.problems));
  return std::move(job.cables.front());
}

}  // namespace firstdraw::job
