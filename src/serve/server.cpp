#include "serve/server.hpp"

#include <fmt/format.h>
#include <httplib.h>
#include <sys/socket.h>

#include <atomic>
#include <nlohmann/json.hpp>
#include <thread>

#include "serve/addresses.hpp"
#include "serve/certificate.hpp"
#include "serve/crew.hpp"
#include "serve/wire.hpp"

namespace firstdraw::serve {
namespace {

constexpr std::size_t most_connections = 500;  // fifty pages with an event stream and a browser's six others
constexpr int backlog = 256, ports_tried = 50;
constexpr std::chrono::milliseconds between_looks{1500};

/// A server of the library whose socket takes more callers at once than the library asks for.
template <class Base>
class Listening : public Base {
 public:
  using Base::Base;
  void lengthen_queue() { ::listen(this->svr_sock_, backlog); }
};
using Plain = Listening<httplib::Server>;
using Secure = Listening<httplib::SSLServer>;

/// Without SO_REUSEPORT, which the library sets: a port that is taken is taken.
void socket_options(socket_t socket) {
  const int yes = 1;
  setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
}

/// What the library refuses by itself (a request that is none, a path that is too long) in our words.
httplib::Server::HandlerResponse in_our_words(const httplib::Request&, httplib::Response& response) {
  if (response.has_header("X-Content-Type-Options")) return httplib::Server::HandlerResponse::Unhandled;
  const Why why = response.status == 413   ? Why::too_large
                  : response.status == 404 ? Why::not_found
                                           : Why::bad_input;
  const int status = response.status;
  const Reply reply = reply_of(refuse(why, fmt::format("the request was refused ({})", status)).error());
  response.set_content(reply.body, std::string(json_type));
  response.set_header("X-Content-Type-Options", "nosniff");
  return httplib::Server::HandlerResponse::Handled;
}

void settle(httplib::Server& server) {
  constexpr time_t patience_s = 10, idle_s = 15;
  constexpr std::size_t requests_each = 100'000;
  server.new_task_queue = [] { return new Crew(most_connections); };  // NOLINT: the library deletes it
  server.set_socket_options(socket_options);
  server.set_tcp_nodelay(true);
  server.set_keep_alive_max_count(requests_each);
  server.set_keep_alive_timeout(idle_s);
  server.set_read_timeout(patience_s);
  server.set_write_timeout(patience_s);
  server.set_payload_max_length(largest_file);
  server.set_error_handler(httplib::Server::HandlerWithResponse(in_our_words));
}

void connect(httplib::Server& server, Wire& wire, const Door& door) {
  using Request = httplib::Request;
  using Response = httplib::Response;
  using Reader = httplib::ContentReader;
  server.Get(".*", [&](const Request& request, Response& response) {
    wire.answer(door, Method::get, request, response, nullptr);
  });
  server.Post(".*", [&](const Request& request, Response& response, const Reader& reader) {
    wire.answer(door, Method::post, request, response, &reader);
  });
  server.Delete(".*", [&](const Request& request, Response& response, const Reader& reader) {
    wire.answer(door, Method::remove, request, response, &reader);
  });
}

std::string bracketed(const std::string& host) {
  return host.find(':') == std::string::npos ? host : "[" + host + "]";
}

/// The port it listens on; 0: none.
template <class Listener>
int bind(Listener& server, const std::string& host, int port, bool only_this) {
  if (port == 0) return std::max(0, server.bind_to_any_port(host));
  for (int tried = 0; tried < (only_this ? 1 : ports_tried); ++tried)
    if (port + tried < 65536 && server.bind_to_port(host, port + tried)) return port + tried;
  return 0;
}

}  // namespace

struct Server::Inside {
  explicit Inside(const ServerOptions& options, PageFiles from_folder)
      : house(options.house),
        shown(std::move(from_folder)),
        wire(house, shown.empty() ? built_in_page() : shown) {}

  House house;
  PageFiles shown;
  Wire wire;
  Door home, network;
  Plain plain;
  std::unique_ptr<Secure> secure;
  std::atomic<bool> stopping{false};

