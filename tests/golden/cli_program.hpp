// Runs the built program as a user would: arguments in, both streams and the exit code out.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace firstdraw::golden {

struct Ran {
  int code = -1;
  std::string out, err;
};

struct Setting {
  int columns = 80;
  std::map<std::string, std::string> variables;  // besides COLUMNS; nothing else is in the environment
};

/// In the source folder, so that "examples/clinic" is found.
Ran firstdraw(const std::vector<std::string>& arguments, const Setting& setting = {});

/// The same with standard output and error on one terminal of `columns`; `out` holds what the terminal
/// received.
Ran firstdraw_on_a_terminal(const std::vector<std::string>& arguments, const Setting& setting = {});

/// An empty folder of this test, removed at the end.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string path(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

std::string read_file(const std::string& path);
void write_file(const std::string& path, const std::string& text);

/// What schemas/`schema`.schema.json has to say about a document, by Debian's python3-jsonschema; empty:
/// nothing. Throws when it could not be asked.
std::string validate_file(const std::string& path, const std::string& schema);
std::string validate_text(const std::string& text, const std::string& schema);

}  // namespace firstdraw::golden
