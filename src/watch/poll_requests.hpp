// Which requests read a device's values: neighbours in one.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "watch/register_map.hpp"

namespace firstdraw::watch {

/// One read of `count` registers (or bits) from `first` on the wire.
struct PollRequest {
  RegisterTable table{};
  int first = 0, count = 0;
  std::vector<const RegisterValue*> values{};  // of the device it was made from, by address
  bool operator==(const PollRequest&) const = default;
};

/// The most that one request may ask for, by the protocol (registers; bits could be 2000, 125 times 16).
inline constexpr int most_registers = 125, most_bits = 2000;
/// Unused addresses that are read along rather than asking twice. On a serial line at least 13 characters
/// and two silent gaps of 3.5 go with every request and answer, which is more than 8 registers of 2.
inline constexpr int largest_hole_registers = 8, largest_hole_bits = 128;

std::vector<PollRequest> requests_of(const Device& device);
/// The same values, each by itself: for a device that refuses the holes.
std::vector<PollRequest> split(const Device& device, const PollRequest& request);

/// Registers of one value out of an answer to `request`.
std::vector<std::uint16_t> registers_in(std::span<const std::uint16_t> answer, const Device& device,
                                        const PollRequest& request, const RegisterValue& value);

}  // namespace firstdraw::watch
