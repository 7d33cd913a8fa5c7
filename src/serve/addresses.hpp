// How this machine is called in its network.
#pragma once

#include <string>
#include <vector>

namespace firstdraw::serve {

/// The machine's name, that name in .local, then its addresses (IPv4 first) without loopback and link-local
/// ones.
std::vector<std::string> names_of_this_machine();
std::vector<std::string> addresses_of_this_machine();

}  // namespace firstdraw::serve
