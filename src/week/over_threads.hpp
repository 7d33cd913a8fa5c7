// Independent pieces of work over threads; what comes out does not depend on their number.
#pragma once

#include <cstddef>
#include <functional>

namespace firstdraw::week {

/// body(i) for every i below `count`.
void over_threads(int threads, std::size_t count, const std::function<void(std::size_t)>& body);

}  // namespace firstdraw::week
