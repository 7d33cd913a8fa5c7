// Bodies of requests, from text to values: strict, without touching anything else, so that they can be
// fuzzed. What the fields mean: openapi.json.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"
#include "serve/fields.hpp"

namespace firstdraw::serve {

struct NewJob {
  std::string id{}, start{};
  std::string name{};
  std::optional<std::string> units{};
};
struct NewTask {
  std::string what{};
  double days = 7;
  std::uint64_t seed = 1;
  std::vector<std::string> faults{};
  std::string season{};
  std::optional<bool> week{};
};
struct AskedPeriod {
  std::uint8_t weekdays = 0;  // bit 0: Monday
  double begin_s = 0, end_s = 0;
  std::string hold{};
  std::optional<double> temperature_c{};
};
struct TrySchedule {
  std::string group{};
  std::vector<AskedPeriod> periods{};
};
struct AskedInstrument {
  std::string name{}, serial{}, calibration_due{};
  std::optional<double> class_frac{};
};
using Cells = std::map<std::string, std::string>;
struct Readings {
  std::vector<Cells> readings{};
  std::optional<AskedInstrument> instrument{};
  std::string at{};
};
struct NamedFile {
  std::string name{}, sha256{};
};
struct AskedLook {
  std::string test{};
  bool ok = false;
};
struct NewRecord {
  std::string entry{}, kind{}, who{}, at{};
  std::optional<AskedInstrument> instrument{};
  std::vector<Cells> readings{};
  std::string note{};
  std::vector<NamedFile> files{};
  std::optional<std::int64_t> corrects{};
  std::string why{}, role{}, statement{}, place{};
  std::optional<AskedLook> looked{};
};
struct Pair {
  std::string code{}, name{};
};
struct NewShare {
  std::int64_t days = 1;
  std::string name{};
};

Read<NewJob> read_new_job(std::string_view body);
/// Without `by`, which the server knows better.
Read<desk::Edit> read_edit(std::string_view body);
Read<NewTask> read_new_task(std::string_view body);
Read<TrySchedule> read_try_schedule(std::string_view body);
Read<Readings> read_readings(std::string_view body);
Read<NewRecord> read_new_record(std::string_view body);
Read<Pair> read_pair(std::string_view body);
Read<NewShare> read_new_share(std::string_view body);

/// Letters, digits, - and _; 1 to 64.
bool is_plain_id(std::string_view text);

}  // namespace firstdraw::serve
