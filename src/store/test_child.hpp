// Other processes for the fault tests: work in a child, and what a child acknowledges on its way.
#pragma once

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <functional>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "store/test_place.hpp"

namespace firstdraw::store {

/// Exit code of `work` in a process of its own; 128 + signal when one ended it.
inline int in_child(const std::function<int()>& work) {
  const pid_t child = fork();
  if (child == 0) _exit(work());
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

struct Acknowledged {
  std::int64_t number = 0;
  std::string hash;
};

/// A process that appends notes to a book and says each record's number and hash once append() returned.
class ChildWriter {
 public:
  ChildWriter(const std::string& where, int count, const std::string& name) {
    int ends[2] = {};
    if (pipe(ends) != 0) throw std::runtime_error("no pipe");
    child_ = fork();
    if (child_ == 0) {
      close(ends[0]);
      _exit(write_all(where, count, name, ends[1]));
    }
    close(ends[1]);
    from_ = ends[0];
  }
  ChildWriter(const ChildWriter&) = delete;
  ChildWriter& operator=(const ChildWriter&) = delete;
  ~ChildWriter() {
    if (child_ > 0) kill_now();
    close(from_);
  }

  void kill_now() {
    kill(child_, SIGKILL);
    finish();
  }
  /// Exit code; 128 + signal when one ended it.
  int finish() {
    char buffer[4096];
    for (ssize_t n = 0; (n = read(from_, buffer, sizeof buffer)) > 0;)
      said_.append(buffer, static_cast<std::size_t>(n));
    int status = 0;
    waitpid(child_, &status, 0);
    child_ = 0;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  }
  /// After finish: whole lines only, for a kill may cut the last.
  std::vector<Acknowledged> acknowledged() const {
    std::istringstream lines(said_.substr(0, said_.rfind('\n') + 1));
    std::vector<Acknowledged> all;
    for (Acknowledged one; lines >> one.number >> one.hash;) all.push_back(one);
    return all;
  }

 private:
  static int write_all(const std::string& where, int count, const std::string& name, int to) {
    auto store = Store::open(where);
    if (!store) return 3;
    for (int i = 0; i < count; ++i) {
      Draft draft = note(name + " " + std::to_string(i));
      // Some with a file of their own, so that a kill falls between file and record too.
      if (i % 4 == 0) {
        const auto file =
            store->put_file("log.txt", "text/plain", name + std::string(20'000, 'x') + std::to_string(i));
        if (!file) return 4;
        draft.attachments = {*file};
      }
      const auto record = store->append("job", draft);
      if (!record) return 5;
      const std::string line = std::to_string(record->number) + " " + record->hash + "\n";
      if (write(to, line.data(), line.size()) != static_cast<ssize_t>(line.size())) return 6;
    }
    return 0;
  }

  pid_t child_ = 0;
  int from_ = -1;
  std::string said_;
};

inline int from_environment(const char* name, int otherwise) {
  const char* set = std::getenv(name);
  return set == nullptr ? otherwise : std::atoi(set);
}

}  // namespace firstdraw::store
