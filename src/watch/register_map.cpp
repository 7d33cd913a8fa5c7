#include "watch/register_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <map>

#include "job/toml_reader.hpp"
#include "watch/register_overlap.hpp"

namespace firstdraw::watch {
namespace {

using job::assume;
using job::blank;
using job::Named;
using job::needed;
using job::Range;
using job::TomlReader;
using units::Kind;

constexpr std::array<Named<RegisterTable>, 4> tables{{{RegisterTable::holding, "holding"},
                                                      {RegisterTable::input, "input"},
                                                      {RegisterTable::coil, "coil"},
                                                      {RegisterTable::discrete, "discrete"}}};
constexpr std::array<Named<RegisterType>, 9> types{{{RegisterType::i16, "i16"},
                                                    {RegisterType::u16, "u16"},
                                                    {RegisterType::i32, "i32"},
                                                    {RegisterType::u32, "u32"},
                                                    {RegisterType::i64, "i64"},
                                                    {RegisterType::u64, "u64"},
                                                    {RegisterType::f32, "f32"},
                                                    {RegisterType::f64, "f64"},
                                                    {RegisterType::bit, "bit"}}};
constexpr std::array<Named<bool>, 2> orders{{{true, "high-first"}, {false, "low-first"}}};
constexpr std::array<Named<char>, 3> parities{{{'E', "even"}, {'O', "odd"}, {'N', "none"}}};
constexpr std::array<WatchedQuantity, 7> quantities{{{"temperature", Kind::temperature},
                                                     {"current", Kind::current},
                                                     {"voltage", Kind::voltage},
                                                     {"power", Kind::power},
                                                     {"duty", Kind::fraction},
                                                     {"on", Kind::fraction},
                                                     {"set-point", Kind::temperature}}};
constexpr int bauds[]{1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};

constexpr Range round_s{1, 86400, false, "between 1 s and 24 h"};
constexpr Range timeout_s{0.05, 30, false, "between 0.05 s and 30 s"};
constexpr Range unit_range{0, 255, false, "between 0 and 255"};
constexpr Range port_range{1, 65535, false, "between 1 and 65535"};
constexpr Range first_range{0, 500000, false, "between 0 and 500000, mostly 0, 1 or 40001"};
constexpr Range address_range{0, 600000, false, "zero or more"};
constexpr Range bit_range{0, 15, false, "between 0 (lowest) and 15"};
constexpr Range any_number{-1e15, 1e15, false, "a number"};

/// What reading the devices needs to know and remembers.
struct Maps {
  std::string_view file;
  job::Context& context;
  std::vector<std::string> places;
  std::map<std::string, int, std::less<>> series_line, device_line;
};

std::vector<std::string> places_of(const job::Job& job, std::span<const std::string> circuits) {
  std::vector<std::string> ids(circuits.begin(), circuits.end());
  for (const auto& group : job.groups) ids.push_back(group.id);
  for (const auto& circuit : job.known_circuits) ids.push_back(circuit.id);
  for (const auto& run : job.runs) ids.push_back(run.id);
  for (const auto& outlet : job.outlets) ids.push_back(outlet.id);
  return ids;
}

Kind kind_of(std::string_view quantity) {
  const auto at = std::ranges::find(quantities, quantity, &WatchedQuantity::name);
  return at == quantities.end() ? Kind::fraction : at->kind;
}

bool is_bits(RegisterTable table) { return table == RegisterTable::coil || table == RegisterTable::discrete; }

void claim(std::map<std::string, int, std::less<>>& lines, TomlReader& read, std::string_view key,
           const std::string& name) {
  if (name.empty()) return;
  const auto [known, added] = lines.try_emplace(name, read.where(key).line);
  if (!added)
    read.problem(key, fmt::format("\"{}\" is there twice, first on line {}", name, known->second),
                 "give every one a name of its own");
}

void read_names(TomlReader& read, RegisterValue& value, Maps& maps) {
  read.text("series", value.series, needed);
  if (!value.series.empty()) {
    if (auto wrong = job::wrong_id(value.series)) read.problem("series", *wrong);
  }
  claim(maps.series_line, read, "series", value.series);
  std::vector<std::string> known;
  for (const auto& quantity : quantities) known.emplace_back(quantity.name);
  read.known("quantity", value.quantity, known, needed);
  read.text("place", value.place, blank);
  if (!value.place.empty() && std::ranges::find(maps.places, value.place) == maps.places.end())
    read.problem("place", fmt::format("there is no group, circuit, run or outlet \"{}\"", value.place),
                 job::did_you_mean(value.place, maps.places));
}

void read_unit(TomlReader& read, const toml::table& table, RegisterValue& value) {
  const bool plain = value.quantity == "on" || value.quantity == "duty";
  const Kind kind = kind_of(value.quantity);
  const auto si = std::string(units::display_unit(kind, units::System::metric));
  if (plain || value.quantity.empty()) {
    read.text("unit", value.unit, blank);
  } else {
    // In metric a current, a voltage and a power may be shown in a larger unit than the SI one.
    const std::string name = kind == Kind::temperature ? "°C" : kind == Kind::power ? "W" : si;
    read.text("unit", value.unit, assume<std::string>(name, "SI where the map names no unit"));
  }
  if (value.unit.empty() || value.quantity.empty() || !table.get("unit")) return;
  if (const auto known = units::to_si(1, value.unit, kind); !known) read.problem("unit", known.error());
}

void read_valid(TomlReader& read, RegisterValue& value) {
  const auto* pair = read.list("valid", "a list of the least and the most");
  if (!pair) return;
  const auto number = [&](std::size_t i) {
    return pair->size() == 2 && (*pair)[i].is_number() ? (*pair)[i].value<double>() : std::nullopt;
  };
  const auto low = number(0), high = number(1);
  if (!low || !high || !(*low < *high) || !std::isfinite(*low) || !std::isfinite(*high))
    return read.problem("valid",
                        "two plain numbers were expected, the least and the most: valid = [-20, 120]");
  value.least = low;
  value.most = high;
}

void read_layout(TomlReader& read, const toml::table& table, RegisterValue& value) {
  read.choice("table", value.table, tables, needed);
  read.integer("address", value.address, address_range, needed);
  const bool bits = is_bits(value.table);
  if (bits) {
    read.choice("type", value.type, types, job::of_no_effect(RegisterType::bit));
    if (value.type != RegisterType::bit)
      read.problem("type",
                   fmt::format("a {} is one bit wide: type \"bit\" was expected", name_of(value.table)),
                   "leave type out, or read another table");
  } else {
    read.choice("type", value.type, types, needed);
  }
  const bool wide = registers_of(value.type) > 1;
  read.choice("words", value.high_word_first, orders,
              wide ? assume(true,
                            "high word first is the commoner order, but no rule: compare a reading "
                            "with the device's own display")
                   : job::of_no_effect(true));
  if (!wide && table.get("words"))
    read.problem("words", "is the order of several registers, and this value has one", "leave it out");
  read.choice("bytes", value.high_byte_first, orders, job::of_no_effect(true));
  int bit = -1;
  const bool bit_needed = value.type == RegisterType::bit && !bits;
  read.integer("bit", bit, bit_range, bit_needed ? job::Need<int>(needed) : job::of_no_effect(-1));
  if (bit_needed && bit >= 0) value.bit = bit;
  if (!bit_needed && table.get("bit"))
    read.problem("bit", "counts the bits of a register, with type \"bit\"", "leave it out");
}

RegisterValue read_value(const toml::table& table, const std::string& path, Maps& maps) {
  RegisterValue value;
  TomlReader read(table, maps.file, path, maps.context);
  value.where = {std::string(maps.file), read.where().line};
  read_names(read, value, maps);
  read_layout(read, table, value);
  read.number("scale", value.scale, any_number, job::of_no_effect(1.0));
  if (value.scale == 0) read.problem("scale", "must not be zero");
  read.number("offset", value.offset, any_number, job::of_no_effect(0.0));
  read_unit(read, table, value);
  read_valid(read, value);
  read.finish();
  return value;
}

/// "192.0.2.7", "192.0.2.7:502", "meter.example:1502", "[2001:db8::7]:502".
void read_tcp(TomlReader& read, Device& device) {
  std::string text;
  read.text("tcp", text, blank);
  if (text.empty()) return;
  const bool bracketed = text.front() == '[';
  const auto close = bracketed ? text.find(']') : std::string::npos;
  const auto colon = bracketed ? text.find(':', close == std::string::npos ? 0 : close) : text.find(':');
  device.host =
      bracketed ? text.substr(1, close == std::string::npos ? close : close - 1) : text.substr(0, colon);
  const bool odd =
      device.host.empty() || device.host.find_first_of(" \t/@\\") != std::string::npos ||
      (bracketed && (close == std::string::npos || (colon != close + 1 && close + 1 != text.size())));
  if (odd) return read.problem("tcp", fmt::format("\"{}\" is no address", text), "such as \"192.0.2.7:502\"");
  if (colon == std::string::npos)
    return read.assume("tcp", fmt::format("port {}", device.port), "the port that Modbus TCP is given");
  const auto port = job::read_integer(std::string_view(text).substr(colon + 1), port_range);
  if (!port) return read.problem("tcp", "the port: " + port.error(), "such as \"192.0.2.7:502\"");
  device.port = *port;
}

void read_serial(TomlReader& read, const toml::table& table, Device& device) {
  read.text("serial", device.serial, blank);
  const bool serial = !device.serial.empty();
  read.integer("baud", device.baud, job::range::any,
               serial ? job::Need<int>(needed) : job::of_no_effect(9600));
  if (std::ranges::find(bauds, device.baud) == std::end(bauds))
    read.problem("baud", fmt::format("expected one of {}", fmt::join(bauds, ", ")));
  read.choice("parity", device.parity, parities, serial ? job::Need<char>(needed) : job::of_no_effect('E'));
  const int usual = device.parity == 'N' ? 2 : 1;
  constexpr Range one_or_two{1, 2, false, "1 or 2"};
  read.integer("stop_bits", device.stop_bits, one_or_two,
               serial ? assume(usual, "eleven bits a character: one stop bit with parity, two without")
                      : job::of_no_effect(1));
  for (const auto* key : {"baud", "parity", "stop_bits"}) {
    if (!serial && table.get(key)) read.problem(key, "is of a serial line, and this device has none");
  }
}

void read_line(TomlReader& read, const toml::table& table, Device& device) {
  read_tcp(read, device);
  read_serial(read, table, device);
  const bool tcp = table.get("tcp"), serial = table.get("serial");
  if (tcp && serial) read.problem("serial", "a device is on a network or on a serial line, not on both");
  if (!tcp && !serial)
    read.problem("tcp", "is missing, and so is serial",
                 "add tcp = \"192.0.2.7:502\" or serial = \"/dev/ttyUSB0\"");
  read.integer("unit", device.unit, unit_range, needed);
  const bool taken = device.unit <= 247 && device.unit >= 1;
  if (serial && table.get("unit") && !taken)
    read.problem("unit", "must be between 1 and 247 on a serial line", "0 is for all and nobody answers it");
  if (!serial && device.unit > 247 && device.unit != 255)
    read.problem("unit", "must be between 0 and 247, or 255");
}

void read_device(const toml::table& table, std::size_t number, RegisterMap& map, Maps& maps) {
  Device& device = map.devices.emplace_back();
  std::string path = fmt::format("device[{}]", number);
  if (const auto* name = table.get_as<std::string>("name")) path = "device." + name->get();
  TomlReader read(table, maps.file, path, maps.context);
  device.where = {std::string(maps.file), read.where().line};
  read.text("name", device.name, needed);
  claim(maps.device_line, read, "name", device.name);
  read_line(read, table, device);
  read.quantity("timeout", device.timeout_s, Kind::duration, timeout_s,
                assume(1.0, "long enough for most devices; a gateway to a serial line may need more"));
  read.integer("first_register", device.first_register, first_range,
               assume(0, "addresses as they go over the wire, from 0; manuals often print one more"));
  const auto* values = read.list("value", "a list of sections, [[device.value]],");
  if (values ? values->empty() : !table.get("value"))
    read.problem("value", "needs at least one [[device.value]]");
  for (std::size_t i = 0; values && i < values->size(); ++i) {
    const std::string at = fmt::format("{}.value[{}]", path, i + 1);
    if (const auto* row = (*values)[i].as_table()) {
      device.values.push_back(read_value(*row, at, maps));
    } else {
      read.problem("value", "a [[device.value]] was expected");
    }
  }
  read.finish();
}

void read_devices(const toml::table& root, RegisterMap& map, Maps& maps) {
  TomlReader read(root, maps.file, "", maps.context);
  read.quantity("every", map.every_s, Kind::duration, round_s, assume(60.0, "a reading a minute"));
  const auto* devices = read.list("device", "a list of sections, [[device]],");
  if (devices ? devices->empty() : !root.get("device"))
    read.problem("device", "needs at least one [[device]]");
  for (std::size_t i = 0; devices && i < devices->size(); ++i) {
    if (const auto* device = (*devices)[i].as_table()) {
      read_device(*device, i + 1, map, maps);
    } else {
      read.problem("device", "a [[device]] was expected");
    }
  }
  read.finish();
}

std::optional<toml::table> parsed(std::string_view text, std::string_view file, job::Context& context) {
  try {
    return toml::parse(text);
  } catch (const toml::parse_error& error) {
    const auto& begin = error.source().begin;
    context.problem({file, static_cast<int>(begin.line), static_cast<int>(begin.column)}, "",
                    fmt::format("is not TOML here: {}", error.description()),
                    "the rest of the file was not read");
    return std::nullopt;
  }
}

}  // namespace

std::span<const WatchedQuantity> watched_quantities() { return quantities; }

std::string_view name_of(RegisterTable table) {
  return std::ranges::find(tables, table, &Named<RegisterTable>::value)->name;
}

std::string_view name_of(RegisterType type) {
  return std::ranges::find(types, type, &Named<RegisterType>::value)->name;
}

int registers_of(RegisterType type) {
  switch (type) {
    case RegisterType::i32:
    case RegisterType::u32:
    case RegisterType::f32:
      return 2;
    case RegisterType::i64:
    case RegisterType::u64:
    case RegisterType::f64:
      return 4;
    default:
      return 1;
  }
}

std::expected<RegisterMap, std::vector<job::Diagnostic>> read_register_map(
    std::string_view toml, std::string_view file_name, const job::Job& job,
    std::span<const std::string> circuits) {
  job::Context context;
  context.system = job.units;
  const auto root = parsed(toml, file_name, context);
  RegisterMap map;
  if (root) {
    Maps maps{file_name, context, places_of(job, circuits), {}, {}};
    read_devices(*root, map, maps);
    if (context.problems.empty()) check_lines_and_addresses(map, file_name, context);
  }
  if (!context.problems.empty()) return std::unexpected(std::move(context.problems));
  map.assumptions = std::move(context.assumptions);
  return map;
}

namespace {

double number_of(RegisterType type, std::uint64_t raw) {
  switch (type) {
    case RegisterType::i16:
      return std::bit_cast<std::int16_t>(static_cast<std::uint16_t>(raw));
    case RegisterType::i32:
      return std::bit_cast<std::int32_t>(static_cast<std::uint32_t>(raw));
    case RegisterType::i64:
      return static_cast<double>(std::bit_cast<std::int64_t>(raw));
    case RegisterType::f32:
      return static_cast<double>(std::bit_cast<float>(static_cast<std::uint32_t>(raw)));
    case RegisterType::f64:
      return std::bit_cast<double>(raw);
    default:
      return static_cast<double>(raw);
  }
}

}  // namespace

std::optional<double> decode(const RegisterValue& value, const std::vector<std::uint16_t>& registers) {
  const auto count = static_cast<std::size_t>(registers_of(value.type));
  if (registers.size() != count) return std::nullopt;
  std::uint64_t raw = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const unsigned word = registers[value.high_word_first ? i : count - 1 - i];
    raw = raw << 16 | (value.high_byte_first || is_bits(value.table) ? word : (word & 0xff) << 8 | word >> 8);
  }
  if (value.type == RegisterType::bit) raw = value.bit ? raw >> *value.bit & 1 : raw != 0;
  const double shown = value.scale * number_of(value.type, raw) + value.offset;
  if (!std::isfinite(shown)) return std::nullopt;
  if ((value.least && shown < *value.least) || (value.most && shown > *value.most)) return std::nullopt;
  if (value.unit.empty()) return shown;
  const auto si = units::to_si(shown, value.unit, kind_of(value.quantity));
  return si && std::isfinite(*si) ? std::optional(*si) : std::nullopt;
}

}  // namespace firstdraw::watch
