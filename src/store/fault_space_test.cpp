// No space left: what was recorded before stays, and writing works again once there is space.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>

#include <fstream>
#include <map>
#include <random>

#include "store/test_child.hpp"
#include "store/test_server.hpp"

namespace firstdraw::store {
namespace {

constexpr int not_permitted = 77;

Draft long_note() { return note(std::string(20'000, 'y')); }

/// Appends until there is no space; how many got in, or -1 when it ended in another way.
int fill(Store& store) {
  for (int count = 0; count < 10'000; ++count) {
    const auto record = store.append("job", long_note());
    if (record) continue;
    if (record.error().kind == FailureKind::full) return count;
    std::fprintf(stderr, "%s\n", record.error().what.c_str());
    return -1;
  }
  return -1;
}

/// 0 when all is as it should be.
int after_space_is_back(Store& store, int records) {
  const auto whole = [&](int count) {
    const auto found = store.verify("job");
    return found && found->whole() && found->records == count;
  };
  if (!whole(records)) return 2;
  const auto next = store.append("job", long_note());
  if (!next || next->number != records + 1) return 3;
  return whole(records + 1) ? 0 : 4;
}

/// The system refuses to let any file grow beyond a size.
TEST(NoSpace, AtTheLargestFileTheSystemAllows) {
  const TestPlace place(Dialect::sqlite);
  const int code = in_child([&] {
    Store store = place.open();
    if (!store.append("job", note("before"))) return 10;
    signal(SIGXFSZ, SIG_IGN);
    rlimit limit{};
    getrlimit(RLIMIT_FSIZE, &limit);
    limit.rlim_cur = 1'000'000;
    setrlimit(RLIMIT_FSIZE, &limit);
    const int count = fill(store);
    if (count < 1) return 11;
    limit.rlim_cur = limit.rlim_max;
    setrlimit(RLIMIT_FSIZE, &limit);
    return after_space_is_back(store, count + 1);
  });
  EXPECT_EQ(code, 0);
  EXPECT_TRUE(place.open().verify("job")->whole());
}

bool own_small_disk(const std::string& folder, const char* size) {
  if (unshare(CLONE_NEWNS) != 0 && unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0) return false;
  if (mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) return false;
  return mount("tmpfs", folder.c_str(), "tmpfs", 0, size) == 0;
}

TEST(NoSpace, OnADiskThatIsFull) {
  const TestPlace place(Dialect::sqlite);
  const int code = in_child([&] {
    if (!own_small_disk(place.folder().string(), "size=3m")) return not_permitted;
    const auto ballast = place.folder() / "ballast";
    std::ofstream(ballast) << std::string(1'000'000, 'b');
    Store store = place.open();
    if (!store.append("job", note("before"))) return 10;
    const int count = fill(store);
    if (count < 1) return 11;
    std::filesystem::remove(ballast);
    return after_space_is_back(store, count + 1);
  });
  if (code == not_permitted) GTEST_SKIP() << "no disk may be mounted here: needs root";
  EXPECT_EQ(code, 0);
}

// --- the disk of a server --------------------------------------------------------------------------------

/// Leaves so much room on the disk of `file`.
bool leave_room(const std::filesystem::path& file, std::uintmax_t bytes) {
  const auto free = std::filesystem::space(file.parent_path()).available;
  const int ballast = open(file.c_str(), O_CREAT | O_WRONLY, 0600);
  if (ballast < 0 || free < bytes) return false;
  const bool taken = posix_fallocate(ballast, 0, static_cast<off_t>(free - bytes)) == 0;
  close(ballast);
  return taken;
}

/// What a server cannot make smaller.
Draft random_note(std::mt19937_64& random) {
  std::string text;
  while (text.size() < 20'000) text += std::to_string(random());
  return note(text);
}

/// Appends to the end of the disk; 0 when every answer was as it should be.
int fill_server(Store& store, std::map<std::int64_t, std::string>& acknowledged) {
  std::mt19937_64 random(1);
  for (int refused = 0; refused < 3;) {
    const auto record = store.append("job", random_note(random));
    if (record) acknowledged.emplace(record->number, record->hash);
    if (record && refused == 0 && acknowledged.size() < 10'000) continue;
    if (record) return 20;  // a full disk has no room a moment later
    const std::string said = "There is no space left on the server of " + store.where() + ".";
    if (record.error().kind != FailureKind::full || record.error().what != said) {
      std::fprintf(stderr, "%s\n", record.error().what.c_str());
      return 21;
    }
    ++refused;
  }
  return acknowledged.empty() ? 22 : 0;
}

/// Every record that was acknowledged and no other; 0 when it is so.
int holds(const Store& store, const std::map<std::int64_t, std::string>& acknowledged) {
  const auto found = store.verify("job");
  const auto records = store.records("job");
  if (!found || !found->whole() || !records || records->size() != acknowledged.size()) return 30;
  for (const Record& record : *records)
    if (!acknowledged.contains(record.number) || acknowledged.at(record.number) != record.hash) return 31;
  return 0;
}

/// A server whose files lie on a small disk of their own.
struct SmallServer {
  const OwnServer& server;
  const TestPlace& place;
  std::filesystem::path ballast;
};

using OnASmallServer = int (*)(const SmallServer&);

/// In a child; `act` answers 0 when all is as it should be.
void expect_on_a_small_server(OnASmallServer act) {
  const TestPlace own(Dialect::sqlite);
  const int code = in_child([&] {
    if (!own_small_disk(own.folder().string(), "size=128m")) return not_permitted;
    setenv("TMPDIR", own.folder().c_str(), 1);
    const OwnServer server;
    if (server.where().empty()) return not_permitted;
    TestPlace place(Dialect::postgresql, server.where());
    place.keep();
    return act({server, place, own.folder() / "ballast"});
  });
  if (code == not_permitted) GTEST_SKIP() << "no disk for a server may be mounted here: needs root";
  EXPECT_EQ(code, 0);
}

int until_its_disk_is_full(const SmallServer& small) {
  Store store = small.place.open();
  std::map<std::int64_t, std::string> acknowledged;
  if (!leave_room(small.ballast, 3'000'000)) return 10;
  if (const int wrong = fill_server(store, acknowledged)) return wrong;
  if (const int wrong = holds(store, acknowledged)) return wrong;
  if (const int wrong = holds(small.place.open(), acknowledged)) return 100 + wrong;
  std::filesystem::remove(small.ballast);
  const auto next = store.append("job", note("there is room again"));
  if (!next) return 11;
  std::fprintf(stderr, "%zu records of 20 kB until the server's disk was full\n", acknowledged.size());
  acknowledged.emplace(next->number, next->hash);
  return holds(store, acknowledged);
}

/// The server stops by itself when its log of changes finds no room, and has to be started again.
int until_its_log_finds_no_room(const SmallServer& small) {
  Store store = small.place.open();
  std::map<std::int64_t, std::string> acknowledged;
  const auto append = [&](const std::string& text) {
    const auto record = store.append("job", note(text));
    if (record) acknowledged.emplace(record->number, record->hash);
    return record ? std::string() : record.error().what;
  };
  for (int i = 0; i < 20; ++i)
    if (!append("before").empty()) return 10;
  if (!leave_room(small.ballast, 3'000'000)) return 11;
  *small.place.behind() << "SELECT pg_switch_wal()";
  const std::string said = append("the log needs a new file for this");
  std::fprintf(stderr, "%s\n", said.c_str());
  if (said.empty()) return 12;
  std::filesystem::remove(small.ballast);
  small.server.control("stop -m immediate");
  if (!small.server.control("start")) return 13;
  if (const int wrong = holds(store, acknowledged)) return wrong;
  if (!append("there is room again").empty()) return 14;
  return holds(store, acknowledged);
}

TEST(NoSpace, OnAServerWhoseDiskIsFull) {
  if (test_server().empty()) GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres";
  expect_on_a_small_server(until_its_disk_is_full);
}

TEST(NoSpace, OnAServerWhoseLogFindsNoRoom) {
  if (test_server().empty()) GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres";
  if (std::getenv("FIRSTDRAW_FAULT_WRITES") == nullptr)
    GTEST_SKIP() << "waits half a minute for the server: set FIRSTDRAW_FAULT_WRITES to run it";
  expect_on_a_small_server(until_its_log_finds_no_room);
}

}  // namespace
}  // namespace firstdraw::store
