// Long work over the API: what is told while it goes on, what comes of it, what is left when it is stopped.
#include <map>
#include <random>
#include <set>

#include "serve/listening.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

class Work : public testing::Test {
 protected:
  static TestServer& server() {
    static TestServer one({"clinic"});
    return one;
  }
  json start(const json& asked) { return json_of(post(client_, "/api/jobs/clinic/tasks", asked)); }
  json now(const std::string& id) { return json_of(client_.Get("/api/tasks/" + id)); }
  json series(const std::string& id, const std::string& query = "") {
    return json_of(client_.Get("/api/tasks/" + id + "/series" + query));
  }

  httplib::Client client_ = server().client();
};

bool is_over(const json& task) { return task["state"] != "queued" && task["state"] != "running"; }

/// What was told of one task.
std::vector<json> told_of(const Listening& listening, const std::string& id) {
  std::vector<json> told = listening.heard("task");
  std::erase_if(told, [&id](const json& task) { return task["id"] != id; });
  return told;
}

bool is_over(const Listening& listening, const std::string& id) {
  const std::vector<json> told = told_of(listening, id);
  return !told.empty() && is_over(told.back());
}

/// Whether what was told moves, and never back.
void check_progress(const std::vector<json>& told, std::size_t least_steps) {
  std::set<double> steps;
  double before = 0;
  for (const json& task : told) {
    const double now = task["done_frac"];
    EXPECT_GE(now, before) << task;
    before = now;
    steps.insert(now);
  }
  EXPECT_GE(steps.size(), least_steps);
}

TEST_F(Work, a_simulation_is_seen_as_it_grows) {
  constexpr int days = 120;
  Listening listening(server());
  const std::string id = start({{"what", "simulate"}, {"days", days}})["id"];
  json pieced = json::array();  // of the first run, from what was new each time
  const auto look = [&] {
    for (const json& task : told_of(listening, id)) {
      const json& until = task["recorded_s"];
      const double from_s = 600.0 * static_cast<double>(pieced.size());
      if (until.is_null() || until.get<double>() < from_s) continue;
      const json fresh = series(id, "?from_s=" + std::to_string(from_s));
      EXPECT_EQ(fresh["begin_s"], from_s);
      for (const json& water_c : fresh["runs"][0]["water_c"]) pieced.push_back(water_c);
    }
    return is_over(listening, id);
  };
  ASSERT_TRUE(listening.wait(look));
  const std::vector<json> told = told_of(listening, id);
  EXPECT_EQ(told.back()["state"], "done");
  EXPECT_EQ(told.back()["recorded_s"], days * 86400);
  check_progress(told, 5);
  std::set<double> lengths;
  for (const json& task : told)
    if (!task["recorded_s"].is_null()) lengths.insert(task["recorded_s"].get<double>());
  EXPECT_GE(lengths.size(), 3U) << "the week grew before it was done";
  EXPECT_EQ(pieced, series(id)["runs"][0]["water_c"]) << "pieces make the whole";
}

TEST_F(Work, a_week_is_searched_to_its_end) {
  Listening listening(server());
  const std::string id = start({{"what", "week"}})["id"];
  ASSERT_TRUE(listening.wait([&] { return is_over(listening, id); }, std::chrono::seconds{280}));
  const std::vector<json> told = told_of(listening, id);
  EXPECT_EQ(told.back()["state"], "done") << told.back();
  check_progress(told, 20);
  const json week = json_of(client_.Get("/api/tasks/" + id + "/result"));
  ASSERT_FALSE(week["seasons"].empty());
  std::map<std::string, double> costs;
  for (const json& way : week["costs"]) costs[way["id"]] = way["cost_per_year"];
  EXPECT_LE(costs.at("week"), costs.at("constant")) << "hours are only keyed in where they save";
  EXPECT_LT(costs.at("week"), costs.at("return"));
}

TEST_F(Work, a_pack_is_written_to_its_end) {
  Listening listening(server());
  const std::string id = start({{"what", "pack"}, {"days", 2}, {"week", false}})["id"];
  ASSERT_TRUE(listening.wait([&] { return is_over(listening, id); }, std::chrono::seconds{120}));
  check_progress(told_of(listening, id), 2);
  const std::string files = "/api/tasks/" + id + "/files";
  EXPECT_EQ(client_.Get(files + "/hand-over.pdf")->body.substr(0, 5), "%PDF-");
  EXPECT_EQ(json::parse(client_.Get(files + "/plan.json")->body)["site"]["name"],
            json_of(client_.Get("/api/jobs/clinic/plan"))["site"]["name"]);
  EXPECT_EQ(client_.Get(files + "/pack.zip")->body.substr(0, 2), "PK");
}

TEST_F(Work, is_stopped_at_any_moment) {
  Listening listening(server());
  std::mt19937 random(20261130);
  for (const char* what : {"simulate", "week", "pack", "simulate", "week", "pack"}) {
    json asked{{"what", what}};
    if (asked["what"] != "week") asked["days"] = 366;  // so that none is done before it is stopped
    const std::string id = start(asked)["id"];
    std::this_thread::sleep_for(std::chrono::milliseconds(random() % 1500));
    EXPECT_EQ(client_.Delete("/api/tasks/" + id)->status, 204);
    ASSERT_TRUE(listening.wait([&] { return is_over(listening, id); })) << what;
    const json task = now(id);
    EXPECT_EQ(task["state"], "stopped") << task;
    check_progress(told_of(listening, id), 1);
    // What was recorded until then stays.
    EXPECT_TRUE(task["recorded_s"].is_null() || !series(id)["runs"][0]["water_c"].empty());
  }
}

TEST_F(Work, a_series_begins_where_it_is_asked_to) {
  const std::string id = start({{"what", "simulate"}, {"days", 1}})["id"];
  for (int i = 0; i < 600 && !is_over(now(id)); ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds{50});
  const json whole = series(id, "?every_s=1200"), rest = series(id, "?every_s=1200&from_s=1800");
  EXPECT_EQ(whole["begin_s"], 0);
  EXPECT_EQ(whole["every_s"], 1200);
  EXPECT_EQ(rest["begin_s"], 2400) << "on the steps of the whole";
  const json& all = whole["taps"][0]["water_c"];
  const json& some = rest["taps"][0]["water_c"];
  ASSERT_EQ(all.size(), 73U);
  ASSERT_EQ(some.size(), 71U);
  EXPECT_EQ(some.front(), all[2]);
  EXPECT_EQ(some.back(), all.back());
  EXPECT_TRUE(series(id, "?from_s=90000")["runs"][0]["water_c"].empty()) << "nothing after its end";
  for (const char* query : {"?from_s=-1", "?from_s=x", "?every_s=0", "?from_s=1e99"})
    EXPECT_EQ(client_.Get("/api/tasks/" + id + "/series" + query)->status, 400) << query;
}

}  // namespace
}  // namespace firstdraw::serve
