// How long something took.
#pragma once

#include <chrono>

namespace firstdraw::serve {

class Watch {
 public:
  double elapsed_ms() const {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin_).count();
  }

 private:
  std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

}  // namespace firstdraw::serve
