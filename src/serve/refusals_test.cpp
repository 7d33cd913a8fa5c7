// What must not be possible: other sites, other names, strangers, guests where they do not belong, bodies
// that are too large, paths that lead out.
#include "serve/safe_file.hpp"
#include "serve/test_server.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using Headers = httplib::Headers;

using Texts = std::vector<std::string>;

const json nothing = json::object();

class Host : public testing::Test {
 protected:
  static TestServer& server() {
    static TestServer one({"clinic"});
    return one;
  }
  httplib::Client client_ = server().client();
};

TEST_F(Host, answers_only_to_its_own_names) {
  for (const std::string& name :
       Texts{"evil.example", "evil.example:8450", "127.0.0.1.evil.example", "localhost:1"})
    EXPECT_EQ(client_.Get("/api/jobs", Headers{{"Host", name}})->status, 403) << name;
  EXPECT_EQ(client_.Get("/", Headers{{"Host", "evil.example"}})->status, 403);
  const std::string port = std::to_string(server().port());
  for (const std::string& name :
       Texts{"localhost:" + port, "127.0.0.1:" + port, "LOCALHOST:" + port, "[::1]:" + port})
    EXPECT_EQ(client_.Get("/api/jobs", Headers{{"Host", name}})->status, 200) << name;
}

TEST_F(Host, takes_writes_of_its_own_page_alone) {
  const std::string own = "http://127.0.0.1:" + std::to_string(server().port());
  for (const std::string& origin :
       Texts{"http://evil.example", "https://127.0.0.1:1", "null", "http://localhost:1"})
    EXPECT_EQ(client_.Post("/api/jobs/clinic/undo", Headers{{"Origin", origin}}, "", "")->status, 403)
        << origin;
  EXPECT_EQ(client_.Post("/api/jobs/clinic/undo", Headers{{"Sec-Fetch-Site", "cross-site"}}, "", "")->status,
            403);
  // Nothing to undo: the request itself was let in.
  EXPECT_EQ(client_.Post("/api/jobs/clinic/undo", Headers{{"Origin", own}}, "", "")->status, 400);
}

TEST_F(Host, carries_the_headers_that_keep_a_page_to_itself) {
  const auto answer = client_.Get("/api/jobs");
  EXPECT_EQ(answer->get_header_value("X-Content-Type-Options"), "nosniff");
  EXPECT_EQ(answer->get_header_value("Cache-Control"), "no-store");
  EXPECT_EQ(answer->get_header_value("Referrer-Policy"), "no-referrer");
}

TEST_F(Host, reads_no_more_than_it_takes) {
  const std::string large(5UL << 20U, ' ');
  EXPECT_EQ(client_.Post("/api/jobs/clinic/edits", large, "application/json")->status, 413);
  EXPECT_EQ(client_.Post("/api/jobs/clinic/edits", "{}", "text/plain")->status, 400);
  EXPECT_EQ(
      client_.Post("/api/jobs/clinic/edits", Headers{{"Content-Encoding", "gzip"}}, "{}", "application/json")
          ->status,
      400);
  EXPECT_EQ(client_.Post("/api/files", std::string(21UL << 20U, 'x'), "application/octet-stream")->status,
            413);
  EXPECT_EQ(client_.Post("/api/files", "no photo at all", "application/octet-stream")->status, 400);
  // The connection is still good.
  EXPECT_EQ(client_.Get("/api/jobs")->status, 200);
}

TEST_F(Host, leads_to_no_file_outside) {
  for (const std::string& path : Texts{"/api/jobs/..%2F..%2Fetc/view", "/api/jobs/%2e%2e/view",
                                       "/api/jobs/../../../etc/passwd", "/api/files/..%2F..%2Fetc%2Fpasswd",
                                       "/api/tasks/..%2F../files/job.toml", "/api/jobs/.hidden/view"}) {
    const auto answer = client_.Get(path);
    ASSERT_TRUE(answer) << path;
    EXPECT_GE(answer->status, 400) << path;
    EXPECT_TRUE(json_of(answer).contains("problems")) << path;
  }
  // What is no path of the API is the page, whatever it looks like.
  for (const std::string& path :
       Texts{"/../../etc/passwd", "/..%2f..%2fetc%2fpasswd", "/assets/../../job.toml"}) {
    const auto answer = client_.Get(path);
    ASSERT_TRUE(answer) << path;
    EXPECT_EQ(answer->body.find("root:"), std::string::npos) << path;
  }
}

