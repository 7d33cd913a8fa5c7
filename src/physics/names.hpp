// Names as people write them: capitals, blanks and hyphens do not matter.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::physics {

/// Lower case, without blanks, hyphens and underscores.
std::string folded(std::string_view name);

/// The parts of "a|b|c".
std::vector<std::string> split_names(std::string_view bars);

}  // namespace firstdraw::physics
