// In place of the page where it is not built in.
#include "serve/embedded_page.hpp"

namespace firstdraw::serve {

const std::vector<std::pair<std::string_view, std::string_view>>& embedded_page() {
  static const std::vector<std::pair<std::string_view, std::string_view>> none;
  return none;
}

}  // namespace firstdraw::serve
