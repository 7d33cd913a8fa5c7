#include "serve/events.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <thread>

namespace firstdraw::serve {
namespace {

using std::chrono::milliseconds;

TEST(Events, come_in_order_and_not_before_they_are_there) {
  Events events("run");
  EXPECT_TRUE(events.after(0, milliseconds{1}).empty());
  events.publish("job", "a", {{"revision", 2}});
  events.publish("task", "b", {{"id", "t1"}});
  const auto all = events.after(0, milliseconds{0});
  ASSERT_EQ(all.size(), 2U);
  EXPECT_EQ(all[0].number, 1U);
  EXPECT_EQ(events.text_of(all[0]), "id: run-1\nevent: job\ndata: {\"revision\":2}\n\n");
  EXPECT_EQ(events.after(1, milliseconds{0}).size(), 1U);
}

TEST(Events, wake_whoever_waits) {
  Events events("run");
  std::jthread later([&events] {
    std::this_thread::sleep_for(milliseconds{30});
    events.publish("jobs", "", nlohmann::json::object());
  });
  EXPECT_EQ(events.after(0, milliseconds{5000}).size(), 1U);
}

TEST(Events, resume_where_somebody_left_off_as_long_as_it_is_known) {
  Events events("run", 3);
  for (int i = 0; i < 5; ++i) events.publish("job", "a", i);
  EXPECT_EQ(events.resume("run-4"), 4U);
  EXPECT_EQ(events.resume("run-2"), 2U);  // the next is the oldest that is kept
  EXPECT_EQ(events.resume("run-1"), std::nullopt);
  EXPECT_EQ(events.resume("run-6"), std::nullopt);
  EXPECT_EQ(events.resume("other-4"), std::nullopt);
  for (const char* text : {"", "run", "run-", "run-x", "run--1", "-4"})
    EXPECT_EQ(events.resume(text), std::nullopt) << text;
}

TEST(Events, take_no_more_room_than_they_may) {
  Events events("run");
  const std::string label(100'000, 'x');
  for (int i = 0; i < 200; ++i) events.publish("job", "a", {{"label", label}});
  std::size_t bytes = 0;
  std::uint64_t heard = 0;
  while (heard < events.latest()) {
    const auto some = events.after(heard, milliseconds{0});
    ASSERT_FALSE(some.empty());
    EXPECT_LE(some.size(), 3U) << "no more at once than is to be sent";
    if (heard == 0) {
      EXPECT_GT(some.front().number, 100U) << "the oldest are forgotten, and it shows";
    } else {
      EXPECT_EQ(some.front().number, heard + 1);
    }
    for (const Event& event : some) bytes += event.data.size();
    heard = some.back().number;
  }
  EXPECT_LE(bytes, Events::bytes_kept);
  EXPECT_GT(bytes, Events::bytes_kept / 2);
  EXPECT_FALSE(events.resume("run-3")) << "forgotten";
}

TEST(Events, end_for_everybody_when_closed) {
  Events events("run");
  std::jthread later([&events] {
    std::this_thread::sleep_for(milliseconds{20});
    events.close();
  });
  EXPECT_TRUE(events.after(0, milliseconds{5000}).empty());
  EXPECT_TRUE(events.closed());
}

}  // namespace
}  // namespace firstdraw::serve
