// Processes killed with SIGKILL while they write, and several that write at once. FIRSTDRAW_FAULT_WRITES sets
// how many writes (1000 within 7 s if not given; then as long as it takes).
#include <gtest/gtest.h>

#include <map>
#include <random>

#include "store/test_child.hpp"

namespace firstdraw::store {
namespace {

class KillOn : public OnBothDatabases {};
class WritersOn : public OnBothDatabases {};
INSTANTIATE_TEST_SUITE_P(Databases, KillOn, both_databases, database_name);
INSTANTIATE_TEST_SUITE_P(Databases, WritersOn, both_databases, database_name);

/// The book is whole, and holds what was acknowledged; how many records it has.
std::int64_t check(const TestPlace& place, const std::map<std::int64_t, std::string>& acknowledged) {
  const Store store = place.open();
  const auto found = store.verify("job");
  EXPECT_TRUE(found && found->whole());
  const auto records = store.records("job").value();
  EXPECT_EQ(static_cast<std::size_t>(found->records), records.size());
  for (const auto& [number, hash] : acknowledged) {
    if (number > found->records) {
      ADD_FAILURE() << "record " << number << " was acknowledged and is lost";
      continue;
    }
    EXPECT_EQ(records.at(static_cast<std::size_t>(number) - 1).hash, hash);
  }
  return found->records;
}

/// How long opening and 20 undisturbed writes take here.
long time_of_20_ms(const TestPlace& place, std::map<std::int64_t, std::string>& acknowledged) {
  const auto begin = std::chrono::steady_clock::now();
  ChildWriter child(place.where(), 20, "undisturbed");
  EXPECT_EQ(child.finish(), 0);
  for (const Acknowledged& one : child.acknowledged()) acknowledged.emplace(one.number, one.hash);
  return 1 + (std::chrono::steady_clock::now() - begin) / std::chrono::milliseconds(1);
}

TEST_P(KillOn, WhatWasAcknowledgedIsThereAndNothingIsHalf) {
  const int wanted = from_environment("FIRSTDRAW_FAULT_WRITES", 1000);
  const bool in_full = std::getenv("FIRSTDRAW_FAULT_WRITES") != nullptr;
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(in_full ? 24 * 3600 : 7);
  const auto seed = static_cast<unsigned>(from_environment("FIRSTDRAW_FAULT_SEED", 1));
  std::mt19937 random(seed);
  std::map<std::int64_t, std::string> acknowledged;
  place().open();
  // A kill may fall anywhere from opening to the 60th write, however fast this machine is.
  std::uniform_int_distribution<long> wait_ms(1, 3 * time_of_20_ms(place(), acknowledged));
  std::int64_t records = 0;
  int kills = 0;
  while (static_cast<int>(acknowledged.size()) < wanted && std::chrono::steady_clock::now() < end) {
    ChildWriter child(place().where(), wanted, "round " + std::to_string(kills));
    std::this_thread::sleep_for(std::chrono::milliseconds(wait_ms(random)));
    child.kill_now();
    ++kills;
    for (const Acknowledged& one : child.acknowledged()) {
      EXPECT_TRUE(acknowledged.emplace(one.number, one.hash).second) << "number given twice: " << one.number;
    }
    records = check(place(), acknowledged);
    // One record may have been stored with nobody left to hear of it.
    ASSERT_LE(records, static_cast<std::int64_t>(acknowledged.size()) + kills);
  }
  EXPECT_GE(acknowledged.size(), 20U);
  EXPECT_GT(kills, 0);
  RecordProperty("kills", kills);
  std::printf("seed %u: %d kills, %zu records acknowledged, %ld stored\n", seed, kills, acknowledged.size(),
              static_cast<long>(records));
}

TEST_P(WritersOn, ThreeAtOnceMakeOneChainWithoutGaps) {
  const int each = from_environment("FIRSTDRAW_FAULT_WRITES", 40);
  place().open();
  std::vector<std::unique_ptr<ChildWriter>> children;
  for (const char* name : {"a", "b", "c"})
    children.push_back(std::make_unique<ChildWriter>(place().where(), each, name));
  std::map<std::int64_t, std::string> acknowledged;
  for (const auto& child : children) {
    EXPECT_EQ(child->finish(), 0);
    for (const Acknowledged& one : child->acknowledged()) acknowledged.emplace(one.number, one.hash);
  }
  EXPECT_EQ(acknowledged.size(), static_cast<std::size_t>(3 * each));
  EXPECT_EQ(check(place(), acknowledged), 3 * each);
}

/// Two programs that open a new store at the same moment both find it made.
TEST_P(WritersOn, AStoreIsMadeOnceHoweverManyOpenIt) {
  std::vector<std::unique_ptr<ChildWriter>> children;
  for (const char* name : {"a", "b", "c", "d"})
    children.push_back(std::make_unique<ChildWriter>(place().where(), 2, name));
  for (const auto& child : children) EXPECT_EQ(child->finish(), 0);
  EXPECT_EQ(check(place(), {}), 8);
}

}  // namespace
}  // namespace firstdraw::store
