// No space left: what was recorded before stays, and writing works again once there is space.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>

#include <fstream>

#include "store/test_child.hpp"

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

bool own_small_disk(const std::string& folder) {
  if (unshare(CLONE_NEWNS) != 0 && unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0) return false;
  if (mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) return false;
  return mount("tmpfs", folder.c_str(), "tmpfs", 0, "size=3m") == 0;
}

TEST(NoSpace, OnADiskThatIsFull) {
  const TestPlace place(Dialect::sqlite);
  const int code = in_child([&] {
    if (!own_small_disk(place.folder().string())) return not_permitted;
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

}  // namespace
}  // namespace firstdraw::store
