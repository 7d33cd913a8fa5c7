// Every operation of openapi.json is asked, and what comes back is held against its schema by Debian's
// python3-jsonschema: tests/serve/contract.py. The schema was written before the server; nothing here is
// derived from what the program answers.
#include <cstdlib>
#include <fstream>
#include <set>

#include "serve/route.hpp"
#include "serve/test_server.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

json description() {
  std::ifstream in(places::sources() + "/src/serve/openapi.json");
  return json::parse(in);
}

std::string_view name_of(Method method) {
  return method == Method::get ? "get" : method == Method::post ? "post" : "delete";
}

TEST(Contract, every_route_is_described_and_every_operation_has_a_route) {
  std::set<std::string> routes, operations;
  for (const Route& route : all_routes())
    routes.insert(std::string(name_of(route.method)) + " " + std::string(route.path));
  const json described = description();
  for (const auto& [path, methods] : described["paths"].items())
    for (const auto& [method, operation] : methods.items()) operations.insert(method + " " + path);
  EXPECT_EQ(routes, operations);
}

/// Asks and notes what came back.
class Asker {
 public:
  Asker() : server_({"clinic"}, true), host_(server_.client()), device_(server_.network()) {}

  json get(const std::string& operation, const std::string& path) { return note(operation, host_.Get(path)); }
  json post(const std::string& operation, const std::string& path, const json& body) {
    return note(operation, serve::post(host_, path, body));
  }
  json post(const std::string& operation, const std::string& path) {
    return note(operation, host_.Post(path));
  }
  json remove(const std::string& operation, const std::string& path) {
    return note(operation, host_.Delete(path));
  }
  json note(const std::string& operation, const httplib::Result& result) {
    const json body = result && !result->body.empty() ? json_of(result) : json();
    answers_.push_back({{"operation", operation},
                        {"status", result ? result->status : 0},
                        {"type", result ? result->get_header_value("Content-Type") : ""},
                        {"body", body.is_discarded() ? json() : body}});
    return body;
  }
  std::string finished(const std::string& task) {
    std::string state;
    for (int i = 0; i < 1200; ++i) {
      state = json_of(host_.Get("/api/tasks/" + task)).value("state", "");
      if (state != "queued" && state != "running") return state;
      std::this_thread::sleep_for(std::chrono::milliseconds{100});
    }
    return state;
  }

  TestServer server_;
  httplib::Client host_;
  httplib::Client device_;
  json answers_ = json::array();
};

/// What comes back of the first few kilobytes of a stream.
void note_events(Asker& ask) {
  httplib::Client listening = ask.server_.client();
  std::string heard;
  const auto result = listening.Get("/api/events", [&](const char* data, std::size_t size) {
    heard.append(data, size);
    return heard.find("event: job") == std::string::npos;
  });
  (void)result;
  EXPECT_NE(heard.find("retry: "), std::string::npos);
  EXPECT_NE(heard.find("event: job\n"), std::string::npos) << heard;
  ask.answers_.push_back(
      {{"operation", "events"}, {"status", 200}, {"type", "text/event-stream"}, {"body", nullptr}});
}

void ask_jobs(Asker& ask) {
  ask.get("server", "/api/server");
  ask.get("openapi", "/openapi.json");
  ask.get("jobs", "/api/jobs");
  ask.post("newJob", "/api/jobs",
           {{"id", "small"}, {"start", "blank"}, {"name", "A small \"house\""}, {"units", "metric"}});
  const json sheet = ask.get("sheet", "/api/jobs/clinic/sheet");
  const json edit{
      {"base", sheet["revision"]},
      {"label", "a note"},
      {"changes", {{{"do", "set"}, {"table", "runs"}, {"row", "R-02"}, {"column", "note"}, {"to", "seen"}}}}};
  ask.post("edit", "/api/jobs/clinic/edits", edit);
  ask.post("undo", "/api/jobs/clinic/undo");
  ask.post("redo", "/api/jobs/clinic/redo");
  ask.get("view", "/api/jobs/clinic/view");
  ask.get("view", "/api/jobs/clinic/view?samples=50&units=metric");
  ask.get("view", "/api/jobs/small/view");
  ask.get("plan", "/api/jobs/clinic/plan");
  ask.get("folder", "/api/jobs/clinic/folder");
}

