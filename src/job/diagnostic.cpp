#include "job/diagnostic.hpp"

#include <fmt/format.h>

namespace firstdraw::job {

std::string Diagnostic::text() const {
  std::string out = file;
  if (line > 0) out += fmt::format(":{}", line);
  if (line > 0 && column > 0) out += fmt::format(":{}", column);
  if (!field.empty()) out += (out.empty() ? "" : ": ") + field;
  out += (out.empty() ? "" : ": ") + message;
  if (!hint.empty()) out += fmt::format(" ({})", hint);
  return out;
}

}  // namespace firstdraw::job
