// A record that is sent again because its answer was lost: kept once, whatever moved in between.
#include "serve/safe_file.hpp"
#include "serve/test_server.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

class SentAgain : public testing::Test {
 protected:
  json send(const json& record, int status = 201) {
    const auto result = post(client_, "/api/jobs/clinic/records", record);
    EXPECT_EQ(result->status, status) << result->body;
    return json_of(result);
  }
  void edit(const json& changes) {
    const auto result =
        post(client_, "/api/jobs/clinic/edits", {{"base", 1}, {"label", "moved"}, {"changes", changes}});
    ASSERT_EQ(result->status, 200) << result->body;
  }
  std::size_t kept() { return json_of(client_.Get("/api/jobs/clinic/records")).size(); }
  void spoil_the_job() {
    ASSERT_TRUE(write_safely(server_.jobs() / "clinic" / "job.toml", "[site\n"));
    server_.server().house().look_around();
    ASSERT_EQ(client_.Get("/api/jobs/clinic/view")->status, 400) << "the job reads no more";
  }

  TestServer server_{{"clinic"}};
  httplib::Client client_ = server_.client();
};

json record(const std::string& entry, const std::string& kind) {
  return {{"entry", entry}, {"kind", kind}, {"who", "Ada Example"}, {"at", "2026-11-29T14:05:00-06:00"}};
}

json test_of_a_run(const std::string& value) {
  json test = record("e-1", "test");
  test["readings"] = {{{"what", "pipe-temperature"}, {"run", "R-02"}, {"value", value}},
                      {{"what", "current"}, {"circuit", "C01"}, {"value", "2.1 A"}, {"note", "warm"}}};
  test["instrument"] = {{"name", "clamp meter"}, {"serial", "SN 1"}, {"class_frac", 0.02}};
  test["note"] = "before noon";
  return test;
}

TEST_F(SentAgain, is_kept_once_also_when_its_run_has_another_name) {
  const json first = send(test_of_a_run("118"));  // in the job's own units
  EXPECT_FALSE(first["again"]);
  edit({{{"do", "rename"}, {"table", "runs"}, {"row", "R-02"}, {"to", "R-99"}}});
  const json again = send(test_of_a_run("118"));
  EXPECT_TRUE(again["again"]);
  EXPECT_EQ(again["number"], first["number"]);
  EXPECT_EQ(again["hash"], first["hash"]);
  EXPECT_EQ(again["verdicts"].size(), 2U);
  spoil_the_job();
  EXPECT_TRUE(send(test_of_a_run("118"))["again"]);
}

TEST_F(SentAgain, is_refused_when_it_says_something_else) {
  send(test_of_a_run("118 °F"));
  const json other = send(test_of_a_run("120 °F"), 400);
  EXPECT_NE(other["problems"][0]["message"].get<std::string>().find("e-1"), std::string::npos) << other;
  json noted = test_of_a_run("118 °F");
  noted["note"] = "after noon";
  send(noted, 400);
  json fewer = test_of_a_run("118 °F");
  fewer["readings"].erase(1);
  send(fewer, 400);
  EXPECT_EQ(kept(), 1U);
}

TEST_F(SentAgain, needs_neither_its_photo_nor_the_book_as_it_was) {
  const std::string png("\x89PNG\r\n\x1A\n-a-photo", 16);
  const std::string hash = json_of(client_.Post("/api/files", png, "application/octet-stream"))["sha256"];
  json photo = record("e-2", "photo");
  photo["note"] = "splice";
  photo["place"] = "R-02";
  photo["files"] = {{{"name", "p.png"}, {"sha256", hash}}};
  json signing = record("e-3", "sign-off");
  signing["role"] = "installer";
  signing["statement"] = "Installed as drawn.";
  send(photo);
  send(signing);
  json note = record("e-4", "note");
  note["note"] = "the book goes on";
  send(note);
  EXPECT_TRUE(send(signing)["again"]) << "it signs for what was there then";
  EXPECT_TRUE(send(photo)["again"]);
  spoil_the_job();
  for (const json& each : {photo, signing, note}) EXPECT_TRUE(send(each)["again"]) << each;
  note["note"] = "something else";
  EXPECT_NE(post(client_, "/api/jobs/clinic/records", note)->status, 201);
}

/// The first test of C01 that is only looked at.
json look_asked(httplib::Client& client) {
  const json page = json_of(client.Get("/api/jobs/clinic/circuits/C01"));
  for (const json& ask : page["asks"])
    if (ask["looked_at"]) return ask;
  return nullptr;
}

TEST_F(SentAgain, a_look_is_kept_and_answers_its_test) {
  const json ask = look_asked(client_);
  ASSERT_TRUE(ask.is_object());
  EXPECT_TRUE(ask["last"].is_null());
  json look = record("l-1", "note");
  look["note"] = "the label is torn";
  look["place"] = "C01";
  look["looked"] = {{"test", ask["kind"]}, {"ok", false}};
  const json kept = send(look);
  EXPECT_TRUE(send(look)["again"]);
  EXPECT_EQ(look_asked(client_)["grade"], "fail");
  EXPECT_EQ(look_asked(client_)["last"]["number"], kept["number"]);
  EXPECT_EQ(look_asked(client_)["last"]["looked"], look["looked"]);
  EXPECT_EQ(json_of(client_.Get("/api/jobs/clinic/view"))["circuits"][0]["tests"], "fail");
  json mended = look;
  mended["entry"] = "l-2";
  mended["note"] = "a new label";
  mended["looked"]["ok"] = true;
  mended["corrects"] = kept["number"];
  mended["why"] = "printed anew";
  send(mended);
  EXPECT_EQ(look_asked(client_)["grade"], "pass");
  EXPECT_EQ(json_of(client_.Get("/api/jobs/clinic/view"))["circuits"][0]["tests"], "some");
}

TEST_F(SentAgain, a_look_is_at_a_test_and_a_circuit_that_there_is) {
  json look = record("l-3", "note");
  look["note"] = "seen";
  look["place"] = "C01";
  look["looked"] = {{"test", "no-such-test"}, {"ok", true}};
  EXPECT_EQ(send(look, 400)["problems"][0]["field"], "looked.test");
  look["looked"]["test"] = look_asked(client_)["kind"];
  look["place"] = "C99";
  EXPECT_EQ(send(look, 400)["problems"][0]["field"], "place");
  look.erase("place");
  send(look, 400);
  look["place"] = "C01";
  look["looked"].erase("ok");
  EXPECT_EQ(send(look, 400)["problems"][0]["field"], "looked.ok");
  EXPECT_EQ(kept(), 0U);
}

}  // namespace
}  // namespace firstdraw::serve