void ask_tasks(Asker& ask) {
  const json simulated = ask.post("newTask", "/api/jobs/clinic/tasks", {{"what", "simulate"}, {"days", 1}});
  const std::string id = simulated.value("id", "");
  EXPECT_EQ(ask.finished(id), "done");
  ask.get("task", "/api/tasks/" + id);
  ask.get("result", "/api/tasks/" + id + "/result");
  ask.get("series", "/api/tasks/" + id + "/series?every_s=1200");
  ask.get("tasks", "/api/jobs/clinic/tasks");
  const json pack =
      ask.post("newTask", "/api/jobs/clinic/tasks", {{"what", "pack"}, {"days", 1}, {"week", false}});
  const std::string packed = "/api/tasks/" + pack.value("id", "");
  EXPECT_EQ(ask.finished(pack.value("id", "")), "done");
  ask.get("packFiles", packed + "/files");
  ask.get("packFile", packed + "/files/hand-over.pdf");
  ask.get("packFile", packed + "/files/pack.zip");
  ask.remove("cancelTask", packed);
  ask.post(
      "trySchedule", "/api/jobs/clinic/schedule",
      {{"group", "main"},
       {"periods", {{{"days", {"sat", "sun"}}, {"start", "22:00"}, {"end", "05:00"}, {"hold", "off"}}}}});
}

void ask_field(Asker& ask) {
  const json current{{"what", "current"}, {"circuit", "C01"}, {"value", "2.1 A"}, {"stage", "energised"}};
  const json odd{{"what", "current"}, {"circuit", "C01"}, {"value", "two"}};
  ask.post("judge", "/api/jobs/clinic/judge", {{"readings", {current, odd}}});
  ask.post("diagnose", "/api/jobs/clinic/diagnose", {{"readings", {current}}});
  const std::string png("\x89PNG\r\n\x1A\n-a-photo", 16);
  const json photo = ask.note("putFile", ask.host_.Post("/api/files", png, "application/octet-stream"));
  const std::string hash = photo.value("sha256", "");
  ask.get("file", "/api/files/" + hash);
  json record{{"entry", "e-1"},
              {"kind", "test"},
              {"who", "Ada Example"},
              {"at", "2026-11-29T14:05:00-06:00"},
              {"readings", {current}},
              {"instrument", {{"name", "clamp meter"}, {"serial", "SN 1"}}},
              {"files", {{{"name", "p.png"}, {"sha256", hash}}}}};
  ask.post("keep", "/api/jobs/clinic/records", record);
  EXPECT_TRUE(ask.post("keep", "/api/jobs/clinic/records", record).value("again", false));
  ask.get("records", "/api/jobs/clinic/records");
  ask.get("circuit", "/api/jobs/clinic/circuits/C01");
}

void ask_access(Asker& ask) {
  const json code = ask.post("pairingCode", "/api/pairing-code");
  ask.note("pair", post(ask.device_, "/api/pair", {{"code", code["code"]}, {"name", "phone"}}));
  const json devices = ask.get("devices", "/api/devices");
  ask.remove("revoke", "/api/devices/" + devices.at(0).value("id", ""));
  const json share = ask.post("newShare", "/api/jobs/clinic/shares", {{"days", 7}, {"name", "the owner"}});
  const std::string link = share.value("address", "");
  ask.note("comeIn", ask.device_.Get(link.substr(link.find("/s/"))));
  ask.get("shares", "/api/jobs/clinic/shares");
  ask.remove("revokeShare", "/api/jobs/clinic/shares/" + share.value("id", ""));
}

/// What refusals look like is described once for all of them.
void ask_in_vain(Asker& ask) {
  ask.get("view", "/api/jobs/no-such-job/view");
  ask.get("task", "/api/tasks/t999");
  ask.post("edit", "/api/jobs/clinic/edits", {{"base", 1}, {"label", 3}, {"changes", json::array()}});
  ask.post("keep", "/api/jobs/clinic/records", {{"entry", "!"}});
}

TEST(Contract, every_answer_is_what_the_description_says) {
  Asker ask;
  ask_jobs(ask);
  std::thread listening([&] { note_events(ask); });
  std::this_thread::sleep_for(std::chrono::milliseconds{300});
  {
    httplib::Client other = ask.server_.client();
    other.Post("/api/jobs/clinic/undo");
  }
  listening.join();
  ask_tasks(ask);
  ask_field(ask);
  ask_access(ask);
  ask_in_vain(ask);
  const std::string file = (ask.server_.state() / "answers.json").string();
  std::ofstream(file) << ask.answers_;
  const std::string command = "/usr/bin/python3 " + places::sources() + "/tests/serve/contract.py " +
                              places::sources() + "/src/serve/openapi.json " + file;
  EXPECT_EQ(std::system(command.c_str()), 0);
}

}  // namespace
}  // namespace firstdraw::serve
