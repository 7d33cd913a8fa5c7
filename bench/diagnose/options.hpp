// What every bench of visits is asked on the command line, and how many visits a check needs.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>

namespace firstdraw::bench {

struct VisitOptions {
  int from = 0;        // number of the first visit
  int jobs = 0;        // how many visits
  int samples = 0;     // of each cause
  int threads = 1;     // visits at once; the same result for any
  bool check = false;  // fail when the score is below what it must not fall to
  std::uint64_t seed = 1;
};

/// --from, --jobs, --seed, --samples, --threads, --check. What stands in `options` holds where nothing is
/// given.
void add_visit_options(CLI::App& app, VisitOptions& options);

/// Seed of everything in a visit.
std::uint64_t seed_of(int number, const VisitOptions& options);

}  // namespace firstdraw::bench
