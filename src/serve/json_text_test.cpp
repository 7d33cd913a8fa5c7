// What is written as text reads as what the library would have built. The other side is the library.
#include "serve/json_text.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <random>

#include "serve/answer.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

json read(const JsonText& text) { return json::parse(text.text()); }

TEST(JsonText, says_what_the_library_says) {
  const std::vector<std::string> names{"R-1", "R-2"};
  const std::map<std::string, std::string> cells{{"length", "30 ft"}, {"a \"key\"", "back\\slash"}};
  const JsonText text{{"none", nullptr},
                      {"flag", true},
                      {"count", 3},
                      {"many", std::int64_t{-9007199254740993}},
                      {"share", 0.25},
                      {"name", "A-RISE-2"},
                      {"names", JsonText::list(names)},
                      {"lengths", JsonText::list(names, [](const std::string& name) { return name.size(); })},
                      {"nothing", JsonText::list(std::vector<int>{})},
                      {"cells", JsonText::object(cells)},
                      {"inside", JsonText{{"deep", false}}}};
  const json expected{{"none", nullptr},
                      {"flag", true},
                      {"count", 3},
                      {"many", std::int64_t{-9007199254740993}},
                      {"share", 0.25},
                      {"name", "A-RISE-2"},
                      {"names", names},
                      {"lengths", {3, 3}},
                      {"nothing", json::array()},
                      {"cells", cells},
                      {"inside", {{"deep", false}}}};
  EXPECT_EQ(read(text), expected) << text.text();
}

TEST(JsonText, every_byte_of_a_text_is_written_as_the_library_writes_it) {
  std::mt19937 any(4);
  for (int i = 0; i < 20000; ++i) {
    std::string text(any() % 6, ' ');
    for (char& c : text) c = static_cast<char>(any() % 256);
    EXPECT_EQ(JsonText(text).text(), text_of(json(text)));
  }
  for (const char* text : {"115 °F", "1-1/2″ “soft”", "\t\n\x7f", ""})
    EXPECT_EQ(JsonText(text).text(), text_of(json(text)));
}

TEST(JsonText, a_number_reads_back_as_the_same_number) {
  std::mt19937_64 any(5);
  for (int i = 0; i < 20000; ++i) {
    const double value = std::bit_cast<double>(any());
    const json back = read(JsonText(value));
    if (std::isfinite(value)) {
      EXPECT_EQ(back.get<double>(), value);
    } else {
      EXPECT_TRUE(back.is_null());
    }
  }
  for (const double value : {0.0, -0.0, 1e-5, 1e21, 5.0, std::numeric_limits<double>::denorm_min()})
    EXPECT_EQ(read(JsonText(value)).get<double>(), value);
}

}  // namespace
}  // namespace firstdraw::serve
