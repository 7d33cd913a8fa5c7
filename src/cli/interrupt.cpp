#include "cli/interrupt.hpp"

#include <atomic>

namespace firstdraw::cli {
namespace {

std::atomic<bool> interrupted = false;
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may only touch what needs no lock");

extern "C" void note_interrupt(int) { interrupted = true; }

}  // namespace

Interrupt::Interrupt() {
  interrupted = false;
  struct sigaction action{};
  action.sa_handler = note_interrupt;
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  sigaction(SIGINT, &action, &before_);
}

Interrupt::~Interrupt() { sigaction(SIGINT, &before_, nullptr); }

bool Interrupt::asked() { return interrupted; }

}  // namespace firstdraw::cli
