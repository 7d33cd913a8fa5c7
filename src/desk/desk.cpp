#include "desk/desk.hpp"

#include <fmt/format.h>

#include <chrono>
#include <deque>
#include <future>
#include <map>
#include <mutex>
#include <thread>
#include <tuple>

#include "desk/cell_editors.hpp"
#include "desk/disk.hpp"
#include "desk/history.hpp"
#include "desk/saving.hpp"
#include "power/known.hpp"

namespace firstdraw::desk {

namespace fs = std::filesystem;

namespace {

constexpr const char* somebody_else = "another program";
// How often an edit is made anew because another program wrote in between.
constexpr int most_tries = 8;

Refused refused(job::Diagnostic problem) { return {{std::move(problem)}, {}}; }

/// As it reads; without plan and tables.
std::shared_ptr<Snapshot> as_read(std::int64_t revision, JobText text, const fs::path& folder) {
  auto made = std::make_shared<Snapshot>();
  made->revision = revision;
  made->text = std::move(text);
  auto job = read(made->text, folder);
  if (job) {
    made->job = std::move(*job);
  } else {
    made->problems = std::move(job.error());
  }
  return made;
}

void add_tables(Snapshot& made) { made.tables = tables_of(made.text, made.problems); }

void add_plan(Snapshot& made, const plan::Options& options, const std::shared_ptr<power::Known>& known) {
  if (made.job) made.plan = plan::make_plan(*made.job, options, known);
}

std::string changed_files(const JobText& before, const JobText& after) {
  std::string names;
  for (const Patch& patch : patches(before, after)) names += (names.empty() ? "" : ", ") + patch.name;
  return names;
}

/// A job that does not read may still be worked on, as long as it gets no worse.
bool worse(const Snapshot& next, const Snapshot& now) {
  if (next.job) return false;
  return now.job.has_value() || next.problems.size() > now.problems.size();
}

}  // namespace

struct Desk::Inside {
  Inside(fs::path where, const plan::Options& with) : folder(std::move(where)), options(with) {}

  fs::path folder;
  plan::Options options;
  std::mutex editing;          // held by whoever makes a new revision
  mutable std::mutex looking;  // guards what follows
  Shared now;
  History history;
  CellEditors editors;
  std::vector<std::function<void(const Shared&, const Step&)>> listeners;
  std::deque<std::pair<Shared, Step>> untold;
  bool telling = false;
  // Guarded by `editing`.
  Disk disk;
  std::shared_ptr<power::Known> known = std::make_shared<power::Known>();

