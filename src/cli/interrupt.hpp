// Ctrl-C during long work: the first is noted, so that what is done can be kept; the second ends the program.
#pragma once

#include <csignal>

namespace firstdraw::cli {

/// One at a time; the shell's own handling comes back when it goes.
class Interrupt {
 public:
  Interrupt();
  ~Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  /// May be called from any thread.
  static bool asked();

 private:
  struct sigaction before_{};
};

}  // namespace firstdraw::cli
