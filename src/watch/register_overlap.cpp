#include "watch/register_overlap.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace firstdraw::watch {
namespace {

constexpr int addresses = 65536;

std::string field_of(const Device& device, const RegisterValue& value, std::string_view key) {
  return fmt::format("device.{}.{}.{}", device.name, value.series, key);
}

/// One value's registers, or one bit of one.
struct Span {
  int first = 0, last = 0, bit = -1;
  const Device* device = nullptr;
  const RegisterValue* value = nullptr;
};

bool overlap(const Span& a, const Span& b) {
  return b.first <= a.last && (a.bit < 0 || b.bit < 0 || a.bit == b.bit);
}

using Key = std::tuple<std::string, int, RegisterTable>;

void check_address(const Device& device, const RegisterValue& value, std::string_view file,
                   job::Context& context) {
  const int wire = wire_address(device, value), width = registers_of(value.type);
  if (wire >= 0 && wire + width <= addresses) return;
  const int base = device.first_register;
  context.problem({file, value.where.line}, field_of(device, value, "address"),
                  fmt::format("{} is no address of a {} register: expected {} to {} for {}", value.address,
                              name_of(value.table), base, base + addresses - width, name_of(value.type)),
                  base > 0 ? fmt::format("first_register is {}", base) : "");
}

void check_overlaps(std::vector<Span>& spans, std::string_view file, job::Context& context) {
  std::ranges::stable_sort(spans, {}, [](const Span& s) { return std::pair(s.first, s.bit); });
  for (std::size_t i = 0; i < spans.size(); ++i) {
    for (std::size_t j = i + 1; j < spans.size() && spans[j].first <= spans[i].last; ++j) {
      if (!overlap(spans[i], spans[j])) continue;
      const auto& [first, second] = std::minmax(spans[i], spans[j], [](const Span& a, const Span& b) {
        return a.value->where.line < b.value->where.line;
      });
      context.problem({file, second.value->where.line}, field_of(*second.device, *second.value, "address"),
                      fmt::format("{} is read already, as \"{}\" on line {}", second.value->address,
                                  first.value->series, first.value->where.line),
                      "a register holds one value, or bits that each have a number of their own");
      break;  // one complaint a value is enough
    }
  }
}

void check_serial(const RegisterMap& map, std::string_view file, job::Context& context) {
  std::map<std::string, const Device*> lines;
  for (const Device& device : map.devices) {
    const auto [known, added] = lines.try_emplace(line_of(device), &device);
    const Device& first = *known->second;
    const bool same =
        first.baud == device.baud && first.parity == device.parity && first.stop_bits == device.stop_bits;
    if (!added && !device.serial.empty() && !same)
      context.problem({file, device.where.line}, fmt::format("device.{}.serial", device.name),
                      fmt::format("{} has another baud, parity or stop_bits at \"{}\", line {}",
                                  device.serial, first.name, first.where.line),
                      "everything on one line speaks alike");
  }
  if (lines.size() > most_lines)
    context.problem({file, 0}, "device",
                    fmt::format("{} connections and serial lines are more than {}", lines.size(), most_lines),
                    "use several maps");
}

}  // namespace

std::string line_of(const Device& device) {
  if (!device.serial.empty()) return device.serial;
  const bool six = device.host.find(':') != std::string::npos;
  return six ? fmt::format("[{}]:{}", device.host, device.port)
             : fmt::format("{}:{}", device.host, device.port);
}

void check_lines_and_addresses(const RegisterMap& map, std::string_view file, job::Context& context) {
  check_serial(map, file, context);
  std::map<Key, std::vector<Span>> spans;
  for (const Device& device : map.devices) {
    for (const RegisterValue& value : device.values) {
      check_address(device, value, file, context);
      const int wire = wire_address(device, value);
      spans[{line_of(device), device.unit, value.table}].push_back(
          {wire, wire + registers_of(value.type) - 1, value.bit.value_or(-1), &device, &value});
    }
  }
  for (auto& [key, of_one] : spans) check_overlaps(of_one, file, context);
}

}  // namespace firstdraw::watch