TEST_F(Host, is_not_paired_without_the_network) {
  EXPECT_EQ(post(client_, "/api/pair", {{"code", "00000000"}, {"name", "x"}})->status, 403);
  EXPECT_EQ(client_.Post("/api/pairing-code")->status, 403);
  EXPECT_EQ(post(client_, "/api/jobs/clinic/shares", {{"days", 1}, {"name", "x"}})->status, 403);
}

TEST_F(Host, says_what_is_wrong_with_what_is_no_request) {
  EXPECT_EQ(client_.Get("/api/no-such-thing")->status, 404);
  EXPECT_EQ(client_.Put("/api/jobs", "{}", "application/json")->status, 404);
  EXPECT_TRUE(json_of(client_.Put("/api/jobs", "{}", "application/json")).contains("problems"));
  EXPECT_EQ(client_.Get("/" + std::string(9000, 'a'))->status, 414);
}

class Network : public testing::Test {
 protected:
  Network() : server_({"clinic", "care-home"}, true), host_(server_.client()), device_(server_.network()) {}

  std::string code() { return json_of(host_.Post("/api/pairing-code")).value("code", ""); }
  /// The cookie's name and value.
  static std::string cookie_of(const httplib::Result& answer) {
    const std::string whole = answer->get_header_value("Set-Cookie");
    return whole.substr(0, whole.find(';'));
  }
  Headers paired() {
    const auto answer = post(device_, "/api/pair", {{"code", code()}, {"name", "phone"}});
    EXPECT_EQ(answer->status, 200) << answer->body;
    return {{"Cookie", cookie_of(answer)}};
  }
  Headers guest() {
    const std::string link = json_of(post(host_, "/api/jobs/clinic/shares", {{"days", 1}, {"name", "owner"}}))
                                 .value("address", "");
    return {{"Cookie", cookie_of(device_.Get(link.substr(link.find("/s/"))))}};
  }
  int status(const std::string& path, const Headers& headers = {}) {
    return device_.Get(path, headers)->status;
  }

  TestServer server_;
  httplib::Client host_;
  httplib::Client device_;
};

TEST_F(Network, says_in_words_that_a_link_is_over) {
  EXPECT_EQ(status("/s/nothing"), 404);
  const auto opened = device_.Get("/s/nothing", Headers{{"Accept", "text/html,*/*;q=0.8"}});
  EXPECT_EQ(opened->status, 404);
  EXPECT_TRUE(opened->body.starts_with("<!")) << opened->body;
  EXPECT_TRUE(opened->get_header_value("Content-Type").starts_with("text/html"));
  const auto asked = device_.Get("/s/nothing", Headers{{"Accept", "application/json"}});
  EXPECT_EQ(json_of(asked).at("problems").at(0).value("message", ""), "this link is no longer good");
}

TEST_F(Network, shows_a_stranger_only_how_to_pair) {
  EXPECT_EQ(status("/api/server"), 200);
  EXPECT_FALSE(json_of(device_.Get("/api/server")).value("may_edit", true));
  for (const std::string& path :
       Texts{"/api/jobs", "/api/jobs/clinic/view", "/api/events", "/api/devices", "/api/files/x"})
    EXPECT_EQ(status(path), 401) << path;
  EXPECT_EQ(post(device_, "/api/jobs/clinic/edits", nothing)->status, 401);
}

