// The files of web/dist, built into the program: written by cmake/embed-page.mjs.
#pragma once

#include <string_view>
#include <utility>
#include <vector>

namespace firstdraw::serve {

/// Path and bytes.
const std::vector<std::pair<std::string_view, std::string_view>>& embedded_page();

}  // namespace firstdraw::serve
