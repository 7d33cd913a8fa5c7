#pragma once

#include <string>

/// Where a test or bench finds examples, schemas and the program. In an object file of its own, so that
/// no other depends on the folder and a clone elsewhere can use what the compiler cache holds.
namespace firstdraw::places {

/// The folder of the sources, absolute, without a final slash.
std::string sources();

/// The folder of this build, absolute, without a final slash.
std::string build();

}  // namespace firstdraw::places
