#include "cli/question.hpp"

#include <gmock/gmock.h>

namespace firstdraw::cli {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

TEST(Question, ReadsInsulationInEitherOrder) {
  for (const char* text :
       {"glass fibre 1 in", "glass fibre, 1\"", "1 in glass fibre", "glass-fibre 25.4 mm"}) {
    Question read;
    const auto layer = read.insulation("--insulation", text);
    ASSERT_TRUE(layer) << text;
    EXPECT_EQ(layer->insulation.id, "glass-fibre") << text;
    EXPECT_DOUBLE_EQ(layer->thickness_m, 0.0254) << text;
    EXPECT_TRUE(read.slips().empty());
  }
}

TEST(Question, ReadsMixedNumbers) {
  Question read;
  EXPECT_DOUBLE_EQ(read.insulation("--insulation", "glass fibre 1-1/2 in")->thickness_m, 0.0381);
  EXPECT_DOUBLE_EQ(read.insulation("--insulation", "1 1/2 in glass fibre")->thickness_m, 0.0381);
}

TEST(Question, NoneIsNoInsulation) {
  Question read;
  EXPECT_FALSE(read.insulation("--insulation", "none"));
  EXPECT_FALSE(read.insulation("--insulation", "bare"));
  EXPECT_TRUE(read.slips().empty());
}

TEST(Question, CollectsEverySlip) {
  Question read;
  read.insulation("--insulation", "glas fibre 1 in");
  read.insulation("--insulation", "glass fibre");
  read.insulation("--insulation", "glass fibre 1");
  read.temperature_c("--water", "500C");
  read.temperature_c("--air", "--json");
  ASSERT_THAT(read.slips(), SizeIs(5));
  EXPECT_THAT(read.slips()[0].message, HasSubstr("did you mean"));
  EXPECT_THAT(read.slips()[1].message, HasSubstr("lacks a thickness"));
  EXPECT_THAT(read.slips()[2].message, HasSubstr("has no unit"));
  EXPECT_THAT(read.slips()[3].message, HasSubstr("out of range"));
  EXPECT_THAT(read.slips()[4].message, HasSubstr("missing before --json"));
}

TEST(Question, ReadsSpeeds) {
  Question read;
  EXPECT_DOUBLE_EQ(read.speed_m_per_s("--air-speed", "0.5 m/s"), 0.5);
  EXPECT_DOUBLE_EQ(read.speed_m_per_s("--air-speed", "100 ft/min"), 0.508);
  EXPECT_TRUE(read.slips().empty());
  for (const char* text : {"3", "3 m", "-1 m/s", "fast", "1 m/kg", "900 m/s", "/", ""}) {
    read.speed_m_per_s("--air-speed", text);
    ASSERT_FALSE(read.slips().empty()) << text;
  }
  EXPECT_THAT(read.slips(), SizeIs(8));
}

TEST(Question, AnswersInTheUnitsOfTheQuestion) {
  EXPECT_EQ(system_of_temperature("115F"), units::System::us);
  EXPECT_EQ(system_of_temperature("115 °F "), units::System::us);
  EXPECT_EQ(system_of_temperature("115 fahrenheit"), units::System::us);
  EXPECT_EQ(system_of_temperature("46C"), units::System::metric);
}

}  // namespace
}  // namespace firstdraw::cli
