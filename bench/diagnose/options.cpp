#include "options.hpp"

namespace firstdraw::bench {
namespace {

constexpr int most = 1000000;

}  // namespace

void add_visit_options(CLI::App& app, VisitOptions& options) {
  app.add_option("--from", options.from, "number of the first visit")->check(CLI::Range(0, most));
  app.add_option("--jobs", options.jobs, "how many visits")
      ->check(CLI::Range(1, most))
      ->capture_default_str();
  app.add_option("--seed", options.seed, "other visits for every seed")->capture_default_str();
  app.add_option("--samples", options.samples, "of each cause")
      ->check(CLI::Range(1, most))
      ->capture_default_str();
  app.add_option("--threads", options.threads, "visits at once")->check(CLI::Range(1, most));
  app.add_flag("--check", options.check, "exit 1 when the score is below what it must not fall to");
}

std::uint64_t seed_of(int number, const VisitOptions& options) {
  return options.seed * 100003 + static_cast<std::uint64_t>(number);
}

}  // namespace firstdraw::bench
