// A device that opens the events and then reads nothing: it holds nobody up, costs no room and is cut off.
#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <fstream>

#include "serve/listening.hpp"

namespace firstdraw::serve {
namespace {

/// A connection of its own, as bare as it can be.
class Deaf {
 public:
  explicit Deaf(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    const int small = 4096;
    setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &small, sizeof small);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    connected_ = connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0;
    const std::string request =
        "GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port) + "\r\n\r\n";
    connected_ = connected_ && send(socket_, request.data(), request.size(), 0) == std::ssize(request);
  }
  ~Deaf() { close(socket_); }
  Deaf(const Deaf&) = delete;
  Deaf& operator=(const Deaf&) = delete;

  bool connected() const { return connected_; }
  /// Reads what is left for it; true when the other side closed within the time.
  bool is_cut_off(std::chrono::seconds within) const {
    const timeval patience{1, 0};
    setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    const auto until = std::chrono::steady_clock::now() + within;
    std::vector<char> bytes(1 << 16);
    while (std::chrono::steady_clock::now() < until) {
      const ssize_t got = recv(socket_, bytes.data(), bytes.size(), 0);
      if (got == 0 || (got < 0 && errno != EAGAIN && errno != EWOULDBLOCK)) return true;
    }
    return false;
  }

 private:
  int socket_;
  bool connected_ = false;
};

double resident_mb() {
  std::ifstream statm("/proc/self/statm");
  double pages = 0, resident = 0;
  statm >> pages >> resident;
  return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

TEST(SlowListener, holds_nobody_up_costs_no_room_and_is_cut_off) {
  TestServer server({"clinic"});
  std::vector<std::unique_ptr<Deaf>> deaf;
  for (int i = 0; i < 5; ++i) {
    deaf.push_back(std::make_unique<Deaf>(server.port()));
    ASSERT_TRUE(deaf.back()->connected());
  }
  Listening listening(server);
  Events& events = server.server().house().events;
  const std::string label(20'000, 'x');
  const double before_mb = resident_mb();
  constexpr int told = 5000;  // 100 MB
  std::size_t heard = 0;
  for (int i = 1; i <= told; ++i) {
    events.publish("job", "clinic", {{"job", "clinic"}, {"revision", i}, {"by", "host"}, {"label", label}});
    if (i % 100 != 0) continue;
    const std::string last = "\"revision\":" + std::to_string(i) + "}";
    ASSERT_TRUE(listening.wait([&] { return listening.take(last); }, std::chrono::seconds{20}))
        << "whoever reads hears at once: " << i;
    ++heard;
  }
  EXPECT_EQ(heard, told / 100U);
  EXPECT_LT(resident_mb() - before_mb, 60) << "of 100 MB that were told";
  httplib::Client client = server.client();
  EXPECT_EQ(client.Get("/api/jobs")->status, 200);
  std::this_thread::sleep_for(std::chrono::seconds{11});  // a write waits ten for its reader
  for (const auto& each : deaf) EXPECT_TRUE(each->is_cut_off(std::chrono::seconds{25}));
}

}  // namespace
}  // namespace firstdraw::serve
