#include "watch/logged.hpp"

#include <algorithm>

namespace firstdraw::watch {

const LoggedSeries* Logged::find(std::string_view quantity, std::string_view place) const {
  const auto found = std::ranges::find_if(series, [&](const LoggedSeries& one) {
    return one.info.quantity == quantity && one.info.place == place;
  });
  return found == series.end() ? nullptr : &*found;
}

}  // namespace firstdraw::watch
