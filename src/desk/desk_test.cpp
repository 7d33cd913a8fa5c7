// A desk: edits on the disk, undo, many at once, other programs, crashes.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <sys/wait.h>

#include <atomic>
#include <csignal>
#include <thread>

#include "desk/desk.hpp"
#include "desk/examples.hpp"
#include "desk/saving.hpp"
#include "job/test_folder.hpp"

namespace firstdraw::desk {
namespace {

using job::TestFolder;
using testing::HasSubstr;

const plan::Options quick{0, 1, 1};

std::unique_ptr<Desk> open(const std::filesystem::path& folder) {
  auto desk = Desk::open(folder, quick);
  EXPECT_TRUE(desk) << texts_of(desk.error());
  return desk ? std::move(*desk) : nullptr;
}

Edit one(const std::string& label, Change change, const std::string& by = "test") {
  return {0, label, by, {std::move(change)}};
}

std::string refusal(const std::expected<Shared, Refused>& answer) {
  EXPECT_FALSE(answer);
  return answer ? "" : texts_of(answer.error().problems);
}

class ADesk : public testing::Test {
 protected:
  TestFolder folder{"examples/clinic"};
  std::unique_ptr<Desk> desk = open(folder.path);
};

TEST_F(ADesk, PlansWhatStandsAfterEveryEdit) {
  const Shared before = desk->now();
  const auto after = desk->edit(one("longer", SetCell{"runs", "R-04", "length", "240", "24"}));
  ASSERT_TRUE(after) << texts_of(after.error().problems);
  EXPECT_EQ((*after)->revision, before->revision + 1);
  EXPECT_EQ(desk->now(), *after);
  EXPECT_GT((*after)->plan->totals.traced_m, before->plan->totals.traced_m + 60);
  EXPECT_EQ(folder.problems(), "");
  EXPECT_TRUE(*load(folder.path) == (*after)->text) << "on the disk before it is answered";
  EXPECT_TRUE(before->job->runs[3].length_m < 10) << "who looks at the old revision still sees it";
}

TEST_F(ADesk, ListsTheTablesOfWhatStandsAfterEveryStep) {
  const auto listed = [&] { return table_in(desk->now()->tables, "runs").rows.at(2).cells.at("length"); };
  ASSERT_EQ(listed(), "24");
  ASSERT_TRUE(desk->edit(one("longer", SetCell{"runs", "R-03", "length", "240"})));
  EXPECT_EQ(listed(), "240");
  ASSERT_TRUE(desk->undo("test"));
  EXPECT_EQ(listed(), "24");
  folder.change("runs.csv", "R-03,T1,T2,1,void,main,copper,L,1,24", "R-03,T1,T2,1,void,main,copper,L,1,42");
  EXPECT_TRUE(desk->look_at_disk());
  EXPECT_EQ(listed(), "42");
}

TEST(ASmallDesk, TakesBackAndDoesAgainFiveHundredSteps) {
  constexpr int steps = 510;
  const TestFolder folder;
  const auto desk = open(folder.path);
  const JobText first = desk->now()->text;
  for (int i = 1; i <= steps; ++i)
    ASSERT_TRUE(desk->edit(one("step", SetCell{"site", "", "revision", std::to_string(i)})));
  EXPECT_EQ(desk->next_undo()->label, "step");
  for (int i = 1; i <= steps; ++i) ASSERT_TRUE(desk->undo("test"));
  EXPECT_TRUE(desk->now()->text == first);
  EXPECT_TRUE(*load(folder.path) == first);
  EXPECT_THAT(refusal(desk->undo("test")), HasSubstr("nothing to take back"));
  for (int i = 1; i <= 5; ++i) ASSERT_TRUE(desk->redo("test"));
  EXPECT_EQ(cell_of(desk->now()->text, "site", "", "revision"), "5");
  ASSERT_TRUE(desk->edit(one("other", SetCell{"site", "", "revision", "x"})));
  EXPECT_THAT(refusal(desk->redo("test")), HasSubstr("nothing to do again"));
  EXPECT_FALSE(desk->next_redo());
}

TEST_F(ADesk, RefusesWhatWouldNotRead) {
  const JobText before = desk->now()->text;
  EXPECT_THAT(refusal(desk->edit(one("bad", SetCell{"runs", "R-03", "space", "viod"}))),
              HasSubstr("did you mean \"void\""));
  EXPECT_THAT(refusal(desk->edit(one("bad", SetCell{"supply", "", "stored", "140"}))), HasSubstr("unit"));
  EXPECT_THAT(
      refusal(desk->edit({0,
                          "half",
                          "test",
                          {SetCell{"site", "", "revision", "Z"}, SetCell{"runs", "R-99", "length", "1"}}})),
      HasSubstr("there is no run \"R-99\""));
  EXPECT_TRUE(desk->now()->text == before);
  EXPECT_TRUE(*load(folder.path) == before);
  EXPECT_EQ(desk->now()->revision, 1);
}

TEST_F(ADesk, SaysWhoChangedACell) {
  ASSERT_TRUE(desk->edit(one("a", SetCell{"runs", "R-03", "length", "25"}, "Ann")));
  const auto late = desk->edit({1, "b", "Ben", {SetCell{"runs", "R-03", "length", "26", "24"}}});
  ASSERT_FALSE(late);
  ASSERT_EQ(late.error().conflicts.size(), 1U);
  EXPECT_EQ(late.error().conflicts[0].now, "25");
  EXPECT_EQ(desk->last_editor("runs", "R-03", "length"), "Ann");
  EXPECT_EQ(desk->last_editor("runs", "R-04", "length"), "");
}

TEST_F(ADesk, TellsListenersInOrder) {
  std::vector<std::int64_t> heard;
  desk->on_change([&](const Shared& now, const Step& step) {
    heard.push_back(now->revision);
    if (step.label != "first") return;
    EXPECT_TRUE(desk->edit(one("second", SetCell{"site", "", "owner", "B"})));
  });
  ASSERT_TRUE(desk->edit(one("first", SetCell{"site", "", "owner", "A"})));
  ASSERT_TRUE(desk->undo("test"));
  EXPECT_THAT(heard, testing::ElementsAre(2, 3, 4));
}

TEST_F(ADesk, LosesNoEditOfTwoAtOnce) {
  const JobText first = desk->now()->text;
  std::atomic<std::int64_t> told = 0;
  desk->on_change([&](const Shared& now, const Step&) { told = now->revision; });
  const auto work = [&](const std::string& run) {
    for (int i = 1; i <= 25; ++i)
      EXPECT_TRUE(desk->edit(one(run, SetCell{"runs", run, "length", std::to_string(i)}, run)));
  };
  std::thread other(work, "R-04");
  work("R-03");
  other.join();
  EXPECT_EQ(cell_of(desk->now()->text, "runs", "R-03", "length"), "25");
  EXPECT_EQ(cell_of(desk->now()->text, "runs", "R-04", "length"), "25");
  EXPECT_GT(desk->now()->revision, 48);
  while (desk->next_undo()) ASSERT_TRUE(desk->undo("test"));
  EXPECT_TRUE(desk->now()->text == first);
  EXPECT_EQ(told, desk->now()->revision);
}

TEST_F(ADesk, SharesAFolderWithAnother) {
  const auto second = open(folder.path);
  const auto work = [](Desk& at, const std::string& run) {
    for (int i = 1; i <= 12; ++i) {
      const auto made = at.edit(one(run, SetCell{"runs", run, "length", std::to_string(i)}));
      EXPECT_TRUE(made) << texts_of(made.error().problems);
    }
  };
  std::thread other([&] { work(*second, "R-04"); });
  work(*desk, "R-03");
  other.join();
  const JobText there = *load(folder.path);
  EXPECT_EQ(cell_of(there, "runs", "R-03", "length"), "12");
  EXPECT_EQ(cell_of(there, "runs", "R-04", "length"), "12");
}

TEST_F(ADesk, NoticesOtherPrograms) {
  EXPECT_FALSE(desk->look_at_disk());
  folder.change("runs.csv", "R-03,T1,T2,1,void,main,copper,L,1,24", "R-03,T1,T2,1,void,main,copper,L,1,42");
  EXPECT_TRUE(desk->look_at_disk());
  EXPECT_FALSE(desk->look_at_disk());
  EXPECT_EQ(cell_of(desk->now()->text, "runs", "R-03", "length"), "42");
  EXPECT_EQ(desk->next_undo()->by, "another program");
  EXPECT_EQ(desk->next_undo()->label, "changed on the disk: runs.csv");
  ASSERT_TRUE(desk->undo("test"));
  EXPECT_THAT(folder.text("runs.csv"), HasSubstr("copper,L,1,24"));
}

TEST_F(ADesk, ReadsOtherProgramsInBeforeAnEdit) {
  folder.change("job.toml", "[units]", "# by hand\n[units]");
  ASSERT_TRUE(desk->edit(one("owner", SetCell{"site", "", "owner", "Somebody"})));
  EXPECT_THAT(folder.text("job.toml"), HasSubstr("# by hand\n[units]"));
  EXPECT_THAT(folder.text("job.toml"), HasSubstr("Somebody"));
  EXPECT_EQ(desk->now()->revision, 3);
  folder.change("job.toml", "# by hand", "# by foot!");
  EXPECT_THAT(refusal(desk->undo("test")), HasSubstr("another program changed the job just now"));
  EXPECT_THAT(folder.text("job.toml"), HasSubstr("# by foot!"));
}

TEST_F(ADesk, IsMendedWhereItDoesNotRead) {
  folder.change("runs.csv", "R-03,T1,T2,1,void", "R-03,T1,T2,1,viod");
  folder.change("runs.csv", "R-04,T2,T3,1,void", "R-04,T2,T3,1,viod");
  const auto broken = open(folder.path);
  ASSERT_TRUE(broken);
  EXPECT_FALSE(broken->now()->job);
  EXPECT_EQ(broken->now()->problems.size(), 2U);
  ASSERT_TRUE(broken->edit(one("mend", SetCell{"runs", "R-03", "space", "void"})));
  EXPECT_FALSE(broken->now()->plan);
  EXPECT_THAT(refusal(broken->edit(one("worse", SetCell{"runs", "R-05", "space", "viod"}))),
              HasSubstr("viod"));
  ASSERT_TRUE(broken->edit(one("mend", SetCell{"runs", "R-04", "space", "void"})));
  EXPECT_TRUE(broken->now()->plan);
}

TEST_F(ADesk, SaysWhatStopsASaving) {
  std::filesystem::remove_all(folder.path);
  EXPECT_THAT(refusal(desk->edit(one("x", SetCell{"site", "", "owner", "B"}))), HasSubstr("no such folder"));
  EXPECT_FALSE(Desk::open(folder.path, quick));
}

/// Renames a run, which is named in three files, to and fro until it is killed.
[[noreturn]] void rename_for_ever(const std::filesystem::path& folder) {
  auto text = load(folder);
  bool there = true;
  while (text) {
    const auto next =
        apply(*text, {there ? Rename{"runs", "R-06", "EXAM-1"} : Rename{"runs", "EXAM-1", "R-06"}});
    if (!next) break;
    const FolderLock hold(folder);
    if (!save(*next, *text, folder)) break;
    text = *next;
    there = !there;
  }
  _exit(3);
}

TEST(Crash, LeavesTheOldOrTheNewFiles) {
  const TestFolder folder{"examples/clinic"};
  folder.put("circuits.csv", "id,feed_node,runs\nC1,T1,R-03; R-06\n");
  folder.put("job.toml", folder.text("job.toml") + "\n[[apart]]\nruns = [\"R-06\", \"R-07\"]\n");
  const JobText first = *load(folder.path);
  const JobText second = made(first, {Rename{"runs", "R-06", "EXAM-1"}});
  ASSERT_FALSE(first == second);
  int unfinished = 0;
  for (int i = 0; i < 40; ++i) {
    const pid_t child = fork();
    if (child == 0) rename_for_ever(folder.path);
    std::this_thread::sleep_for(std::chrono::microseconds(20000 + 1370 * i));
    kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status)) << "it ended by itself";
    unfinished += std::filesystem::exists(folder.path / ".firstdraw-saving") ? 1 : 0;
    {
      const FolderLock hold(folder.path);
      ASSERT_TRUE(finish_saving(folder.path));
    }
    const JobText there = *load(folder.path);
    ASSERT_TRUE(there == first || there == second) << i;
    ASSERT_TRUE(save(first, there, folder.path));
  }
  RecordProperty("unfinished", unfinished);
}