  Shared stand() const {
    const std::lock_guard lock(looking);
    return now;
  }
  Shared snapshot(std::int64_t revision, JobText text) {
    auto made = as_read(revision, std::move(text), folder);
    add_tables(*made);
    add_plan(*made, options, known);
    return made;
  }
  void publish(const Shared& next, const Step& step, const std::vector<ChangedCell>& cells);
  void tell();
  job::Result<bool> take_in();
  void wait_until_still() const;
  /// Puts `next` on the disk; the folder must be held. False when another program wrote in between.
  std::expected<bool, Refused> save_over(const Snapshot& before, const Snapshot& next);
  /// Plans `next` while its tables are made and it is saved over `before`; the folder must be held. The cells
  /// that changed; none when another program wrote in between.
  std::expected<std::optional<std::vector<ChangedCell>>, Refused> save_and_plan(const Snapshot& before,
                                                                                Snapshot& next);
  /// Holds the folder while it saves or, `throughout`, from the beginning, so that no other desk can be
  /// first.
  std::expected<Shared, Refused> edit_once(const Edit& edit, bool throughout, bool& again);
  std::expected<Shared, Refused> step(const std::string& by, bool back);
};

void Desk::Inside::publish(const Shared& next, const Step& step, const std::vector<ChangedCell>& cells) {
  const std::lock_guard lock(looking);
  now = next;
  editors.note(cells, step.by, next->revision);
  untold.emplace_back(next, step);
}

/// In the order of the revisions, by one thread at a time, outside the locks.
void Desk::Inside::tell() {
  std::unique_lock lock(looking);
  if (telling) return;
  telling = true;
  while (!untold.empty()) {
    const auto [next, step] = std::move(untold.front());
    untold.pop_front();
    const auto all = listeners;
    lock.unlock();
    for (const auto& listener : all) listener(next, step);
    lock.lock();
  }
  telling = false;
}

/// Waits, but not for long, until another program is done writing.
void Desk::Inside::wait_until_still() const {
  for (int tries = 0; tries < 40 && !Disk::still(folder); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(25));
}

/// True when another program had changed something.
job::Result<bool> Desk::Inside::take_in() {
  if (disk.as_remembered(folder)) return false;
  const Shared before = stand();
  Disk seen = Disk::of(folder);
  auto text = load(folder);
  if (text && *text != before->text) {
    wait_until_still();
    seen = Disk::of(folder);
    text = load(folder);
  }
  if (!text) return std::unexpected(text.error());
  disk = seen;
  if (*text == before->text) return false;
  const Step step{"changed on the disk: " + changed_files(before->text, *text), somebody_else};
  const Shared next = snapshot(before->revision + 1, std::move(*text));
  {
    const std::lock_guard lock(looking);
    history.add(step, before->text, next->text);
  }
  publish(next, step, changed_cells(before->tables, next->tables));
  return true;
}

std::expected<bool, Refused> Desk::Inside::save_over(const Snapshot& before, const Snapshot& next) {
  if (!disk.as_remembered(folder)) {
    const auto there = load(folder);
    if (!there) return std::unexpected(Refused{there.error(), {}});
    if (*there != before.text) return false;
  }
  if (auto saved = save(next.text, before.text, folder); !saved)
    return std::unexpected(Refused{saved.error(), {}});
  disk = Disk::of(folder);
  return true;
}

std::expected<std::optional<std::vector<ChangedCell>>, Refused> Desk::Inside::save_and_plan(
    const Snapshot& before, Snapshot& next) {
  auto cells = std::async(std::launch::async, [&] {
    add_tables(next);
    return changed_cells(before.tables, next.tables);
  });
  auto saving = std::async(std::launch::async, [&] { return save_over(before, next); });
  try {
    add_plan(next, options, known);
  } catch (...) {  // a fault of the program: the disk goes back to what can be planned
    if (const auto saved = saving.get(); saved && *saved) std::ignore = save_over(next, before);
    throw;
  }
  const auto saved = saving.get();
  if (!saved) return std::unexpected(saved.error());
  return *saved ? std::optional(cells.get()) : std::nullopt;
}

std::expected<Shared, Refused> Desk::Inside::edit_once(const Edit& edit, bool throughout, bool& again) {
  std::optional<FolderLock> hold;
  if (throughout) hold.emplace(folder);
  if (auto taken = take_in(); !taken) return std::unexpected(Refused{taken.error(), {}});
  Shared before = stand();
  // Only who edits notes editors, and that is we.
  auto text = apply(before->text, edit.changes, {&editors, edit.base});
  if (!text) return std::unexpected(std::move(text.error()));
  if (*text == before->text) return before;
  auto next = as_read(before->revision + 1, std::move(*text), folder);
  if (worse(*next, *before)) return std::unexpected(Refused{next->problems, {}});
  if (!hold) hold.emplace(folder);
  const auto cells = save_and_plan(*before, *next);
  if (!cells) return std::unexpected(cells.error());
  again = !*cells;
  if (again) return before;
  const Step step{edit.label, edit.by};
  {
    const std::lock_guard lock(looking);
    history.add(step, before->text, next->text);
  }
  publish(next, step, **cells);
  return next;
}

std::expected<Shared, Refused> Desk::Inside::step(const std::string& by, bool back) {
  const auto taken = take_in();
  if (!taken) return std::unexpected(Refused{taken.error(), {}});
  if (*taken)
    return std::unexpected(
        refused({"", 0, 0, back ? "undo" : "redo", "another program changed the job just now",
                 "look at what changed, then ask again"}));
  Shared before = stand();
  const Step* next_step = back ? history.next_undo() : history.next_redo();
  if (!next_step)
    return std::unexpected(
        refused({"", 0, 0, back ? "undo" : "redo",
                 back ? "there is nothing to take back" : "there is nothing to do again", ""}));
  const Step step{(back ? "undo: " : "redo: ") + next_step->label, by};
  const FolderLock hold(folder);
  JobText text = back ? history.undone(before->text) : history.redone(before->text);
  auto next = as_read(before->revision + 1, std::move(text), folder);
  const auto cells = save_and_plan(*before, *next);
  if (!cells) return std::unexpected(cells.error());
  if (!*cells)
    return std::unexpected(
        refused({"", 0, 0, back ? "undo" : "redo", "another program is changing the job", "ask again"}));
  {
    const std::lock_guard lock(looking);
    back ? history.step_back() : history.step_forward();
  }
  publish(next, step, **cells);
  return next;
}

Desk::Desk(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Desk::~Desk() = default;

job::Result<std::unique_ptr<Desk>> Desk::open(fs::path folder, const plan::Options& options) {
  {
    const FolderLock hold(folder);
    if (auto finished = finish_saving(folder); !finished) return std::unexpected(finished.error());
  }
  auto text = load(folder);
  if (!text) return std::unexpected(text.error());
  auto inside = std::make_unique<Inside>(std::move(folder), options);
  inside->now = inside->snapshot(1, std::move(*text));
  return std::unique_ptr<Desk>(new Desk(std::move(inside)));
}

Shared Desk::now() const { return inside_->stand(); }

std::expected<Shared, Refused> Desk::edit(const Edit& edit) {
  const auto made = [&]() -> std::expected<Shared, Refused> {
    const std::lock_guard lock(inside_->editing);
    for (int tries = 0; tries < most_tries; ++tries) {
      bool again = false;
      auto next = inside_->edit_once(edit, tries > 0, again);
      if (!again) return next;
    }
    return std::unexpected(
        refused({"", 0, 0, "edit", "another program keeps changing the job", "try again"}));
  }();
  inside_->tell();
  return made;
}

std::expected<Shared, Refused> Desk::undo(const std::string& by) {
  const auto made = [&] {
    const std::lock_guard lock(inside_->editing);
    return inside_->step(by, true);
  }();
  inside_->tell();
  return made;
}

std::expected<Shared, Refused> Desk::redo(const std::string& by) {
  const auto made = [&] {
    const std::lock_guard lock(inside_->editing);
    return inside_->step(by, false);
  }();
  inside_->tell();
  return made;
}

std::optional<Step> Desk::next_undo() const {
  const std::lock_guard lock(inside_->looking);
  const Step* step = inside_->history.next_undo();
  return step ? std::optional(*step) : std::nullopt;
}

std::optional<Step> Desk::next_redo() const {
  const std::lock_guard lock(inside_->looking);
  const Step* step = inside_->history.next_redo();
  return step ? std::optional(*step) : std::nullopt;
}

std::string Desk::last_editor(const std::string& table, const std::string& row,
                              const std::string& column) const {
  const std::lock_guard lock(inside_->looking);
  return inside_->editors.of(table, row, column);
}

bool Desk::look_at_disk() {
  const auto taken = [&] {
    const std::lock_guard lock(inside_->editing);
    return inside_->take_in();
  }();
  inside_->tell();
  return taken && *taken;
}

const fs::path& Desk::folder() const { return inside_->folder; }

void Desk::on_change(std::function<void(const Shared&, const Step&)> listener) {
  const std::lock_guard lock(inside_->looking);
  inside_->listeners.push_back(std::move(listener));
}

}  // namespace firstdraw::desk
