// A job as it is written: the text of each file of its folder, by name ("job.toml", "catalog/LT-8.toml").
// What people edit. Comments, order and spelling of what an edit does not touch stay as they are.
#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "job/diagnostic.hpp"
#include "job/job.hpp"

namespace firstdraw::desk {

using JobText = std::map<std::string, std::string>;

/// job.toml, the three tables, catalog/*.toml, and other .csv and .json files of up to 16 MB, one of which
/// may be the tariff's.
job::Result<JobText> load(const std::filesystem::path& folder);
/// job::read_job over text that lies in memory; `folder` names the job in what it says.
job::Result<job::Job> read(const JobText& text, const std::filesystem::path& folder);
/// Only files that differ from `before`, all beside their place and flushed first, then moved in; files that
/// are gone are removed. On failure the files that were there are there again. docs/editing.md says what a
/// crash leaves.
job::Result<void> save(const JobText& text, const JobText& before, const std::filesystem::path& folder);

}  // namespace firstdraw::desk
