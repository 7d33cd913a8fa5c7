// The rows of a recorded log, cell by cell.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "forecast/replay_columns.hpp"
#include "job/context.hpp"
#include "physics/water.hpp"

namespace firstdraw::forecast {

namespace {

using units::Kind;
using Cells = std::vector<tables::CsvCell>;

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr int complaints_per_column = 3;

/// Values of one column over time, blanks left out.
struct Samples {
  std::vector<double> time_s, value;

  void add(double at_s, double what) {
    if (std::isnan(what) || (!time_s.empty() && time_s.back() >= at_s)) return;
    time_s.push_back(at_s);
    value.push_back(what);
  }
  draw::Series series() const { return {time_s, value}; }
};

class LogReader {
 public:
  LogReader(std::string_view file, const job::Job& job, const draw::Scene& scene)
      : file_(file), job_(job), scene_(scene) {}

  job::Result<RecordedLog> read(const tables::CsvText& csv, const std::vector<ColumnUse>& uses) {
    columns_ = match_columns(csv.header, file_, uses, job_, scene_, log_.unused_columns, problems_);
    header_line_ = csv.header.empty() ? 1 : csv.header.front().line;
    samples_.resize(columns_.size());
    complaints_.resize(columns_.size());
    if (problems_.empty()) judge_columns();
    if (!problems_.empty()) return std::unexpected(std::move(problems_));
    for (const Cells& row : csv.rows) read_row(row, csv.header.size());
    judge_rows();
    if (!problems_.empty()) return std::unexpected(std::move(problems_));
    gather();
    return std::move(log_);
  }

 private:
  void problem(int line, int column, std::string field, std::string message, std::string hint = {}) {
    problems_.push_back(
        {std::string(file_), line, column, std::move(field), std::move(message), std::move(hint)});
  }
  void cell_problem(std::size_t column, const Cells& row, std::string message, std::string hint = {}) {
    const tables::CsvCell& cell = row[columns_[column].cell];
    if (++complaints_[column] <= complaints_per_column)
      problem(cell.line, cell.column, columns_[column].heading, std::move(message), std::move(hint));
  }

  std::optional<std::size_t> time_column() const {
    const auto at = std::ranges::find(columns_, LogUse::time, &LogColumn::use);
    if (at == columns_.end()) return std::nullopt;
    return static_cast<std::size_t>(at - columns_.begin());
  }

  void judge_columns() {
    if (!time_column())
      problem(header_line_, 0, "time", "no column is \"time\"; every row needs its time",
              "--map \"COLUMN=time\"");
    if (std::ranges::all_of(columns_, [](const LogColumn& column) { return drives(column.use); }))
      problem(header_line_, 0, "", "no column is a temperature to compare with",
              "map one to at:PLACE, wall:RUN or reading:GROUP, as --map \"COLUMN=at:PLACE\"");
  }

  void read_row(const Cells& row, std::size_t wanted) {
    if (row.size() < wanted)
      return problem(row.empty() ? 0 : row.front().line, 0, "",
                     fmt::format("{} cells, but the first line names {}", row.size(), wanted));
    const double at_s = read_time(row);
    if (std::isnan(at_s)) return;
    ++log_.rows;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (columns_[i].use != LogUse::time) samples_[i].add(at_s, read_value(i, row));
    }
  }

  /// NaN when there is none.
  double read_time(const Cells& row) {
    const std::size_t column = *time_column();
    const tables::CsvCell& cell = row[columns_[column].cell];
    const auto time_s = parse_time(cell.text, columns_[column].unit);
    if (!time_s) {
      const bool bare = columns_[column].unit.empty();
      cell_problem(column, row, time_s.error(),
                   bare ? "dates as 2026-03-02T06:30:00, or a heading with a unit: time (s)" : "");
      return nothing;
    }
    if (!times_s_.empty() && *time_s <= times_s_.back()) {
      cell_problem(column, row, fmt::format("\"{}\" is not later than the row before", cell.text));
      return nothing;
    }
    note_interval(*time_s, cell.line);
    times_s_.push_back(*time_s);
    return *time_s;
  }

  std::expected<double, std::string> parse_time(const std::string& text, const std::string& unit) {
    if (text.empty()) return std::unexpected("is missing");
    if (unit.empty()) {
      if (const auto date_s = date_time_s(text)) {
        if (times_s_.empty()) week_s_ = week_begin_s(*date_s);
        log_.dated = true;
        return *date_s - week_s_;
      }
    }
    return unit.empty() ? units::parse(text, Kind::duration) : units::parse(text, Kind::duration, unit);
  }

  void note_interval(double time_s, int line) {
    if (times_s_.empty()) return;
    intervals_s_.push_back(time_s - times_s_.back());
    if (intervals_s_.back() <= log_.longest_interval_s) return;
    log_.longest_interval_s = intervals_s_.back();
    log_.longest_interval_line = line;
  }

  /// NaN for a blank that may be one.
  double read_value(std::size_t column, const Cells& row) {
    const LogColumn& here = columns_[column];
    const std::string& text = row[here.cell].text;
    if (text.empty()) {
      if (drives(here.use))
        cell_problem(column, row, "is blank", "what drives the simulation must have no gap");
      return nothing;
    }
    const auto value = parse_value(here, text);
    if (!value) {
      cell_problem(column, row, value.error());
      return nothing;
    }
    if (kind_of(here.use) == Kind::temperature) return judge_temperature(column, row, *value);
    if (*value >= 0) return *value;
    cell_problem(column, row, fmt::format("\"{}\" is below 0", text));
    return nothing;
  }

