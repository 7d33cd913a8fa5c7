// What people write for a pipe, and what they are told when it is none.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "physics/pipe.hpp"
#include "physics/pipe_tables.hpp"

namespace firstdraw::physics {
namespace {

using ::testing::HasSubstr;

std::string named(const std::expected<Pipe, std::string>& found) {
  return found ? found->material + '|' + found->type + '|' + found->size : "!! " + found.error();
}

TEST(FindPipe, OneTextInManySpellings) {
  for (const char* text : {"copper L 1-1/4", "copper L 1-1/4 in", "Copper type L 1 1/4\"", "cu L 1.25 in",
                           " copper  l  1-1/4", "copper L NPS 1-1/4", "copper L 1-1/4 inch"}) {
    EXPECT_EQ(named(find_pipe(text)), "copper|L|1-1/4") << text;
  }
  for (const char* text : {"copper 22x1", "copper 22 x 1 mm", "copper 22×1", "copper EN 1057 22x1",
                           "copper EN1057 22 mm x 1 mm"}) {
    EXPECT_EQ(named(find_pipe(text)), "copper|EN 1057|22x1") << text;
  }
}

TEST(FindPipe, TypeThatTheSizeImplies) {
  EXPECT_EQ(named(find_pipe("copper", "", "22 mm")), "copper|EN 1057|22x0.9");
  EXPECT_EQ(named(find_pipe("pex", "", "3/4")), "pex|SDR9|3/4");
  EXPECT_EQ(named(find_pipe("pex", "", "20 mm")), "pex|EN ISO 15875|20x2.8");
  EXPECT_EQ(named(find_pipe("steel", "", "DN 50")), "steel|40|2");
  EXPECT_EQ(named(find_pipe("stainless steel", "", "28 mm")), "stainless|EN 10312|28x1.2");
  EXPECT_EQ(named(find_pipe("stainless steel 10 2 in")), "stainless|10S|2");
  EXPECT_EQ(named(find_pipe("steel schedule 40 1/2")), "steel|40|1/2");
}

TEST(FindPipe, SaysTheNearestKnownChoice) {
  EXPECT_EQ(named(find_pipe("coper", "L", "1")),
            "!! unknown pipe material \"coper\"; did you mean \"copper\"?");
  EXPECT_THAT(named(find_pipe("unobtanium", "", "1")),
              HasSubstr("known are copper, steel, stainless, cpvc and pex"));
  EXPECT_THAT(named(find_pipe("copper", "Q", "1")), HasSubstr("known are K, L, M and EN 1057"));
  EXPECT_THAT(named(find_pipe("copper", "", "1 in")), HasSubstr("is made in types K, L and M; say which"));
  EXPECT_THAT(named(find_pipe("copper", "L", "1-1/3 in")),
              HasSubstr("has no size \"1-1/3 in\"; the nearest is 1-1/4 in"));
  EXPECT_THAT(named(find_pipe("copper", "", "22x1.3")), HasSubstr("the nearest is 22x1.2"));
  EXPECT_THAT(named(find_pipe("copper", "L", "22 mm")), HasSubstr("the nearest is 3/4 in"));
  EXPECT_THAT(named(find_pipe("pex", "", "22")), HasSubstr("without a unit inches are meant"));
}

TEST(FindPipe, NeedsMaterialAndSize) {
  EXPECT_THAT(named(find_pipe("")), HasSubstr("no pipe given"));
  EXPECT_THAT(named(find_pipe("", "L", "1")), HasSubstr("no pipe material given"));
  EXPECT_THAT(named(find_pipe("copper")), HasSubstr("no pipe size given"));
  EXPECT_THAT(named(find_pipe("copper L")), HasSubstr("unreadable pipe size"));
  EXPECT_THAT(named(find_pipe("copper", "L", "1x")), HasSubstr("unreadable pipe size"));
}

TEST(PipeSize, RefusesWhatIsNoSize) {
  for (const char* text : {"", "x", "1/0", "1-", "1-1/", "-1", "1 in x 2", "22xx1", "1 2", "DN 26", "mm",
                           "1e3", "nan", "3/4 in in"}) {
    EXPECT_FALSE(read_pipe_size(text)) << text;
  }
}

}  // namespace
}  // namespace firstdraw::physics
