// Planted faults in words, and what finds them where no alarm does.
#pragma once

#include <string>

#include "settings/plant_faults.hpp"

namespace firstdraw::settings {

std::string fault_words(const Lab& lab, forecast::FaultKind kind, const std::string& place);
/// `followed_after_s`: until an alarm that follows the set-point would show it; infinity: none would.
std::string otherwise_words(const Lab& lab, forecast::FaultKind kind, const std::string& place,
                            double followed_after_s);

}  // namespace firstdraw::settings
