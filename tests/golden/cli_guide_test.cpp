// The guide shows real output: every ```console block of docs/guide is run as it stands, in a folder that
// holds the job of `firstdraw new my-job` and the examples with logs, and compared. To accept a change:
// FIRSTDRAW_REFRESH=1 build/release/test_golden
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <sstream>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

namespace fs = std::filesystem;

const std::string opening = "```console\n$ ", closing = "```\n";

/// What a user in `folder` sees, on a terminal's width but without its colours.
std::string output_of(const std::string& command, const Folder& folder) {
  const std::string line = "cd '" + folder.path("") + "' && export PATH='" + places::build() +
                           "':\"$PATH\" COLUMNS=90 && unset NO_COLOR && ( " + command + " ) >'" +
                           folder.path("output") + "' 2>&1";
  if (std::system(line.c_str()) == -1) return "cannot start a shell";
  return read_file(folder.path("output"));
}

void prepare(const Folder& folder, const std::string& text) {
  fs::copy(places::sources() + "/tests/golden/job_broken", folder.path("my-broken-job"),
           fs::copy_options::recursive);
  fs::copy(places::sources() + "/examples/measured-pipe", folder.path("measured-pipe"));
  fs::copy(places::sources() + "/examples/clinic-logs", folder.path("clinic-logs"));
  if (text.find("$ firstdraw new my-job") == std::string::npos) output_of("firstdraw new my-job", folder);
}

/// The page with the output that its commands give now.
std::string with_output(const std::string& text) {
  const Folder folder;
  prepare(folder, text);
  std::string result;
  std::size_t at = 0;
  for (std::size_t block = text.find(opening); block != std::string::npos; block = text.find(opening, at)) {
    const std::size_t start = block + opening.size(), end = text.find('\n', start);
    result += text.substr(at, end + 1 - at) + output_of(text.substr(start, end - start), folder);
    at = text.find(closing, end);
  }
  return result + text.substr(at);
}

std::vector<std::string> pages() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(places::sources() + "/docs/guide")) {
    if (read_file(entry.path().string()).find(opening) != std::string::npos)
      names.push_back(entry.path().stem().string());
  }
  std::ranges::sort(names);
  return names;
}

class CliGuide : public testing::TestWithParam<std::string> {};

TEST_P(CliGuide, ShowsWhatTheProgramPrints) {
  const std::string path = places::sources() + "/docs/guide/" + GetParam() + ".md";
  const std::string text = read_file(path), now = with_output(text);
  if (std::getenv("FIRSTDRAW_REFRESH") != nullptr) write_file(path, now);
  EXPECT_EQ(read_file(path), now);
}

INSTANTIATE_TEST_SUITE_P(Cli, CliGuide, testing::ValuesIn(pages()), [](const auto& test) {
  std::string name = test.param;
  for (char& letter : name) letter = letter == '-' ? '_' : letter;
  return name;
});

}  // namespace
}  // namespace firstdraw::golden