TEST_F(Network, pairs_once_with_a_code_and_few_tries) {
  const std::string good = code();
  ASSERT_EQ(good.size(), 8U);
  const std::string wrong = good == "12345678" ? "12345679" : "12345678";
  EXPECT_EQ(post(device_, "/api/pair", {{"code", wrong}, {"name", "x"}})->status, 401);
  const auto paired = post(device_, "/api/pair", {{"code", good}, {"name", "x"}});
  EXPECT_EQ(paired->status, 200);
  const std::string cookie = paired->get_header_value("Set-Cookie");
  for (const std::string& part : Texts{"HttpOnly", "SameSite=Strict", "Secure", "Path=/"})
    EXPECT_NE(cookie.find(part), std::string::npos) << part;
  EXPECT_EQ(post(device_, "/api/pair", {{"code", good}, {"name", "y"}})->status, 401);  // used up
  // A code dies after five wrong tries, and an address may not try for ever.
  const std::string other = code();
  for (int i = 0; i < 5; ++i) post(device_, "/api/pair", {{"code", "00000000"}, {"name", "x"}});
  EXPECT_NE(post(device_, "/api/pair", {{"code", other}, {"name", "z"}})->status, 200);
}

TEST_F(Network, lets_a_device_in_until_it_is_taken_back) {
  const Headers headers = paired();
  EXPECT_EQ(status("/api/jobs", headers), 200);
  EXPECT_EQ(status("/api/devices", headers), 403);  // on the host alone
  EXPECT_EQ(device_.Post("/api/pairing-code", headers, "", "")->status, 403);
  const std::string id = json_of(host_.Get("/api/devices")).at(0).value("id", "");
  EXPECT_EQ(host_.Delete("/api/devices/" + id)->status, 204);
  EXPECT_EQ(status("/api/jobs", headers), 401);
}

TEST_F(Network, shows_a_guest_one_job_and_changes_nothing) {
  const Headers headers = guest();
  EXPECT_EQ(status("/api/jobs/clinic/view", headers), 200);
  EXPECT_EQ(status("/api/jobs/care-home/view", headers), 403);
  EXPECT_EQ(json_of(device_.Get("/api/jobs", headers)).size(), 1U);
  EXPECT_EQ(json_of(device_.Get("/api/server", headers))["only_job"], "clinic");
  EXPECT_EQ(device_.Post("/api/jobs/clinic/undo", headers, "", "")->status, 403);
  EXPECT_EQ(post(device_, "/api/jobs/clinic/records", nothing, headers)->status, 403);
  EXPECT_EQ(post(device_, "/api/jobs/clinic/tasks", nothing, headers)->status, 403);
  EXPECT_EQ(status("/api/jobs/clinic/shares", headers), 403);
  const std::string share = json_of(host_.Get("/api/jobs/clinic/shares")).at(0).value("id", "");
  EXPECT_EQ(host_.Delete("/api/jobs/clinic/shares/" + share)->status, 204);
  EXPECT_EQ(status("/api/jobs/clinic/view", headers), 401);
}

TEST_F(Network, keeps_no_token_but_its_hash) {
  const std::string cookie = paired().begin()->second;
  const std::string token = cookie.substr(cookie.find('=') + 1);
  const std::string kept = read_whole(server_.state() / "devices.json").value();
  EXPECT_EQ(kept.find(token), std::string::npos);
  EXPECT_NE(kept.find("token_sha256"), std::string::npos);
  using std::filesystem::perms;
  for (const std::string& name : Texts{"devices.json", "lan-key.pem"}) {
    const auto mode = std::filesystem::status(server_.state() / name).permissions();
    EXPECT_EQ(mode & (perms::group_all | perms::others_all), perms::none) << name;
  }
}

TEST_F(Network, slows_down_who_asks_too_often) {
  int refused = 0;
  for (int i = 0; i < 120; ++i) refused += status("/api/server") == 429 ? 1 : 0;
  EXPECT_GT(refused, 20);
}

TEST_F(Network, speaks_tls_alone) {
  httplib::Client plain("127.0.0.1", server_.lan_port());
  plain.set_read_timeout(5);
  const auto answer = plain.Get("/api/server");
  EXPECT_TRUE(!answer || answer->status >= 400);
}

}  // namespace
}  // namespace firstdraw::serve
