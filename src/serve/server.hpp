// The server: doors, threads, what goes over the wire. What is answered is the routes' matter.
#pragma once

#include <expected>
#include <memory>
#include <optional>
#include <string>

#include "serve/house.hpp"
#include "serve/page_files.hpp"

namespace firstdraw::serve {

struct ServerOptions {
  HouseOptions house;
  int port = 8450;
  bool port_given = false;                      // false: the next free one is taken
  std::string cert{}, key{};                    // PEM files, with --lan; empty: one of our own
  std::optional<std::filesystem::path> page{};  // folder shown instead of the page built in
};

class Server {
 public:
  /// Everything that can be wrong before anybody connects, in one sentence. Listens on return, answers after
  /// `run`.
  static std::expected<std::unique_ptr<Server>, std::string> open(ServerOptions options);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  House& house();
  std::string address() const;      // "http://127.0.0.1:8450/"
  std::string lan_address() const;  // empty without --lan
  /// Answers until `stop`.
  void run();
  /// From any thread.
  void stop();

 private:
  struct Inside;
  explicit Server(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace firstdraw::serve
