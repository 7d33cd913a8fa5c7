// The user's own description of a device's registers, TOML. Only reading is known here: the program has no
// call that writes to a device. docs/polling.md.
//
//   every = "60 s"
//
//   [[device]]
//   name = "panel meter"
//   tcp = "192.0.2.7:502"        # or serial = "/dev/ttyUSB0" with baud, parity, stop_bits
//   unit = 1
//   timeout = "1 s"
//   first_register = 0           # 1 or 40001: addresses as printed in many manuals
//
//   [[device.value]]
//   series = "riser-a.sensor"
//   quantity = "temperature"
//   place = "riser-a"
//   table = "holding"            # or "input", "coil", "discrete"
//   address = 100
//   type = "f32"                 # i16 u16 i32 u32 i64 u64 f32 f64 bit
//   words = "high-first"         # or "low-first", of what is wider than a register
//   bytes = "high-first"         # or "low-first", within a register
//   scale = 0.1
//   offset = 0
//   unit = "°F"
//   valid = [-20, 120]
//   bit = 3                      # of a register, with type "bit"
#pragma once

#include <cstdint>
#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"
#include "job/job.hpp"
#include "units/quantity.hpp"

namespace firstdraw::watch {

enum class RegisterTable { holding, input, coil, discrete };
enum class RegisterType { i16, u16, i32, u32, i64, u64, f32, f64, bit };
std::string_view name_of(RegisterTable table);
std::string_view name_of(RegisterType type);

struct RegisterValue {
  std::string series{}, quantity{}, place{};
  RegisterTable table = RegisterTable::holding;
  int address = 0;  // as written; the device's first_register is taken off on the wire
  RegisterType type = RegisterType::u16;
  bool high_word_first = true, high_byte_first = true;
  double scale = 1, offset = 0;
  std::string unit{};  // of scale * raw + offset; empty: SI
  std::optional<int> bit{};
  std::optional<double> least{}, most{};  // valid, in `unit`
  job::Place where{};
};
struct Device {
  std::string name{};
  std::string host{};  // tcp
  int port = 502;
  std::string serial{};  // path; empty: tcp
  int baud = 9600, data_bits = 8, stop_bits = 1;
  char parity = 'E';  // N, E, O
  int unit = 1;
  double timeout_s = 1;
  int first_register = 0;
  std::vector<RegisterValue> values{};
  job::Place where{};
};
struct RegisterMap {
  double every_s = 60;
  std::vector<Device> devices{};
  std::vector<job::Assumption> assumptions{};  // what was left out and taken
};

/// Strict: unknown keys, names that lead nowhere, addresses that overlap or do not exist, series named twice,
/// one serial line described in two ways are all collected, each with file, line, field, what was expected
/// and the nearest name. `circuits`: ids that the plan gives, besides those of circuits.csv.
std::expected<RegisterMap, std::vector<job::Diagnostic>> read_register_map(
    std::string_view toml, std::string_view file_name, const job::Job& job,
    std::span<const std::string> circuits = {});

/// Value of the registers as they came (host order, one register a word; of coils and discrete inputs one
/// word of 0 or 1), SI. nullopt: not a number, outside `valid`, or not as many registers as the type has.
std::optional<double> decode(const RegisterValue& value, const std::vector<std::uint16_t>& registers);
int registers_of(RegisterType type);
/// What goes over the wire, from 0.
inline int wire_address(const Device& device, const RegisterValue& value) {
  return value.address - device.first_register;
}
/// Quantities that a value may be of, and the kind of unit each has.
struct WatchedQuantity {
  std::string_view name;
  units::Kind kind{};
};
std::span<const WatchedQuantity> watched_quantities();

}  // namespace firstdraw::watch