TEST(Crash, FinishesWhatTheListSays) {
  const TestFolder folder{"examples/clinic"};
  folder.put("circuits.csv", "id,feed_node,runs\nC1,T1,R-03; R-06\n");
  const JobText first = *load(folder.path);
  const JobText second = made(first, {Rename{"runs", "R-06", "EXAM-1"}});
  // As a crash leaves it: list and files beside are complete, one of them was moved in, another program then
  // wrote the other.
  const auto mark = [](const std::string& text) {
    std::uint64_t value = 14695981039346656037ULL;
    for (const char c : text) value = (value ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    return fmt::format("{:016x}", value);
  };
  std::string list;
  for (const char* name : {"runs.csv", "circuits.csv"})
    list += fmt::format("put\t{}\t{}\t{}\n", mark(first.at(name)), mark(second.at(name)), name);
  folder.put(".firstdraw-saving", list + "put\t-\t-\t../outside.csv\n");
  folder.put("circuits.csv", second.at("circuits.csv"));
  folder.put("runs.csv.new", second.at("runs.csv"));
  EXPECT_TRUE(open(folder.path)->now()->text == second);
  EXPECT_FALSE(std::filesystem::exists(folder.path / ".firstdraw-saving"));

  folder.put(".firstdraw-saving", list);
  folder.put("runs.csv", "# mine\n" + first.at("runs.csv"));
  folder.put("runs.csv.new", second.at("runs.csv"));
  EXPECT_THAT(open(folder.path)->now()->text.at("runs.csv"), testing::StartsWith("# mine"));
  EXPECT_EQ(folder.text("runs.csv.unsaved"), second.at("runs.csv"));
}

}  // namespace
}  // namespace firstdraw::desk
