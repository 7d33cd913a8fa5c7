#include "serve/shown.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>
#include <thread>

namespace firstdraw::serve {
namespace {

TEST(ShownOnce, is_made_once_for_all_who_ask_at_once) {
  ShownOnce shown(3);
  std::atomic<int> made = 0, right = 0;
  std::vector<std::jthread> askers;
  for (int i = 0; i < 20; ++i)
    askers.emplace_back([&] {
      const auto text = shown.get("view 7", [&made] {
        ++made;
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
        return std::string("seven");
      });
      if (text->text() == "seven") ++right;
    });
  askers.clear();
  EXPECT_EQ(made, 1);
  EXPECT_EQ(right, 20);
}

TEST(ShownOnce, keeps_the_last_few) {
  ShownOnce shown(2);
  int made = 0;
  const auto ask = [&](const std::string& key) {
    return shown.get(key, [&] { return ++made, key; })->text();
  };
  for (const char* key : {"a", "b", "a", "c", "b"}) EXPECT_EQ(ask(key), key);
  EXPECT_EQ(made, 3) << "a went when c came";
  EXPECT_EQ(ask("a"), "a");
  EXPECT_EQ(made, 4);
}

TEST(ShownOnce, does_not_keep_a_failure) {
  ShownOnce shown(2);
  EXPECT_THROW(shown.get("a", []() -> std::string { throw std::runtime_error("no"); }), std::runtime_error);
  EXPECT_EQ(shown.get("a", [] { return std::string("yes"); })->text(), "yes");
}

TEST(Shown, is_squeezed_when_that_is_worth_it) {
  const Shown text(std::string(10'000, 'x'));
  EXPECT_LT(text.squeezed().size(), 1000U);
  EXPECT_EQ(text.squeezed().substr(0, 2), "\x1f\x8b");
  EXPECT_EQ(text.text().size(), 10'000U);
}

}  // namespace
}  // namespace firstdraw::serve
