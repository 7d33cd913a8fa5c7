// What can go wrong with a store that is nobody's mistake in the program.
#pragma once

#include <expected>
#include <string>

namespace firstdraw::store {

enum class FailureKind {
  unreachable,  // no such file, no server, connection lost; trying again later may help
  full,         // no space left
  busy,         // somebody else held it for longer than one waits
  refused,      // not permitted, read-only
  newer,        // written by a later version of this program
  damaged,      // not a store, or a store whose contents contradict themselves
  bad_input,    // what was to be written is not acceptable; nothing was written
};
struct Failure {
  FailureKind kind{};
  std::string what;    // one sentence, with the path or address but never a password
  std::string remedy;  // one sentence: what to do
};
template <class T>
using Result = std::expected<T, Failure>;

}  // namespace firstdraw::store