  static std::expected<double, std::string> parse_value(const LogColumn& column, const std::string& text) {
    const Kind kind = kind_of(column.use);
    if (column.unit.empty()) return units::parse(text, kind);
    if (column.kg_per_s <= 0) return units::parse(text, kind, column.unit);
    const auto mass = units::parse(text, Kind::fraction);  // a bare number
    if (!mass || text.ends_with('%')) return std::unexpected(fmt::format("\"{}\" is not a number", text));
    return *mass * column.kg_per_s;
  }

  double judge_temperature(std::size_t column, const Cells& row, double temp_c) {
    const bool water = columns_[column].use != LogUse::air;
    const double least_c = water ? 0 : -60, most_c = 100;
    if (temp_c >= least_c && temp_c <= most_c) return temp_c;
    cell_problem(
        column, row,
        fmt::format("\"{}\" is not within {:g} to {:g} °C", row[columns_[column].cell].text, least_c, most_c),
        drives(columns_[column].use) ? "" : "leave the cell blank where there is no reading");
    return nothing;
  }

  void judge_rows() {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const int more = complaints_[i] - complaints_per_column;
      if (more > 0) problem(0, 0, columns_[i].heading, fmt::format("{} more cells like these", more));
    }
    if (problems_.empty() && times_s_.size() < 2) problem(0, 0, "", "the log has fewer than two rows");
    for (std::size_t i = 0; problems_.empty() && i < columns_.size(); ++i) {
      if (columns_[i].use != LogUse::time && samples_[i].value.empty())
        problem(0, 0, columns_[i].heading, "has no value in any row");
    }
  }

  void gather() {
    log_.begin_s = times_s_.front();
    log_.end_s = times_s_.back();
    std::ranges::sort(intervals_s_);
    log_.usual_interval_s = intervals_s_[intervals_s_.size() / 2];
    for (std::size_t i = 0; i < columns_.size(); ++i) gather_temperature(columns_[i], samples_[i]);
    for (std::size_t i = 0; i < columns_.size(); ++i)
      if (columns_[i].use == LogUse::flow) gather_flow(columns_[i], samples_[i]);
    draw::sort_draws(log_.draws);
  }

  void gather_temperature(const LogColumn& column, Samples& samples) {
    if (column.use == LogUse::supply || column.use == LogUse::air)
      log_.drives.push_back({column.use, column.place, samples.series()});
    if (drives(column.use)) return;
    log_.traces.push_back({column.use, column.heading, column.what, column.index, column.tap,
                           std::move(samples.time_s), std::move(samples.value)});
  }

  /// One pulse for each interval with its mean flow; equal neighbours are one pulse.
  void gather_flow(const LogColumn& column, const Samples& samples) {
    log_.has_flows = true;
    const double per_unit = per_unit_of(column);
    draw::Draw pulse{column.index, 0, 0, 0};
    const auto close = [&] {
      if (pulse.flow_m3_per_s > 0 && pulse.duration_s > 0) log_.draws.push_back(pulse);
    };
    for (std::size_t i = 0; i + 1 < samples.value.size(); ++i) {
      const double flow = (samples.value[i] + samples.value[i + 1]) / 2 * per_unit;
      if (flow != pulse.flow_m3_per_s) {
        close();
        pulse = {column.index, samples.time_s[i], 0, flow};
      }
      pulse.duration_s = samples.time_s[i + 1] - pulse.open_s;
    }
    close();
  }

  /// 1, or m3 of one kg of the water that enters.
  double per_unit_of(const LogColumn& column) {
    if (column.kg_per_s <= 0) return 1;
    log_.water_kg_per_m3 = physics::water(mean_supply_c()).density_kg_per_m3;
    return 1 / log_.water_kg_per_m3;
  }

  double mean_supply_c() const {
    const auto supply = std::ranges::find(log_.drives, LogUse::supply, &LogDrive::use);
    const draw::Series& series = supply != log_.drives.end() ? supply->values : scene_.supply.stored_c;
    return series.mean(log_.begin_s, log_.end_s);
  }

  std::string_view file_;
  const job::Job& job_;
  const draw::Scene& scene_;
  std::vector<job::Diagnostic> problems_;
  std::vector<LogColumn> columns_;
  std::vector<Samples> samples_;
  std::vector<int> complaints_;
  std::vector<double> times_s_, intervals_s_;
  double week_s_ = 0;
  int header_line_ = 1;
  RecordedLog log_;
};

}  // namespace

job::Result<RecordedLog> read_log(std::string_view text, std::string_view file,
                                  const std::vector<ColumnUse>& uses, const job::Job& job,
                                  const draw::Scene& scene) {
  const auto csv = tables::read_csv(text);
  if (!csv) {
    return std::unexpected(std::vector<job::Diagnostic>{
        {std::string(file), csv.error().line, csv.error().column, "", csv.error().message, ""}});
  }
  return LogReader(file, job, scene).read(*csv, uses);
}

}  // namespace firstdraw::forecast
