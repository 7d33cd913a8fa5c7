// What can only be judged when every device of a register map has been read.
#pragma once

#include "job/context.hpp"
#include "watch/register_map.hpp"

namespace firstdraw::watch {

/// Addresses that do not exist or are read twice, a serial line described in two ways, too many lines.
void check_lines_and_addresses(const RegisterMap& map, std::string_view file, job::Context& context);

/// "192.0.2.7:502" or the path of the serial line: devices with the same one share it.
std::string line_of(const Device& device);
/// Lines that are read at the same time, at most.
inline constexpr std::size_t most_lines = 250;

}  // namespace firstdraw::watch
