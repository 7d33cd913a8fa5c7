// A job folder: read strictly; what is accepted is written and read back to the same job.
#include <set>

#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "job/folder.hpp"

namespace firstdraw::fuzz {
namespace {

namespace fs = std::filesystem;

void fill(const fs::path& folder, std::string_view input) {
  static const std::set<std::string, std::less<>> known{"job.toml",       "runs.csv",      "outlets.csv",
                                                        "circuits.csv",   "tariff.csv",    "tariff.json",
                                                        "catalog/a.toml", "catalog/b.toml"};
  fs::create_directories(folder / "catalog");
  for (const auto& [name, text] : files_in(input))
    if (known.contains(name)) write(folder / name, text);
}

void check_again(job::Job job) {
  const fs::path copy = empty_folder("copy");
  if (!job::write_job(job, copy)) broken("a job that was read can be written");
  const auto again = job::read_job(copy);
  if (!again) {
    for (const auto& problem : again.error()) std::fprintf(stderr, "%s\n", problem.text().c_str());
    broken("a job that was written can be read");
  }
  // What was assumed is written out, and is then no assumption any more.
  job.assumptions = again->assumptions;
  if (!(*again == job)) broken("a job that was written reads back to the same");
}

}  // namespace

int one_job_folder(const std::uint8_t* data, std::size_t size) {
  const fs::path folder = empty_folder("job");
  fill(folder, text_of(data, size));
  const auto job = job::read_job(folder);
  if (job) {
    check_again(*job);
  } else if (job.error().empty()) {
    broken("a job that is refused has a reason");
  } else {
    for (const auto& problem : job.error()) static_cast<void>(problem.text());
  }
  return 0;
}

}  // namespace firstdraw::fuzz
