#include "watch/poll_requests.hpp"

#include <algorithm>

namespace firstdraw::watch {
namespace {

bool is_bits(RegisterTable table) { return table == RegisterTable::coil || table == RegisterTable::discrete; }

/// Whether `request` can take on registers `first` to `end` (excluded).
bool takes(const PollRequest& request, RegisterTable table, int first, int end) {
  const int hole = is_bits(table) ? largest_hole_bits : largest_hole_registers;
  const int most = is_bits(table) ? most_bits : most_registers;
  return request.table == table && first - (request.first + request.count) <= hole &&
         end - request.first <= most;
}

}  // namespace

std::vector<PollRequest> requests_of(const Device& device) {
  std::vector<const RegisterValue*> values;
  for (const RegisterValue& value : device.values) values.push_back(&value);
  std::ranges::stable_sort(values, {},
                           [](const RegisterValue* v) { return std::pair(v->table, v->address); });
  std::vector<PollRequest> requests;
  for (const RegisterValue* value : values) {
    const int first = wire_address(device, *value), end = first + registers_of(value->type);
    if (requests.empty() || !takes(requests.back(), value->table, first, end))
      requests.push_back({value->table, first, 0, {}});
    PollRequest& request = requests.back();
    request.count = std::max(request.count, end - request.first);
    request.values.push_back(value);
  }
  return requests;
}

std::vector<PollRequest> split(const Device& device, const PollRequest& request) {
  std::vector<PollRequest> single;
  for (const RegisterValue* value : request.values)
    single.push_back({value->table, wire_address(device, *value), registers_of(value->type), {value}});
  return single;
}

std::vector<std::uint16_t> registers_in(std::span<const std::uint16_t> answer, const Device& device,
                                        const PollRequest& request, const RegisterValue& value) {
  const auto at = static_cast<std::size_t>(wire_address(device, value) - request.first);
  const auto width = static_cast<std::size_t>(registers_of(value.type));
  if (at + width > answer.size()) return {};
  const auto own = answer.subspan(at, width);
  return {own.begin(), own.end()};
}

}  // namespace firstdraw::watch
