// Where a wrong setting is seen and what harm it does, in words.
#pragma once

#include "settings/readings.hpp"
#include "settings/wrong_kinds.hpp"

namespace firstdraw::settings {

/// Fills `seen` and `harm` from the figures.
void say(const Lab& lab, const Wrong& wrong, WrongSetting& setting);

}  // namespace firstdraw::settings
