// A Modbus device of another make for tests: tests/peers/modbus_peer.py as a child of the test.
#pragma once

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "places.hpp"

namespace firstdraw::watch {

class Peer {
 public:
  explicit Peer(std::vector<std::string> options = {}) : options_(std::move(options)) {
    log_ = std::filesystem::temp_directory_path() / ("modbus-peer-" + std::to_string(::getpid()) + ".log");
    std::filesystem::remove(log_);
    start();
  }
  ~Peer() {
    kill();
    std::filesystem::remove(log_);
  }
  Peer(const Peer&) = delete;
  Peer& operator=(const Peer&) = delete;

  /// "127.0.0.1:40123" or the path of a serial line.
  const std::string& address() const { return address_; }

  /// As when its power goes.
  void kill() {
    if (child_ <= 0) return;
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
    child_ = -1;
  }
  /// At the same port.
  void start_again() {
    options_.push_back("--port");
    options_.push_back(address_.substr(address_.rfind(':') + 1));
    start();
  }
  struct Asked {
    int unit = 0, function = 0;
    std::string frame;
  };
  /// Everything that came over the wire.
  std::vector<Asked> asked() const {
    std::ifstream file(log_);
    std::vector<Asked> all;
    for (Asked one; file >> one.unit >> one.function >> one.frame;) all.push_back(one);
    return all;
  }

 private:
  void start() {
    std::vector<std::string> words{"/usr/bin/python3", places::sources() + "/tests/peers/modbus_peer.py",
                                   "--log", log_.string()};
    words.insert(words.end(), options_.begin(), options_.end());
    std::vector<char*> arguments;
    for (auto& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    std::array<int, 2> ends{};
    if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, ends[1], 1);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    const int failed = posix_spawn(&child_, words[0].c_str(), &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    ::close(ends[1]);
    const std::string line = failed == 0 ? first_line(ends[0]) : "";
    ::close(ends[0]);
    if (!line.starts_with("ready "))
      throw std::runtime_error("the peer does not start: is python3-pymodbus there?");
    address_ = line.substr(6);
  }
  static std::string first_line(int end) {
    std::string line;
    for (char c = 0; ::read(end, &c, 1) == 1 && c != '\n';) line += c;
    return line;
  }

  std::vector<std::string> options_;
  std::filesystem::path log_;
  std::string address_;
  pid_t child_ = -1;
};

}  // namespace firstdraw::watch
