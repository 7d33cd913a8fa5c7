// What a tried schedule is told to cost.
#include "serve/test_server.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

json tried(httplib::Client& client, const std::string& job, const json& asked,
           const std::string& query = {}) {
  const auto result = post(client, "/api/jobs/" + job + "/schedule" + query, asked);
  EXPECT_EQ(result->status, 200) << result->body;
  return json_of(result);
}

const json nights_off{{{"days", {"mon", "tue", "wed", "thu", "fri", "sat", "sun"}},
                       {"start", "22:00"},
                       {"end", "05:00"},
                       {"hold", "off"}}};

TEST(TrySchedule, a_flat_price_is_the_same_in_every_quarter_hour) {
  TestServer server({"clinic"});
  httplib::Client client = server.client();
  const json answer = tried(client, "clinic", {{"group", "main"}, {"periods", json::array()}});
  const json& prices = answer["price_per_kwh"];
  ASSERT_EQ(prices.size(), 672U);
  for (const json& price : prices) EXPECT_EQ(price, prices[0]);
  // By hand: what is used costs the flat price. A step comes 52 or 53 times a year instead of 365 / 7 times,
  // less an hour in spring: within 2 %.
  const double by_hand = answer["kwh_per_week"].get<double>() * prices[0].get<double>();
  EXPECT_NEAR(answer["cost_per_week"].get<double>(), by_hand, 0.02 * by_hand);
  EXPECT_EQ(answer["cost_per_week"], answer["always_on_cost_per_week"]) << "no period: always on";
}

TEST(TrySchedule, cable_that_is_off_at_night_uses_less_and_says_where_it_is_cold) {
  TestServer server({"clinic"});
  httplib::Client client = server.client();
  const json always = tried(client, "clinic", {{"group", "main"}, {"periods", json::array()}});
  const json nights = tried(client, "clinic", {{"group", "main"}, {"periods", nights_off}});
  EXPECT_LT(nights["kwh_per_week"], always["kwh_per_week"]);
  EXPECT_LT(nights["cost_per_week"], nights["always_on_cost_per_week"]);
  EXPECT_LT(nights["water_c"][16], always["water_c"][16]) << "Monday 04:00";
  const auto result =
      post(client, "/api/jobs/clinic/schedule", {{"group", "mian"}, {"periods", json::array()}});
  EXPECT_EQ(result->status, 400);
  EXPECT_NE(result->body.find("main"), std::string::npos);
}

TEST(TrySchedule, its_words_are_in_the_units_that_are_asked_for) {
  TestServer server({"clinic"});
  httplib::Client client = server.client();
  const auto words = [&](const std::string& units) {
    return tried(client, "clinic", {{"group", "main"}, {"periods", nights_off}}, "?units=" + units).dump();
  };
  EXPECT_NE(words("us").find("°F short"), std::string::npos);
  EXPECT_NE(words("metric").find(" K short"), std::string::npos);
  const auto result = post(client, "/api/jobs/clinic/schedule?units=imperial",
                           {{"group", "main"}, {"periods", json::array()}});
  EXPECT_EQ(result->status, 400);
}

}  // namespace
}  // namespace firstdraw::serve
