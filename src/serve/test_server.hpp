// A server of a test's own: examples copied into a temporary folder, any free port, its state beside them.
#pragma once

#include <gtest/gtest.h>
#include <httplib.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <thread>

#include "places.hpp"
#include "serve/server.hpp"
#include "serve/temporary_folder.hpp"

namespace firstdraw::serve {

class TestServer {
 public:
  explicit TestServer(const std::vector<std::string>& examples, bool lan = false) {
    std::filesystem::create_directories(jobs());
    for (const std::string& name : examples)
      std::filesystem::copy(places::sources() + "/examples/" + name, jobs() / name,
                            std::filesystem::copy_options::recursive);
    ServerOptions options;
    options.house.place = jobs();
    options.house.state = folder_.path() / "state";
    options.house.version = "test";
    options.house.lan = lan;
    options.house.threads = 2;
    options.port = 0;
    auto opened = Server::open(options);
    if (!opened) throw std::runtime_error(opened.error());
    server_ = *std::move(opened);
    running_ = std::thread([this] { server_->run(); });
  }
  ~TestServer() {
    server_->stop();
    running_.join();
  }
  TestServer(const TestServer&) = delete;
  TestServer& operator=(const TestServer&) = delete;

  Server& server() { return *server_; }
  std::filesystem::path jobs() const { return folder_.path() / "jobs"; }
  std::filesystem::path state() const { return folder_.path() / "state"; }
  static int port_of(const std::string& address) {
    const std::size_t colon = address.rfind(':');
    return std::stoi(address.substr(colon + 1));
  }
  int port() const { return port_of(server_->address()); }
  int lan_port() const { return port_of(server_->lan_address()); }

  httplib::Client client() const { return client_of("http", port()); }
  httplib::Client network() const { return client_of("https", lan_port()); }

 private:
  static httplib::Client client_of(const std::string& scheme, int port) {
    httplib::Client client(scheme + "://127.0.0.1:" + std::to_string(port));
    client.enable_server_certificate_verification(false);
    client.set_read_timeout(120);
    return client;
  }

  TemporaryFolder folder_;
  std::unique_ptr<Server> server_;
  std::thread running_;
};

inline nlohmann::json json_of(const httplib::Result& result) {
  if (!result) throw std::runtime_error("no answer: " + httplib::to_string(result.error()));
  return nlohmann::json::parse(result->body, nullptr, false);
}

inline httplib::Result post(httplib::Client& client, const std::string& path, const nlohmann::json& body,
                            const httplib::Headers& headers = {}) {
  return client.Post(path, headers, body.dump(), "application/json");
}

}  // namespace firstdraw::serve
