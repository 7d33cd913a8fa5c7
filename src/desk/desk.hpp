// A job being worked on by many at once: its text, revisions, undo and redo, and the plan of what stands now.
// Safe from any thread. Every edit is on the disk before it is answered.
#pragma once

#include <cstdint>
#include <expected>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "desk/change.hpp"
#include "desk/sheet.hpp"
#include "plan/plan.hpp"

namespace firstdraw::desk {

/// A job and its plan at one revision: never changes, shared by whoever looks at it.
struct Snapshot {
  std::int64_t revision = 0;  // 1 when the desk is opened, one more with every change
  JobText text{};
  std::optional<job::Job> job{};  // none: the text on the disk does not read
  std::optional<plan::Plan> plan{};
  std::vector<job::Diagnostic> problems{};
  std::vector<Table> tables{};  // of the text, problems at their rows
};
using Shared = std::shared_ptr<const Snapshot>;

struct Step {
  std::string label, by;
};
struct Edit {
  std::int64_t base = 0;  // revision the sender saw
  std::string label{}, by{};
  std::vector<Change> changes{};
};

class Desk {
 public:
  /// Reads the folder, and finishes a saving that a crash cut off. A folder that does not read opens all the
  /// same: its snapshot has problems and no job, and edits can mend it.
  static job::Result<std::unique_ptr<Desk>> open(std::filesystem::path folder, const plan::Options& options);

  Shared now() const;
  /// All changes or none. Refused: a conflict, a change that cannot be made, or a job that reads no more
  /// (unless it did not read before, and is no worse). Files changed by another program since are read in
  /// first, as a step of their own.
  std::expected<Shared, Refused> edit(const Edit& edit);
  /// Refused with a problem when there is nothing to take back or do again, and when another program changed
  /// the job just now: that change is then the last step. Steps live as long as the desk, the last 10000.
  std::expected<Shared, Refused> undo(const std::string& by);
  std::expected<Shared, Refused> redo(const std::string& by);
  std::optional<Step> next_undo() const;
  std::optional<Step> next_redo() const;
  /// Who last changed a cell, for the words of a conflict; empty: not in this desk's time.
  std::string last_editor(const std::string& table, const std::string& row, const std::string& column) const;
  /// Reads the folder again when another program changed it; true when something was new.
  bool look_at_disk();

  const std::filesystem::path& folder() const;
  /// Adds a listener: called after each new revision, in their order, outside any lock, with the step that
  /// led to it ("undo: split R-12"). It may run in the thread of another edit, a moment after that edit is
  /// answered.
  void on_change(std::function<void(const Shared&, const Step&)> listener);

 private:
  struct Inside;
  explicit Desk(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;

 public:
  ~Desk();
};

}  // namespace firstdraw::desk
