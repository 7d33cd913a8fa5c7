#include "cli_program.hpp"

#include <fcntl.h>
#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "places.hpp"

namespace firstdraw::golden {
namespace {

const std::string program = places::build() + "/firstdraw";

std::vector<char*> pointers(std::vector<std::string>& words) {
  std::vector<char*> result;
  for (std::string& word : words) result.push_back(word.data());
  result.push_back(nullptr);
  return result;
}

/// Becomes the program; only ever called in a child process.
[[noreturn]] void become(std::vector<std::string> arguments, const Setting& setting, bool with_columns) {
  std::vector<std::string> variables;
  if (with_columns) variables.push_back("COLUMNS=" + std::to_string(setting.columns));
  for (const auto& [name, value] : setting.variables)
    variables.push_back(std::string(name).append("=").append(value));
  arguments.insert(arguments.begin(), program);
  if (chdir(places::sources().c_str()) == 0)
    execve(program.c_str(), pointers(arguments).data(), pointers(variables).data());
  _exit(127);
}

int code_of(pid_t child) {
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

void send_to(int stream, const std::string& path) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  dup2(file, stream);
}

}  // namespace

Ran firstdraw(const std::vector<std::string>& arguments, const Setting& setting) {
  const Folder folder;
  const pid_t child = fork();
  if (child == 0) {
    send_to(STDOUT_FILENO, folder.path("out"));
    send_to(STDERR_FILENO, folder.path("err"));
    become(arguments, setting, true);
  }
  const int code = code_of(child);
  return {code, read_file(folder.path("out")), read_file(folder.path("err"))};
}

Ran firstdraw_on_a_terminal(const std::vector<std::string>& arguments, const Setting& setting) {
  winsize window{};
  window.ws_col = static_cast<unsigned short>(setting.columns);
  window.ws_row = 40;
  int terminal = -1;
  const pid_t child = forkpty(&terminal, nullptr, nullptr, &window);
  if (child < 0) throw std::runtime_error("this machine gives no pseudo-terminal (is /dev/pts there?)");
  if (child == 0) become(arguments, setting, false);
  Ran ran;
  char buffer[4096];
  for (ssize_t got = 0; (got = read(terminal, buffer, sizeof buffer)) > 0;) {
    ran.out.append(buffer, static_cast<std::size_t>(got));
  }
  close(terminal);
  ran.code = code_of(child);
  return ran;
}

Folder::Folder() {
  std::string name = (std::filesystem::temp_directory_path() / "firstdraw-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

void write_file(const std::string& path, const std::string& text) {
  std::filesystem::create_directories(std::filesystem::path(path).parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

std::string validate_file(const std::string& path, const std::string& schema) {
  constexpr int holds = 0, problems = 2;  // of plan_validate.py
  const Folder folder;
  const std::string said = folder.path("said");
  const std::string command = "/usr/bin/python3 '" + places::sources() + "/tests/golden/plan_validate.py' '" +
                              places::sources() + "/schemas' '" + path + "' " + schema + " >'" + said +
                              "' 2>&1";
  const int status = std::system(command.c_str());
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (code != holds && code != problems)
    throw std::runtime_error("plan_validate.py does not run: " + read_file(said));
  return code == holds ? "" : read_file(said);
}

std::string validate_text(const std::string& text, const std::string& schema) {
  const Folder folder;
  const std::string path = folder.path("document.json");
  write_file(path, text);
  return validate_file(path, schema);
}

}  // namespace firstdraw::golden
