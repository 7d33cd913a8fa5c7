#include "serve/new_job.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <map>

#include "desk/change.hpp"
#include "job/folder.hpp"

const std::map<std::string_view, std::string_view>& embedded_serve();

namespace firstdraw::serve {
namespace fs = std::filesystem;
namespace {

/// The example's catalogue with a building that has a heater and one level.
void leave_blank(desk::JobText& text) {
  text["job.toml"] = embedded_serve().at("blank-job.toml");
  text["runs.csv"] = embedded_serve().at("blank-runs.csv");
  text["outlets.csv"] = embedded_serve().at("blank-outlets.csv");
}

std::vector<desk::Change> wishes(const NewJob& asked) {
  std::vector<desk::Change> changes;
  if (!asked.name.empty()) changes.emplace_back(desk::SetCell{"site", "", "name", asked.name, {}});
  if (asked.units) changes.emplace_back(desk::SetCell{"units", "", "show", *asked.units, {}});
  return changes;
}

Maybe<void> fill(const fs::path& folder, const NewJob& asked) {
  if (auto written = job::write_template(folder); !written) return refuse(std::move(written.error()));
  auto before = desk::load(folder);
  if (!before) return refuse(std::move(before.error()));
  desk::JobText text = *before;
  if (asked.start == "blank") leave_blank(text);
  auto changed = desk::apply(text, wishes(asked));
  if (!changed) return refuse(std::move(changed.error().problems));
  if (auto saved = desk::save(*changed, *before, folder); !saved) return refuse(std::move(saved.error()));
  return {};
}

}  // namespace

Maybe<fs::path> make_job_folder(const fs::path& place, const NewJob& asked) {
  fs::path folder = place / asked.id;
  std::error_code error;
  if (fs::exists(fs::symlink_status(folder, error)))
    return refuse(Why::conflict, fmt::format("there is a \"{}\" here already", asked.id),
                  "choose another name", "id");
  const fs::path beside = place / fmt::format(".{}.part-{}", asked.id, getpid());
  auto filled = fill(beside, asked);
  if (filled) fs::rename(beside, folder, error);
  if (filled && !error) return folder;
  const std::string why = error.message();
  fs::remove_all(beside, error);
  if (!filled) return std::unexpected(std::move(filled.error()));
  return refuse(Why::failed, fmt::format("the folder {} cannot be made: {}", asked.id, why));
}

}  // namespace firstdraw::serve
