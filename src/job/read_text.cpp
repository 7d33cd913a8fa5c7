#include "job/read_files.hpp"

namespace firstdraw::job {

std::optional<std::string> read_text(const std::filesystem::path& folder, std::string_view name,
                                     Context& context) {
  return FolderSource(folder).text(name, context);
}

}  // namespace firstdraw::job
