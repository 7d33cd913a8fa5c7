// Putting a job's text on the disk so that a crash leaves either the old or the new files.
//
// Every file is completed and flushed beside its place ("runs.csv.new"). One file is then moved in, which the
// file system does at once. For several, a list of them is flushed first (".firstdraw-saving"): whoever opens
// the folder after a crash finishes what the list says. What another program wrote in between is not
// overwritten: ours is then kept as "runs.csv.unsaved".
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "desk/job_text.hpp"

namespace firstdraw::desk {

/// Names of the files of a job, sorted within the folder and within catalog/.
job::Result<std::vector<std::string>> names_of_job(const std::filesystem::path& folder);
/// A file that a job may have: no name leads out of the folder.
bool good_name(const std::string& name);

/// Holds the folder against other desks, also those of other programs, while it lives. A file system that
/// knows no such locks is used without.
class FolderLock {
 public:
  explicit FolderLock(const std::filesystem::path& folder);
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  ~FolderLock();

 private:
  int descriptor_;
};

/// Ends a saving that a crash cut off; the folder must be held.
job::Result<void> finish_saving(const std::filesystem::path& folder);

}  // namespace firstdraw::desk
