#include "watch/poll_requests.hpp"

#include <gtest/gtest.h>

#include "watch/poll_line.hpp"

namespace firstdraw::watch {
namespace {

Device device(const std::vector<int>& addresses, RegisterTable table = RegisterTable::holding,
              RegisterType type = RegisterType::u16) {
  Device made;
  for (const int address : addresses) {
    made.values.push_back({});
    made.values.back().address = address;
    made.values.back().table = table;
    made.values.back().type = type;
  }
  return made;
}

TEST(PollRequests, NeighboursAndSmallHolesAreOneRequest) {
  const Device one = device({0, 1, 10, 19});
  const auto requests = requests_of(one);  // holes of 8 and of 8
  ASSERT_EQ(requests.size(), 1);
  EXPECT_EQ(requests[0].first, 0);
  EXPECT_EQ(requests[0].count, 20);
  EXPECT_EQ(requests_of(device({0, 10})).size(), 2);  // a hole of 9
}

TEST(PollRequests, NoneAsksForMoreThanTheProtocolAllows) {
  std::vector<int> all;
  for (int i = 0; i < 400; i += 2) all.push_back(i);
  const Device wide = device(all, RegisterTable::input, RegisterType::f32);
  int values = 0;
  for (const auto& request : requests_of(wide)) {
    EXPECT_LE(request.count, 125);
    EXPECT_EQ(request.count % 2, 0);  // no value is cut
    values += static_cast<int>(request.values.size());
  }
  EXPECT_EQ(values, 200);
  EXPECT_EQ(requests_of(device({0, 100, 1999}, RegisterTable::coil)).size(), 2);
}

TEST(PollRequests, TablesAreNotMixedAndOrderDoesNotMatter) {
  Device mixed = device({5, 3, 4});
  mixed.values[1].table = RegisterTable::input;
  mixed.first_register = 3;
  const auto requests = requests_of(mixed);
  ASSERT_EQ(requests.size(), 2);
  EXPECT_EQ(requests[0].first, 1);
  EXPECT_EQ(requests[0].count, 2);
  EXPECT_EQ(requests[1].first, 0);
  const std::vector<std::uint16_t> answer{7, 8};
  EXPECT_EQ(registers_in(answer, mixed, requests[0], mixed.values[0]), std::vector<std::uint16_t>{8});
  EXPECT_TRUE(registers_in(std::vector<std::uint16_t>{7}, mixed, requests[0], mixed.values[0]).empty());
}

TEST(PollRequests, SplitAsksForEachByItself) {
  const Device one = device({0, 4}, RegisterTable::holding, RegisterType::f32);
  const auto single = split(one, requests_of(one).at(0));
  ASSERT_EQ(single.size(), 2);
  EXPECT_EQ(single[1].first, 4);
  EXPECT_EQ(single[1].count, 2);
}

TEST(BackOff, DoublesFromOneSecondToSixty) {
  BackOff back_off;
  std::int64_t now = 1'000'000;
  EXPECT_FALSE(back_off.waits(now));
  for (const int wait_s : {1, 2, 4, 8, 16, 32, 60, 60}) {
    back_off.fail(now);
    EXPECT_TRUE(back_off.waits(now + wait_s * 1000 - 1));
    now += wait_s * 1000;
    EXPECT_FALSE(back_off.waits(now)) << wait_s;
  }
  back_off.fail(now);
  EXPECT_FALSE(back_off.waits(now - 3'600'000));  // the clock was set back by an hour
  back_off.forget();
  EXPECT_FALSE(back_off.waits(now));
}

}  // namespace
}  // namespace firstdraw::watch
