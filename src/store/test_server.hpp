// A PostgreSQL server that a test may stop, starve and start again.
#pragma once

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <string>

#include "places.hpp"

namespace firstdraw::store {

/// A server of this test's own: another test's must not be stopped or filled. It ends with this process,
/// however that ends. `where` is empty when none can be started.
class OwnServer {
 public:
  OwnServer() {
    int in[2] = {}, out[2] = {};
    if (pipe2(in, O_CLOEXEC) != 0 || pipe2(out, O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
    child_ = fork();
    if (child_ == 0) run(in, out);
    close(in[0]);
    close(out[1]);
    hold_ = in[1];
    std::FILE* said = fdopen(out[0], "r");
    where_ = line(said);
    control_ = line(said);
    std::fclose(said);
  }
  OwnServer(const OwnServer&) = delete;
  OwnServer& operator=(const OwnServer&) = delete;
  ~OwnServer() {
    close(hold_);
    waitpid(child_, nullptr, 0);
  }
  const std::string& where() const { return where_; }
  bool control(const std::string& what) const {
    return std::system(("{ " + control_ + " " + what + "; } </dev/null >/dev/null 2>&1").c_str()) == 0;
  }

 private:
  [[noreturn]] static void run(int* in, int* out) {
    dup2(in[0], 0);
    dup2(out[1], 1);
    const std::string script = places::sources() + "/scripts/with-postgres";
    const char* say =
        "echo \"$FIRSTDRAW_TEST_POSTGRES\"; echo \"$FIRSTDRAW_TEST_POSTGRES_CTL\"; exec cat >/dev/null";
    execl(script.c_str(), "with-postgres", "sh", "-c", say, nullptr);
    _exit(127);
  }
  static std::string line(std::FILE* from) {
    std::string text;
    for (int c = 0; (c = std::fgetc(from)) != EOF && c != '\n';) text += static_cast<char>(c);
    return text;
  }
  pid_t child_ = 0;
  int hold_ = -1;
  std::string where_, control_;
};

}  // namespace firstdraw::store
