// PostgreSQL restarted while a program writes, gone and back, and connections that break in the commit.
#include <arpa/inet.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>

#include <fstream>
#include <map>

#include "store/test_child.hpp"
#include "store/test_server.hpp"

namespace firstdraw::store {
namespace {

TEST(Server, RestartedWhileAProgramWrites) {
  if (test_server().empty()) GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres";
  const OwnServer server;
  TestPlace place(Dialect::postgresql, server.where());
  place.keep();
  Store store = place.open();
  std::map<std::int64_t, std::string> acknowledged;
  std::atomic<bool> enough = false;
  int failed = 0;
  std::thread writer([&] {
    for (int i = 0; !enough; ++i) {
      const auto record = store.append("job", note("entry " + std::to_string(i)));
      if (record)
        acknowledged.emplace(record->number, record->hash);
      else
        ++failed;
    }
  });
  const int rounds = from_environment("FIRSTDRAW_FAULT_ROUNDS", 2);
  for (int round = 0; round < rounds; ++round) {
    std::this_thread::sleep_for(std::chrono::milliseconds(150 + 37 * (round % 7)));
    EXPECT_TRUE(server.control("restart -m immediate"));
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(150));
  enough = true;
  writer.join();
  const auto found = store.verify("job").value();
  EXPECT_TRUE(found.whole());
  // Nothing lost, nothing doubled: each append that came back is one record.
  EXPECT_EQ(found.records, static_cast<std::int64_t>(acknowledged.size()));
  EXPECT_EQ(failed, 0);
  const auto records = store.records("job").value();
  for (const Record& record : records) EXPECT_EQ(acknowledged[record.number], record.hash);
  std::printf("%d restarts, %zu records\n", rounds, acknowledged.size());

  ASSERT_TRUE(server.control("stop -m immediate"));
  const auto gone = Store::open(place.where());
  EXPECT_EQ(gone.error().kind, FailureKind::unreachable);
  std::thread back([&] { server.control("start"); });
  EXPECT_TRUE(store.append("job", note("after")));
  back.join();
}

/// Stands between a program and the server; cuts the line at the next COMMIT, before or after the server had
/// it.
class Cutter {
 public:
  enum class When { never, before, after };

  explicit Cutter(const std::string& server) {
    const std::size_t at = server.find('@'), colon = server.find(':', at), slash = server.find('/', colon);
    server_port_ = static_cast<std::uint16_t>(std::stoi(server.substr(colon + 1, slash - colon - 1)));
    listener_ = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in here = local(0);
    bind(listener_, reinterpret_cast<sockaddr*>(&here), sizeof here);
    listen(listener_, 8);
    socklen_t size = sizeof here;
    getsockname(listener_, reinterpret_cast<sockaddr*>(&here), &size);
    where_ = server.substr(0, colon + 1) + std::to_string(ntohs(here.sin_port)) + server.substr(slash);
    thread_ = std::thread([this] { serve(); });
  }
  Cutter(const Cutter&) = delete;
  Cutter& operator=(const Cutter&) = delete;
  ~Cutter() {
    shutdown(listener_, SHUT_RDWR);
    done_ = true;
    thread_.join();
    close(listener_);
  }
  void cut(When when) { when_ = when; }
  bool has_cut() const { return when_ == When::never; }
  const std::string& where() const { return where_; }

 private:
  static sockaddr_in local(std::uint16_t port) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(port);
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    return address;
  }

  void serve() {
    while (!done_) {
      const int client = accept(listener_, nullptr, nullptr);
      if (client < 0) return;
      const int server = socket(AF_INET, SOCK_STREAM, 0);
      const sockaddr_in there = local(server_port_);
      if (connect(server, reinterpret_cast<const sockaddr*>(&there), sizeof there) == 0) pass(client, server);
      close(client);
      close(server);
    }
  }

  void pass(int client, int server) {
    while (!done_) {
      pollfd ends[2] = {{client, POLLIN, 0}, {server, POLLIN, 0}};
      poll(ends, 2, 50);
      if (ends[0].revents != 0 && !forward(client, server, true)) return;
      if (ends[1].revents != 0 && !forward(server, client, false)) return;
    }
  }

  /// False: the line is to be cut, or ended.
  bool forward(int from, int to, bool from_client) {
    char buffer[65536];
    const ssize_t count = recv(from, buffer, sizeof buffer, 0);
    if (count <= 0) return false;
    const bool commits =
        std::string_view(buffer, static_cast<std::size_t>(count)).find("COMMIT") != std::string_view::npos;
    const When when = from_client && commits ? when_.exchange(When::never) : When::never;
    if (when == When::before) return false;
    send(to, buffer, static_cast<std::size_t>(count), MSG_NOSIGNAL);
    // The server's answer is waited for, and kept from the program.
    return when == When::never || recv(to, buffer, sizeof buffer, 0) < 0;
  }

  std::uint16_t server_port_ = 0;
  int listener_ = -1;
  std::string where_;
  std::thread thread_;
  std::atomic<When> when_ = When::never;
  std::atomic<bool> done_ = false;
};

class CommitCut : public ::testing::TestWithParam<Cutter::When> {};
INSTANTIATE_TEST_SUITE_P(Server, CommitCut, ::testing::Values(Cutter::When::before, Cutter::When::after),
                         [](const auto& test) {
                           return test.param == Cutter::When::before ? "before" : "after";
                         });

TEST_P(CommitCut, AnAppendIsNeitherLostNorDoubled) {
  if (test_server().empty()) GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres";
  const TestPlace place(Dialect::postgresql);
  Cutter cutter(test_server());
  std::string where = place.where();
  where.replace(0, test_server().size(), cutter.where());
  Store store = Store::open(where).value();
  store.append("job", note("one")).value();
  cutter.cut(GetParam());
  const auto second = store.append("job", note("two"));
  EXPECT_TRUE(cutter.has_cut());
  ASSERT_TRUE(second) << second.error().what;
  EXPECT_EQ(second->number, 2);
  EXPECT_EQ(store.append("job", note("three"))->number, 3);
  const auto records = place.open().records("job").value();
  ASSERT_EQ(records.size(), 3U);
  EXPECT_EQ(records[1], *second);
  EXPECT_TRUE(store.verify("job")->whole());
}

}  // namespace
}  // namespace firstdraw::store