  std::expected<void, std::string> open_home(const ServerOptions& options);
  std::expected<void, std::string> open_network(const ServerOptions& options);
  void look_around(const std::stop_token& stop);
};

std::expected<void, std::string> Server::Inside::open_home(const ServerOptions& options) {
  settle(plain);
  home.names = {"localhost", "127.0.0.1", "[::1]"};
  home.port = bind(plain, "127.0.0.1", options.port, options.port_given);
  if (home.port == 0)
    return std::unexpected(
        fmt::format("port {} of this machine cannot be listened on: is it taken?", options.port));
  plain.lengthen_queue();
  connect(plain, wire, home);
  return {};
}

std::expected<void, std::string> Server::Inside::open_network(const ServerOptions& options) {
  const std::vector<std::string> addresses = addresses_of_this_machine();
  std::vector<std::string> hosts = names_of_this_machine();
  hosts.insert(hosts.end(), addresses.begin(), addresses.end());
  if (hosts.empty()) hosts.emplace_back("localhost");
  const auto certificate = options.cert.empty() ? own_certificate(options.house.state, hosts)
                                                : read_certificate(options.cert, options.key);
  if (!certificate) return std::unexpected(certificate.error());
  secure = std::make_unique<Secure>(certificate->cert_file.c_str(), certificate->key_file.c_str());
  if (!secure->is_valid()) return std::unexpected(certificate->cert_file + " cannot be used for TLS");
  SSL_CTX_set_min_proto_version(secure->ssl_context(), TLS1_2_VERSION);
  settle(*secure);
  network.network = true;
  network.names = {"localhost", "127.0.0.1"};
  for (const std::string& host : hosts) network.names.insert(bracketed(host));
  for (const std::string& name : certificate->names) network.names.insert(name);
  network.port = bind(*secure, "0.0.0.0", options.port == 0 ? 0 : home.port + 1, options.port_given);
  if (network.port == 0)
    return std::unexpected(
        fmt::format("port {} of the network cannot be listened on: is it taken?", home.port + 1));
  secure->lengthen_queue();
  connect(*secure, wire, network);
  const std::string& name = options.cert.empty() || certificate->names.empty()
                                ? (addresses.empty() ? hosts.front() : addresses.front())
                                : certificate->names.front();
  house.lan_address = network.origin(bracketed(name));
  house.fingerprint = certificate->fingerprint;
  return {};
}

/// What other programs do to the jobs and books is seen here.
void Server::Inside::look_around(const std::stop_token& stop) {
  while (!stop.stop_requested()) {
    house.look_around();
    for (auto left = between_looks; left.count() > 0 && !stop.stop_requested();
         left -= std::chrono::milliseconds{100})
      std::this_thread::sleep_for(std::chrono::milliseconds{100});
  }
}

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::~Server() = default;

std::expected<std::unique_ptr<Server>, std::string> Server::open(ServerOptions options) {
  PageFiles shown;
  if (options.page) {
    auto files = page_from(*options.page);
    if (!files) return std::unexpected(files.error());
    shown = *std::move(files);
  }
  try {
    auto inside = std::make_unique<Inside>(options, std::move(shown));
    if (auto opened = inside->open_home(options); !opened) return std::unexpected(opened.error());
    if (options.house.lan)
      if (auto opened = inside->open_network(options); !opened) return std::unexpected(opened.error());
    return std::unique_ptr<Server>(new Server(std::move(inside)));
  } catch (const std::runtime_error& why) {
    return std::unexpected(why.what());
  }
}

House& Server::house() { return inside_->house; }
std::string Server::address() const { return inside_->home.origin("127.0.0.1") + "/"; }
std::string Server::lan_address() const {
  return inside_->house.lan_address.empty() ? "" : inside_->house.lan_address + "/";
}

void Server::run() {
  const std::jthread looking([this](const std::stop_token& stop) { inside_->look_around(stop); });
  std::jthread network;
  if (inside_->secure) network = std::jthread([this] { inside_->secure->listen_after_bind(); });
  inside_->plain.listen_after_bind();
  stop();
}

void Server::stop() {
  if (inside_->stopping.exchange(true)) return;
  inside_->house.events.close();
  inside_->plain.stop();
  if (inside_->secure) inside_->secure->stop();
}

}  // namespace firstdraw::serve
