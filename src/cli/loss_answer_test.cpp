#include "cli/loss_answer.hpp"

#include <gmock/gmock.h>

#include <functional>

namespace firstdraw::cli {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

LossQuestion question() {
  LossQuestion asked;
  asked.pipe = "copper L 1";
  asked.insulation = {"glass fibre 1 in"};
  asked.water = "60C";
  asked.air = "20C";
  asked.law = "iso-12241";
  return asked;
}

LossAnswer answer_with(const std::function<void(LossQuestion&)>& change) {
  LossQuestion asked = question();
  change(asked);
  return answer(asked).value();
}

TEST(LossAnswer, IsThePhysicsOfTheQuestion) {
  const LossAnswer got = answer_with([](LossQuestion& asked) { asked.exact = true; });
  const auto pipe = physics::find_pipe("copper L 1").value();
  const auto glass = physics::find_insulation("glass fibre").value();
  physics::PipeSection section = physics::bare(pipe);
  section.layers.push_back({glass, pipe.outer_diameter_m, pipe.outer_diameter_m + 2 * 0.0254, 1});
  EXPECT_NEAR(got.loss.loss_w_per_m, physics::pipe_loss(section, 60, {}).loss_w_per_m, 1e-9);
}

TEST(LossAnswer, TakesThePreformedSizeThatClearsTheCable) {
  const double without = answer_with([](LossQuestion&) {}).layers.front().size.bore_m;
  const double with = answer_with([](LossQuestion& asked) {
                        asked.cable_width = "12 mm";
                        asked.cable_thickness = "6 mm";
                      })
                          .layers.front()
                          .size.bore_m;
  EXPECT_GE(without, 0.028575) << "outside diameter of 1 in copper tube, ASTM B88";
  EXPECT_GE(with, 0.028575 + 0.006);
}

TEST(LossAnswer, SizesFollowThePipeAndTheUnit) {
  const auto series = [](const std::string& pipe, const std::string& insulation) {
    return answer_with([&](LossQuestion& asked) {
             asked.pipe = pipe;
             asked.insulation = {insulation};
           })
        .layers.front()
        .size.series;
  };
  EXPECT_EQ(series("copper L 1", "glass fibre 1 in"), physics::SizeSeries::inch_tube);
  EXPECT_EQ(series("steel 40 1", "glass fibre 1 in"), physics::SizeSeries::inch_iron);
  EXPECT_EQ(series("copper 28x1.5", "glass fibre 30 mm"), physics::SizeSeries::metric);
}

TEST(LossAnswer, ASecondLayerLosesLessAndLiesOutside) {
  const LossAnswer one = answer_with([](LossQuestion&) {});
  const LossAnswer two =
      answer_with([](LossQuestion& asked) { asked.insulation.emplace_back("elastomeric 1 in"); });
  ASSERT_THAT(two.layers, SizeIs(2));
  EXPECT_GE(two.layers[1].size.bore_m, two.layers[0].size.outer_diameter_m);
  EXPECT_LT(two.loss.loss_w_per_m, one.loss.loss_w_per_m);
  EXPECT_GT(two.layers[0].mean_c, two.layers[1].mean_c) << "warmer inside";
}

TEST(LossAnswer, WarnsBeyondWhatPipeAndInsulationBear) {
  const LossAnswer got = answer_with([](LossQuestion& asked) {
    asked.pipe = "cpvc 3/4";
    asked.water = "120C";
  });
  EXPECT_THAT(got.notes, testing::Contains(HasSubstr("hotter than cpvc pipe is listed for")));
}

TEST(LossAnswer, ACableNeedsBothItsSizes) {
  for (const auto& change : std::vector<std::function<void(LossQuestion&)>>{
           [](LossQuestion& asked) { asked.cable_width = "12 mm"; },
           [](LossQuestion& asked) { asked.cable_thickness = "6 mm"; },
           [](LossQuestion& asked) { asked.passes = 2; }}) {
    LossQuestion asked = question();
    change(asked);
    const auto got = answer(asked);
    ASSERT_FALSE(got);
    EXPECT_THAT(got.error().front().message, HasSubstr("is missing"));
  }
}

TEST(LossAnswer, JsonHasTheKeysThatOthersBuildOn) {
  const LossAnswer got = answer_with([](LossQuestion& asked) { asked.length = "10 m"; });
  const nlohmann::json json = to_json(got);
  EXPECT_DOUBLE_EQ(json.at("loss_w_per_m").get<double>(), got.loss.loss_w_per_m);
  EXPECT_DOUBLE_EQ(json.at("surface_c").get<double>(), got.loss.surface_c);
  EXPECT_DOUBLE_EQ(json.at("loss_w").get<double>(), 10 * got.loss.loss_w_per_m);
  // 1 W/m is 1/0.961519 Btu/(h ft): NIST SP 811, from memory.
  EXPECT_NEAR(json.at("loss_btu_per_h_ft").get<double>(), got.loss.loss_w_per_m / 0.961519, 1e-4);
}

}  // namespace
}  // namespace firstdraw::cli
