// generate --levels 40 --runs 10000 --seed 1 --out DIR: writes the job folder of an invented building.
#include <charconv>
#include <cstdio>
#include <exception>
#include <map>
#include <stdexcept>
#include <string>

#include "generate_job.hpp"
#include "job/folder.hpp"

namespace {

constexpr const char* usage =
    "usage: generate --levels N --runs N --seed N --out DIR\n"
    "Writes the job folder of an invented building: 1 to 200 levels, 2 to 1000000 runs.\n";

std::map<std::string, std::string> options(int count, char** words) {
  std::map<std::string, std::string> given{
      {"--levels", "6"}, {"--runs", "250"}, {"--seed", "1"}, {"--out", ""}};
  for (int i = 1; i < count; i += 2) {
    const std::string name = words[i];
    if (!given.contains(name) || i + 1 >= count) throw std::invalid_argument("unexpected: " + name);
    given[name] = words[i + 1];
  }
  if (given["--out"].empty()) throw std::invalid_argument("--out is missing");
  return given;
}

template <class T>
T number(const std::string& name, const std::string& text) {
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size())
    throw std::invalid_argument(name + ": no whole number");
  return value;
}

int write(int count, char** words) {
  const auto given = options(count, words);
  const auto job = firstdraw::bench::generate_job(number<int>("--levels", given.at("--levels")),
                                                  number<int>("--runs", given.at("--runs")),
                                                  number<std::uint64_t>("--seed", given.at("--seed")));
  const auto written = firstdraw::job::write_job(job, given.at("--out"));
  if (written) return 0;
  for (const auto& problem : written.error()) std::fprintf(stderr, "%s\n", problem.text().c_str());
  return 1;
}

}  // namespace

int main(int count, char** words) {
  try {
    return write(count, words);
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "%s\n%s", problem.what(), usage);
    return 2;
  }
}
